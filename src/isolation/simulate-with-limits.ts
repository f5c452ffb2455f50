import { checkNumber, checkOneOf, checkOptions, scopeOf } from '../internal/check.js'
import { checkPadeOrder } from '../systems/pade-order.js'
import { inputSamples } from '../systems/simulate.js'
import { checkModel } from './check-model.js'
import { escapeOf } from './escape.js'
import { limitedPlant, type SimulatedLimit } from './limited-plant.js'
import { limitedRun } from './limited-run.js'
import type { IsolationModel } from './model.js'
import { type RecoveryVerdict, recoveryOf } from './recovery.js'
import { windupCautions } from './windup-cautions.js'

/** Options of {@link simulateWithLimits}. */
export interface SimulateWithLimitsOptions {
  /** Samples by input of the closed model, all of one length; absent inputs are zero */
  readonly inputs: { readonly [port: string]: readonly number[] | Float64Array }
  /** [s], above 0; also the clock of every signal in `steps` */
  readonly sampleTime: number
  /** What the inputs do between samples. @defaultValue `'first-order-hold'` */
  readonly hold?: 'first-order-hold' | 'zero-order-hold'
  /** What is bounded, in place of the limits of the model; empty for none. @defaultValue those of the model */
  readonly limits?: readonly SimulatedLimit[]
  /** Step of a converter by the `'block.input'` it feeds, such as `controller.signal`, in the unit of that input, above 0: what
   * arrives there is sampled, rounded to a multiple of the step and held for a sample. @defaultValue none */
  readonly steps?: { readonly [input: string]: number }
  /** Order of the Padé approximation of delays, 1 to 20. @defaultValue 6 */
  readonly padeOrder?: number
}

/** A time during which an actuator gave less than it was asked for. */
export interface LimitedInterval {
  /** Output of the model */
  readonly output: string
  readonly bound: 'value' | 'rate'
  /** [s] */
  readonly from: number
  /** [s] */
  readonly to: number
}

/** A model over time, its actuators held within their bounds. */
export interface LimitedSimulation {
  readonly kind: 'LimitedSimulation'
  /** [s], the first at 0; ends early where the motion has run away beyond all numbers */
  readonly time: Float64Array
  /** Samples by output of the closed model */
  readonly outputs: { readonly [port: string]: Float64Array }
  /** What the loops asked of each bounded output */
  readonly wanted: { readonly [port: string]: Float64Array }
  /** Largest modulus of each output at the samples and at every change of state of a limit */
  readonly peaks: { readonly [port: string]: number }
  /** In the order they began */
  readonly limited: readonly LimitedInterval[]
  /** `'free'`: no limit was met. `'recovered'`: all are free at the end and stay so, with the inputs held at their last values. `'limited'`: not so. `'lost'`: no command within the limits can bring the motion back from where it ends */
  readonly verdict: RecoveryVerdict
  /** Whether the verdict is proved, or only what the record shows: then 'recovered' means free for as long as from the first to the
   * last limited instant */
  readonly evidence: 'proof' | 'record'
  /** End of the last interval [s]; null unless recovered */
  readonly recoveredAt: number | null
  /** First sample from which on the motion was beyond what the limits can bring back without help from the inputs [s]; null unless
   * lost */
  readonly lostAt: number | null
  /** Order of the approximation of delays; null for a model without */
  readonly padeOrder: number | null
  readonly cautions: readonly string[]
}

/** A model over time with actuators that saturate and converters that round.
 *
 * Each bounded output is clipped, y = max(−L, min(L, u)), and follows that at no more than its rate. Between the events at which a
 * limit begins or ends to hold the model is linear and solved exactly; an event is placed to 4e-9 of a sample. An excursion past a
 * limit and back between two samples is not seen. Dead bands of levelling valves are left out.
 *
 * A loop that runs away moves the load with full force: limit force and stroke in hardware, with a safe stop.
 * @param model - of any concept, stable or not
 * @param options - see {@link SimulateWithLimitsOptions}
 * @returns see {@link LimitedSimulation}; starts at rest
 * @throws {@link IsolationError} `unknown-port`, `dimension-mismatch`, `invalid-option`, `out-of-range`; `algebraic-loop` where direct
 * feedthrough leaves what a limit does undefined; `no-convergence` where limits chatter or a recovery cannot be proved
 * @source derived: exact solution between events; lost where Re λ·|wᵀx| > Σ |wᵀb| L for an unstable pole λ of the limited model
 * with left vector w
 * @example
 * import { activelyDampedIsolation, simulateWithLimits, voiceCoil } from 'restmass'
 * const damping = { gain: 4000, actuator: voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50 }) }
 * const model = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 16e3 }, damping })
 * const payloadForce = Array.from({ length: 400 }, (_, k) => (k < 20 ? 100 : 0))
 * simulateWithLimits(model, { inputs: { payloadForce }, sampleTime: 0.005 }).verdict // 'recovered'
 */
export function simulateWithLimits(model: IsolationModel, options: SimulateWithLimitsOptions): LimitedSimulation {
  const scope = scopeOf('simulateWithLimits')
  checkModel(scope, model)
  checkOptions(scope, options, ['inputs', 'sampleTime', 'hold', 'limits', 'steps', 'padeOrder'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const holds = ['first-order-hold', 'zero-order-hold'] as const
  const hold = checkOneOf(scope, 'hold', options.hold ?? holds[0], holds)
  const order = checkPadeOrder(scope, options.padeOrder)
  const { samples, count } = inputSamples(scope, model.closed.inputs, options.inputs)
  const plant = limitedPlant(scope, model, options, order)
  const watch = escapeOf(scope, plant)
  const run = limitedRun(scope, plant, { samples, count, sampleTime, stepped: hold === holds[1] }, watch.see)
  const length = run.outputs[0].length
  const names = model.closed.outputs
  const bounded = plant.bounds.map(({ output }) => output)
  return {
    kind: 'LimitedSimulation',
    time: Float64Array.from({ length }, (_, k) => k * sampleTime),
    outputs: named(names, run.outputs),
    wanted: named(bounded, run.outputs.slice(names.length)),
    peaks: named(names, run.peaks),
    limited: run.limited,
    ...recoveryOf(plant, run, watch, sampleTime),
    padeOrder: model.closed.delays === null ? null : order,
    cautions: windupCautions(model, run.limited),
  }
}

function named<T>(names: readonly string[], values: readonly T[]): { readonly [name: string]: T } {
  return Object.fromEntries(names.map((name, k) => [name, values[k]]))
}
