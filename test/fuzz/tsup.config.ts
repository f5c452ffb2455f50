import { defineConfig } from 'tsup'

// The fuzzer as two files that Node runs, the library from its source inside.
export default defineConfig({
  entry: ['test/fuzz/main.ts', 'test/fuzz/worker.ts'],
  format: 'esm',
  // As deep below the root as test/meta/support, which finds the repository from where it stands.
  outDir: 'out/fuzz/run',
  target: 'node20',
  splitting: true,
  sourcemap: true,
  silent: true,
  external: ['typescript'],
  tsconfig: 'test/tsconfig.json',
})
