// `npm run bench:peers`: the same work by this library, by NumPy and SciPy, and by GNU Octave, in turn. Prints a table and
// fails where an answer is less accurate than it must be or a ratio has fallen by more than a quarter since it was recorded.
// `npm run bench:peers -- --record` records; `-- --tasks=welch,simulate` and `-- --rounds=9` do some of it, or more often.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { tasks } from './tasks.js'

const here = (name) => fileURLToPath(new URL(name, import.meta.url))
const option = (name) => process.argv.find((word) => word.startsWith(`--${name}=`))?.split('=')[1]
const rounds = Number(option('rounds') ?? 5)
const chosen = option('tasks')?.split(',')
const recordFile = here('recorded.json')
const slack = 0.75

const python = [process.env.PYTHON, '/usr/bin/python3', 'python3'].find(
  (name) => name !== undefined && spawnSync(name, ['-c', 'import scipy.signal']).status === 0,
)
const hasOctave = spawnSync('octave-cli', ['--eval', 'pkg load control']).status === 0
const commands = {
  restmass: [process.execPath, here('worker.mjs')],
  scipy: python === undefined ? null : [python, here('peer.py')],
  octave: hasOctave ? ['octave-cli', '--quiet', '--no-history', here('peer.m')] : null,
}
const install = { scipy: 'apt-get install python3-scipy', octave: 'apt-get install octave octave-control' }

/** A side as a function that sends one order and awaits its answer. */
function side([command, ...words]) {
  // Threads make NumPy slower on matrices of this size, and a core type set from outside may not suit this machine.
  const { OPENBLAS_CORETYPE: _, ...env } = { ...process.env, OPENBLAS_NUM_THREADS: '1' }
  const child = spawn(command, words, { stdio: ['pipe', 'pipe', 'inherit'], env })
  const answers = createInterface({ input: child.stdout })[Symbol.asyncIterator]()
  const ask = async (order) => {
    child.stdin.write(`${JSON.stringify(order)}\n`)
    const { value, done } = await answers.next()
    if (done) throw new Error(`${command} ended without an answer to ${order.task}`)
    return JSON.parse(value)
  }
  return { ask, end: () => child.stdin.end() }
}

const median = (values) => [...values].sort((a, b) => a - b)[values.length >> 1]

/** Median of the processor time [ms] of each side, the sides taking turns, and its error.
 *
 * Processor time is the time a free core would take, since every side runs on one thread: other work on the machine does
 * not count. */
async function compare(sides, work, expected) {
  const names = Object.keys(work.repeats).filter((name) => sides[name])
  const order = (repeats) => ({ task: work.task, size: work.size, repeats, read: false })
  const found = {}
  for (const name of names) {
    const size = work.checkSize?.(expected) ?? { ...work.size, ...checkSizeOf(expected) }
    const { value } = await sides[name].ask({ task: work.task, size, repeats: 1, read: true })
    await sides[name].ask(order(name === 'restmass' ? 3 * work.repeats[name] : 1))
    found[name] = { error: work.error(value, expected, name, size), busy: [] }
  }
  for (let round = 0; round < rounds; round++) {
    for (const name of names) {
      const { times } = await sides[name].ask(order(work.repeats[name]))
      found[name].busy.push(median([times].flat()))
    }
  }
  return Object.fromEntries(
    Object.entries(found).map(([name, { error, busy }]) => [name, { error, busy: median(busy) }]),
  )
}

function checkSizeOf({ value: _, ...size }) {
  return size
}

const digits = (value) => (value >= 100 ? value.toFixed(0) : value.toPrecision(3))

function lineOf(work, found) {
  const { restmass, ...peers } = found
  const cells = Object.entries(peers).map(([name, { busy, error }]) => {
    const ratio = busy / restmass.busy
    const wanted = work.wanted[name]
    const verdict = wanted === undefined ? '' : `, wanted ${wanted}: ${ratio >= wanted ? 'met' : 'SHORT'}`
    return `${name} ${digits(busy)} ms, error ${error.toExponential(0)}, ratio ${digits(ratio)}${verdict}`
  })
  return [
    `${work.title}`,
    `restmass ${digits(restmass.busy)} ms, error ${restmass.error.toExponential(0)}`,
    ...cells,
  ].join('\n    ')
}

if (!existsSync(here('../dist/esm/index.js'))) throw new Error('run `npm run build` first')
const missing = Object.keys(install).filter((name) => commands[name] === null)
for (const name of missing)
  console.log(`${name} is not here: ${install[name]}. Its column is left out and this run fails.`)
const sides = Object.fromEntries(Object.entries(commands).flatMap(([name, line]) => (line ? [[name, side(line)]] : [])))
const versions = []
for (const { ask } of Object.values(sides)) versions.push(await ask({ task: 'versions', repeats: 1 }))
console.log(
  `${versions.join('; ')}; ${cpus()[0].model}; medians of ${rounds} rounds in turn, processor time, 1 thread each\n`,
)

const reference = JSON.parse(readFileSync(here('reference.json'), 'utf8'))
const recorded = existsSync(recordFile) ? JSON.parse(readFileSync(recordFile, 'utf8')) : { ratios: {} }
const ratios = {}
const faults = missing.map((name) => `${name} is missing`)
for (const work of tasks.filter(({ task }) => chosen === undefined || chosen.includes(task))) {
  const found = await compare(sides, work, reference[work.task])
  console.log(`${lineOf(work, found)}\n`)
  const { restmass, ...peers } = found
  if (!(restmass.error <= work.largestError))
    faults.push(`${work.task}: error ${restmass.error} above ${work.largestError}`)
  ratios[work.task] = {}
  for (const [name, { busy }] of Object.entries(peers)) {
    const ratio = busy / restmass.busy
    const before = recorded.ratios[work.task]?.[name]
    ratios[work.task][name] = Number(ratio.toPrecision(3))
    if (before !== undefined && ratio < slack * before)
      faults.push(`${work.task}: ratio to ${name} was ${before}, is ${digits(ratio)}`)
  }
}
for (const { end } of Object.values(sides)) end()
if (process.argv.includes('--record')) {
  const all = { ...recorded.ratios, ...ratios }
  writeFileSync(recordFile, `${JSON.stringify({ versions, machine: cpus()[0].model, ratios: all }, null, 2)}\n`)
} else {
  for (const fault of faults) console.log(`FAILED ${fault}`)
  process.exitCode = faults.length > 0 ? 1 : 0
}
