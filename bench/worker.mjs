// One side of the comparison: this library, as built. Reads tasks as lines of JSON, answers each with one line of JSON.
import { readFileSync } from 'node:fs'
import { createInterface } from 'node:readline'

const { activelyDampedIsolation, frequencyResponse, loopMargins, magnitude, predictPayload, rms, simulate, ...more } =
  await import('../dist/esm/index.js')
const { logFrequencies, spectrum, stateSpace, transmissibility, welch } = more
const models = JSON.parse(readFileSync(new URL('models.json', import.meta.url), 'utf8'))
const named = { response12: 'siso12', response60: 'mimo60', chain60: 'chain60' }

/** Minimal standard generator: integers that every language multiplies exactly in doubles. */
function noise(count) {
  const values = new Float64Array(count)
  for (let k = 0, x = 1; k < count; k++) {
    x = (48271 * x) % 2147483647
    values[k] = x / 2147483647 - 0.5
  }
  return values
}

function responseTask(name, frequencies) {
  const system = stateSpace(models[named[name]])
  const read = ({ inputs, outputs, re, im }) =>
    frequencies.map((_, k) =>
      outputs.map((_, o) =>
        inputs.map((_, i) => {
          const at = (o * inputs.length + i) * frequencies.length + k
          return [re[at], im[at]]
        }),
      ),
    )
  return { run: () => frequencyResponse(system, frequencies), read }
}

function simulateTask({ count, step, every }) {
  const system = stateSpace(models.siso12)
  const inputs = { u1: noise(count) }
  return {
    run: () => simulate(system, { inputs, sampleTime: step }).outputs.y1,
    read: (y) => Array.from(y).filter((_, k) => k % every === 0),
  }
}

function welchTask({ count, length, rate, lines }) {
  const samples = noise(count)
  return {
    run: () => welch({ samples, sampleRate: rate, segmentLength: length }).density,
    read: (density) => lines.map((line) => density[line]),
  }
}

function designPointTask({ mass, stiffness, damping, gain, delay }) {
  const frequencies = logFrequencies({ from: 0.1, to: 100, count: 400 })
  const floor = spectrum({ quantity: 'velocity', frequency: [0.1, 100], density: [1e-12, 1e-12] })
  const sensor = { naturalFrequency: 0.4, dampingRatio: 0.7 }
  const run = () => {
    const model = activelyDampedIsolation({
      payload: { mass },
      mount: { stiffness, damping },
      damping: { gain, sensor, actuator: { bandwidth: 200 }, delay },
    })
    const peak = Math.max(...magnitude(transmissibility(model, frequencies)))
    const [{ margins }] = loopMargins(model)
    // The margins of a loop come with the verdict on it when closed.
    return { peak, margins, stable: margins.closedLoop === 'stable', rms: rms(predictPayload(model, { floor })) }
  }
  const read = ({ margins, ...found }) => ({
    ...found,
    modulusMargin: margins.modulusMargin,
    crossover: margins.gainCrossovers.map(({ frequency }) => frequency),
  })
  return { run, read }
}

const tasks = { simulate: simulateTask, welch: welchTask, designPoint: designPointTask }

for await (const line of createInterface({ input: process.stdin })) {
  const { task, size, repeats, read } = JSON.parse(line)
  if (task === 'versions') {
    console.log(JSON.stringify(`Node ${process.versions.node}`))
    continue
  }
  const work = tasks[task]?.(size) ?? responseTask(task, size)
  const times = []
  let result = null
  for (let k = 0; k < repeats; k++) {
    const busy = process.cpuUsage()
    result = work.run()
    const { user, system } = process.cpuUsage(busy)
    times.push((user + system) / 1000)
  }
  console.log(JSON.stringify({ times, value: read ? work.read(result) : null }))
}
