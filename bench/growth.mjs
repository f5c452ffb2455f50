// `node bench/growth.mjs` after `npm run build`: processor time of one thread against frequencies, states, samples and points
// of a sweep, memory of a stream, and time to import the package. Medians; factor is what the last doubling cost.
import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const restmass = await import('../dist/esm/index.js')
const { activelyDampedIsolation, assess, frequencyResponse, isolationSummary, logFrequencies, simulate } = restmass
const { spectrum, stateSpace, sweep, welch, welchStream } = restmass
const models = JSON.parse(readFileSync(new URL('models.json', import.meta.url), 'utf8'))
const sine = (count) => Float64Array.from({ length: count }, (_, k) => Math.sin(k * k))

function milliseconds(work, repeats) {
  const times = []
  for (let k = 0; k < 2 * repeats; k++) {
    const before = process.cpuUsage()
    work()
    const { user, system } = process.cpuUsage(before)
    if (k >= repeats) times.push((user + system) / 1000)
  }
  return times.sort((a, b) => a - b)[repeats >> 1]
}

/** One table: the size and what it takes, each beside its growth. */
function curve(title, unit, sizes, workOf, repeats = 9) {
  console.log(`\n${title}\n\n| ${unit} | ms | factor |\n|---|---|---|`)
  let last = null
  milliseconds(workOf(sizes[0]), 2 * repeats)
  for (const size of sizes) {
    const time = milliseconds(workOf(size), repeats)
    console.log(`| ${size} | ${time.toPrecision(3)} | ${last === null ? '' : (time / last).toFixed(1)} |`)
    last = time
  }
}

/** n/2 modes in a row of their own, mixed so that no entry is zero. */
function modes(n) {
  const A = Array.from({ length: n }, () => new Array(n).fill(0))
  for (let k = 0; k < n; k += 2) {
    const omega = 2 * Math.PI * 300 ** (k / n)
    A[k][k + 1] = omega
    A[k + 1][k] = -omega
    A[k + 1][k + 1] = -0.04 * omega
  }
  // A reflection I − 2vvᵀ/n with entries of ±1.
  const v = Array.from({ length: n }, (_, k) => (k % 3 === 0 ? -1 : 1))
  const reflect = (matrix) =>
    matrix.map((row, i) =>
      row.map((value, j) => value - (2 * v[i] * matrix.reduce((s, r, k) => s + v[k] * r[j], 0)) / n),
    )
  const transpose = (matrix) => matrix[0].map((_, j) => matrix.map((row) => row[j]))
  const mixed = transpose(reflect(transpose(reflect(A))))
  return stateSpace({ A: mixed, B: v.map((value) => [value]), C: [v.map((value, k) => value + k / n)] })
}

const siso = stateSpace(models.siso12)
const grid = (count) => logFrequencies({ from: 0.1, to: 1000, count })

curve('Response of 12 states against frequencies', 'frequencies', [1000, 2000, 4000, 8000, 16000, 32000], (count) => {
  const frequencies = grid(count)
  return () => frequencyResponse(siso, frequencies)
})
curve('Response at 2000 frequencies against states', 'states', [8, 16, 32, 64, 128], (n) => {
  const system = modes(n)
  return () => frequencyResponse(system, grid(2000))
})
curve('Simulation of 12 states against samples', 'samples', [75_000, 150_000, 300_000, 600_000, 1_200_000], (count) => {
  const inputs = { u1: sine(count) }
  return () => simulate(siso, { inputs, sampleTime: 2e-4 })
})
curve('Simulation of 100 000 samples against states', 'states', [8, 16, 32, 64, 128], (n) => {
  const system = modes(n)
  const inputs = { u1: sine(100_000) }
  return () => simulate(system, { inputs, sampleTime: 1e-4 })
})
curve(
  'Welch density, segments of 4096, against samples',
  'samples',
  [450_000, 900_000, 1_800_000, 3_600_000],
  (count) => {
    const samples = sine(count)
    return () => welch({ samples, sampleRate: 1000, segmentLength: 4096 })
  },
)

const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], density: [1e-12, 1e-12] })
const design = (stiffness, delay) =>
  activelyDampedIsolation({
    payload: { mass: 900 },
    mount: { stiffness, damping: 160 },
    damping: { gain: 14000, sensor: { naturalFrequency: 0.4, dampingRatio: 0.7 }, actuator: { bandwidth: 200 }, delay },
  })
const sweepOf = (evaluate) => (count) => () =>
  sweep({ parameters: { stiffness: Array.from({ length: count }, (_, k) => 1e5 + 10 * k) }, evaluate })
const judge =
  (delay) =>
  ({ stiffness }) => ({
    verdict: assess(design(stiffness, delay), { floor, criterion: 'VC-C' }).verdict,
  })
const points = [20, 40, 80]
curve(
  'Sweep, peak and isolated band of each design',
  'points',
  points,
  sweepOf(({ stiffness }) => ({ peak: isolationSummary(design(stiffness, 0)).peak })),
  3,
)
curve('Sweep, full assessment, no delay', 'points', points, sweepOf(judge(0)), 3)
curve('Sweep, full assessment, exact delay', 'points', points, sweepOf(judge(1e-3)), 3)

console.log('\nMemory of a stream, segments of 4096\n\n| samples | array buffers [MB] |\n|---|---|')
const stream = welchStream({ sampleRate: 1000, segmentLength: 4096 })
const chunk = sine(10_000)
for (let k = 0; k <= 1000; k++) {
  if ([1, 10, 100, 1000].includes(k)) {
    globalThis.gc?.()
    console.log(`| ${k * chunk.length} | ${(process.memoryUsage().arrayBuffers / 1e6).toFixed(1)} |`)
  }
  stream.push(chunk)
}

console.log('\nImport in a fresh Node, processor time beyond that of an empty program\n\n| module | ms |\n|---|---|')
const program = (code) => {
  const times = Array.from({ length: 9 }, () => {
    const found = spawnSync(process.execPath, [
      '--input-type=module',
      '--eval',
      `${code};console.log(JSON.stringify(process.cpuUsage()))`,
    ])
    const { user, system } = JSON.parse(String(found.stdout))
    return (user + system) / 1000
  })
  return times.sort((a, b) => a - b)[4]
}
const empty = program('0')
const faces = ['index', 'systems', 'elements', 'vibration', 'isolation', 'assessment']
for (const path of [...faces.map((face) => `node/${face}.js`), 'esm/index.js', 'browser.js', 'cjs/index.cjs']) {
  const url = new URL(`../dist/${path}`, import.meta.url)
  const code = path.endsWith('.cjs')
    ? `import { createRequire } from 'node:module'; createRequire(import.meta.url)(${JSON.stringify(fileURLToPath(url))})`
    : `await import(${JSON.stringify(url.href)})`
  console.log(`| dist/${path} | ${(program(code) - empty).toFixed(0)} |`)
}
