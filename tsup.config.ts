import { defineConfig, type Options } from 'tsup'

const floors = ['systems', 'elements', 'isolation', 'vibration', 'assessment', 'plots', 'json']
const faces = { index: 'src/index.ts', ...Object.fromEntries(floors.map((floor) => [floor, `src/${floor}/index.ts`])) }

// The maps point to src, which is in the package, and need not hold it once more.
const shared: Options = {
  target: 'es2022',
  sourcemap: true,
  silent: true,
  esbuildOptions: (options) => {
    options.sourcesContent = false
  },
}

// Everything a page needs in one file.
const page: Options = { ...shared, platform: 'browser', noExternal: [/.*/], minify: true }

export default defineConfig([
  // One output file per module: what a program does not import costs it nothing, dependencies included.
  { ...shared, entry: ['src/**/*.ts'], format: 'esm', bundle: false, outDir: 'dist/esm' },
  // The same in a few files for Node, which reads and compiles every file that it is pointed to.
  { ...shared, entry: faces, format: 'esm', splitting: true, outDir: 'dist/node' },
  // One file per subpath with shared chunks, so that all subpaths see the same IsolationError.
  { ...shared, entry: faces, format: 'cjs', splitting: true, outDir: 'dist/cjs' },
  {
    ...shared,
    entry: faces,
    format: ['esm', 'cjs'],
    outDir: 'dist/types',
    // tsup sets `baseUrl`, which TypeScript 6 calls deprecated (TS5101).
    dts: { only: true, compilerOptions: { ignoreDeprecations: '6.0' } },
  },
  { ...page, entry: { browser: 'src/index.ts' }, format: 'esm', outDir: 'dist' },
  { ...page, entry: { restmass: 'src/index.ts' }, format: 'iife', globalName: 'restmass', outDir: 'dist' },
])
