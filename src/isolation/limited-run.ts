import { fail, type Scope, within } from '../internal/check.js'
import type { LimitMode } from './limit-modes.js'
import { advance, atRest, begin, intervalsUntil, type Motion, valuesOf } from './limited-motion.js'
import type { LimitedPlant } from './limited-plant.js'
import type { LimitedInterval } from './simulate-with-limits.js'

/** Inputs of a run, row by row. */
export interface RunInputs {
  readonly samples: Float64Array
  readonly count: number
  readonly sampleTime: number
  /** Whether inputs are held, not joined by lines */
  readonly stepped: boolean
}

export interface LimitedRun {
  /** Of the model, then what was wanted of each bounded output */
  readonly outputs: readonly Float64Array[]
  readonly peaks: readonly number[]
  readonly limited: readonly LimitedInterval[]
  /** Modes, states of the plant and inputs, held ones included, at the end */
  readonly modes: readonly LimitMode[]
  readonly state: Float64Array
  readonly inputs: Float64Array
  /** [s] */
  readonly end: number
}

/** Beyond this the motion has run away. */
const runaway = 1e150

/** Iterates from sample to sample.
 * @param watch - sees the state at every sample */
export function limitedRun(
  scope: Scope,
  plant: LimitedPlant,
  { samples, count, sampleTime, stepped }: RunInputs,
  watch: (state: Float64Array, k: number) => void,
): LimitedRun {
  const { bounds, steps, inputs: m } = plant
  const width = m + steps.length + 1
  const shown = plant.outputs + bounds.length
  const n = plant.system.A.length
  const motion = atRest(scope, plant, sampleTime)
  const outputs = Array.from({ length: shown }, () => new Float64Array(count))
  const inputsAt = (k: number, held: Float64Array) => {
    const v = new Float64Array(width)
    v.set(samples.subarray(k * m, (k + 1) * m))
    v.set(held, m)
    v[width - 1] = 1
    return v
  }
  let now = inputsAt(0, new Float64Array(steps.length))
  let [end, length] = [0, 0]
  for (let k = 0; k < count; k++) {
    now = inputsAt(k, now.subarray(m, width - 1))
    const last = k + 1 === count
    if (steps.length > 0) convert(motion, now)
    let next = last || stepped ? now : inputsAt(k + 1, now.subarray(m, width - 1))
    if (last && k > 0 && !stepped) next = now.map((value, i) => (i < m ? 2 * value - samples[(k - 1) * m + i] : value))
    begin(motion, now, next, k * sampleTime, k > 0 && (stepped || steps.length > 0))
    const values = valuesOf(motion, motion.state, now)
    if (!values.every((value) => Math.abs(value) < runaway)) break
    for (let o = 0; o < shown; o++) outputs[o][k] = values[o]
    watch(motion.state.subarray(0, n), k)
    length = k + 1
    end = k * sampleTime
    if (!last) advance(motion)
  }
  return {
    outputs: outputs.map((series) => series.slice(0, length)),
    peaks: motion.peaks,
    limited: intervalsUntil(motion, end),
    modes: motion.modes,
    state: motion.state.slice(0, n),
    inputs: now.slice(0, width - 1),
    end,
  }
}

/** Samples and rounds what enters the converters, the later ones as the earlier ones make it. */
function convert(motion: Motion, v: Float64Array): void {
  const { scope, plant } = motion
  const first = plant.outputs + 2 * plant.bounds.length
  for (let pass = 0; pass <= plant.steps.length; pass++) {
    const values = valuesOf(motion, motion.state, v)
    let changed = false
    plant.steps.forEach((step, j) => {
      const rounded = Math.round(values[first + j] / step) * step
      if (!Number.isFinite(rounded) || rounded === v[plant.inputs + j]) return
      v[plant.inputs + j] = rounded
      changed = true
    })
    if (!changed) return
  }
  fail('algebraic-loop', within(scope, 'steps'), 'close a loop of direct feedthrough from converter to converter')
}
