import { readFileSync } from 'node:fs'
import {
  activelyDampedIsolation,
  assess,
  frequencyResponse,
  type IsolationModel,
  logFrequencies,
  loopMargins,
  predictPayload,
  prepare,
  simulate,
  spectrum,
  stability,
  stateSpace,
  transmissibility,
  welch,
} from 'restmass'
import { bench, describe } from 'vitest'

// The library alone: fixed models, grids and samples, so that two runs can be compared.
type Matrices = Parameters<typeof stateSpace>[0]
const models: Record<string, Matrices> = JSON.parse(readFileSync(new URL('models.json', import.meta.url), 'utf8'))
const grid = logFrequencies({ from: 0.1, to: 1000, count: 2000 })

/** Minimal standard generator, from −0.5 to 0.5. */
function noise(count: number): Float64Array {
  const values = new Float64Array(count)
  for (let k = 0, x = 1; k < count; k++) {
    x = (48271 * x) % 2147483647
    values[k] = x / 2147483647 - 0.5
  }
  return values
}

describe('response, 2000 frequencies', () => {
  for (const name of ['siso6', 'siso12', 'mimo24', 'mimo60', 'chain60']) {
    const system = stateSpace(models[name])
    bench(name, () => void frequencyResponse(system, grid))
  }
  const handle = prepare(stateSpace(models.siso12))
  bench('siso12, prepared', () => void frequencyResponse(handle, grid))
})

describe('one design point', () => {
  const few = logFrequencies({ from: 0.1, to: 100, count: 400 })
  const floor = spectrum({ quantity: 'velocity', frequency: [0.1, 100], density: [1e-12, 1e-12] })
  const build = (delay: number): IsolationModel =>
    activelyDampedIsolation({
      payload: { mass: 900 },
      mount: { stiffness: 1.4e5, damping: 160 },
      damping: {
        gain: 14000,
        sensor: { naturalFrequency: 0.4, dampingRatio: 0.7 },
        actuator: { bandwidth: 200 },
        delay,
      },
    })
  for (const delay of [0, 1e-3]) {
    const model = build(delay)
    const title = (what: string) => `${what}, ${delay === 0 ? 'no delay' : 'exact delay'}`
    bench(title('build and close'), () => void build(delay))
    bench(title('transmissibility at 400 frequencies'), () => void transmissibility(model, few))
    bench(title('margins'), () => void loopMargins(model))
    bench(title('stability'), () => void stability(model.closed))
    bench(title('payload prediction'), () => void predictPayload(model, { floor }))
    bench(title('assessment'), () => void assess(model, { floor, criterion: 'VC-C' }))
  }
})

describe('in time', () => {
  const system = stateSpace(models.siso12)
  const inputs = { u1: noise(300_000) }
  bench('simulation, 300 000 steps of 12 states', () => void simulate(system, { inputs, sampleTime: 2e-4 }))
  const samples = noise(3_600_000)
  bench('Welch, 3.6 million samples', () => void welch({ samples, sampleRate: 1000, segmentLength: 4096 }))
})
