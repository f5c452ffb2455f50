// `node bench/sizes.mjs`: what a page loads, minified and after Brotli, for one entry or some names of the package, and where it
// comes from, floor by floor. Sizes in kB, split before compression.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { brotliCompressSync } from 'node:zlib'

const root = fileURLToPath(new URL('..', import.meta.url))
const floors = ['internal', 'linear', 'systems', 'elements', 'vibration', 'isolation', 'assessment', 'plots', 'json']
const names = [
  'naturalFrequency',
  'stateSpace, frequencyResponse, magnitude',
  'stateSpace, frequencyResponse, margins',
  'welch, rms',
  'passiveIsolation, transmissibility',
  'assess',
]
const folder = mkdtempSync(join(tmpdir(), 'sizes-'))
const kilo = (bytes) => (bytes / 1000).toFixed(1)

/** One row of the table: the bundle that a program with this one line would become. */
function row(title, line) {
  const [bundle, meta] = ['bundle.js', 'meta.json'].map((name) => join(folder, name))
  const words = ['--bundle', '--minify', '--format=esm', '--target=es2022', '--loader=ts']
  const { status, stderr } = spawnSync('npx', ['esbuild', ...words, `--outfile=${bundle}`, `--metafile=${meta}`], {
    cwd: root,
    input: line,
    encoding: 'utf8',
  })
  if (status !== 0) throw new Error(stderr)
  const code = readFileSync(bundle)
  const split = Object.fromEntries([...floors, 'fft.js'].map((floor) => [floor, 0]))
  for (const { inputs } of Object.values(JSON.parse(readFileSync(meta, 'utf8')).outputs)) {
    for (const [path, { bytesInOutput }] of Object.entries(inputs)) {
      if (path.includes('fft.js')) split['fft.js'] += bytesInOutput
      else if (path.startsWith('src/') && path.split('/').length > 2) split[path.split('/')[1]] += bytesInOutput
    }
  }
  const cells = Object.values(split).map((bytes) => (bytes === 0 ? '' : kilo(bytes)))
  console.log(`| ${[title, kilo(brotliCompressSync(code).length), kilo(code.length), ...cells].join(' | ')} |`)
}

const head = ['import', 'Brotli', 'minified', ...floors, 'fft.js']
console.log(`| ${head.join(' | ')} |\n|${'---|'.repeat(head.length)}`)
row('everything', "export * from './src/index.ts'")
for (const floor of floors.slice(2)) row(`restmass/${floor}`, `export * from './src/${floor}/index.ts'`)
for (const list of names) row(list, `export { ${list} } from './src/index.ts'`)
rmSync(folder, { recursive: true })
