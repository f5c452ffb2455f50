import { checkNumber, checkOptions, fail, listed, type Scope, scopeOf, show, within } from '../internal/check.js'
import { blockSystem } from './block.js'
import { type Simulation, simulate } from './simulate.js'
import type { ContinuousSystem, StateSpace } from './types.js'

/** Options of {@link stepResponse} and {@link impulseResponse}. */
export interface TimeResponseOptions<I extends string = string> {
  /** Which input. @defaultValue the only one */
  readonly input?: I
  /** How long [s], one to a million samples; `simulate` takes longer records */
  readonly duration: number
  /** [s], above 0 */
  readonly sampleTime: number
}

/** Response of every output to a unit step of one input at 0 s, from rest.
 *
 * @param system - continuous, without delays
 * @param options - see {@link TimeResponseOptions}
 * @returns samples at 0, T, 2T, … up to the duration, exact at each
 * @throws {@link IsolationError} `unsupported` with delays; `unknown-port`, `out-of-range`, `invalid-option`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { stateSpace, stepResponse } from 'restmass'
 * const lag = stateSpace({ A: [[-1]], B: [[1]], C: [[1]] })
 * stepResponse(lag, { duration: 1, sampleTime: 0.5 }).outputs.y1[2] // 0.63212
 */
export function stepResponse<I extends string, O extends string>(
  system: ContinuousSystem<I, O>,
  options: TimeResponseOptions<I>,
): Simulation<O> {
  const scope = scopeOf('stepResponse')
  const form = blockSystem(within(scope, 'system'), system)
  const { input, count } = checkTimeOptions(scope, form, options)
  const inputs = { [input]: new Float64Array(count).fill(1) } as { [port in I]?: Float64Array }
  return simulate(form, { inputs, sampleTime: options.sampleTime, hold: 'zero-order-hold' })
}

/** Response of every output to a unit impulse of one input at 0 s, from rest; the first sample is the value just after.
 *
 * @param system - continuous, without delays and without direct gain from that input
 * @param options - see {@link TimeResponseOptions}
 * @returns samples at 0, T, 2T, … up to the duration, exact at each
 * @throws {@link IsolationError} `improper` where the input reaches an output directly, since the response then holds the
 * impulse itself; otherwise as `stepResponse`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { impulseResponse, stateSpace } from 'restmass'
 * const lag = stateSpace({ A: [[-1]], B: [[1]], C: [[1]] })
 * impulseResponse(lag, { duration: 1, sampleTime: 0.5 }).outputs.y1[2] // 0.36788
 */
export function impulseResponse<I extends string, O extends string>(
  system: ContinuousSystem<I, O>,
  options: TimeResponseOptions<I>,
): Simulation<O> {
  const scope = scopeOf('impulseResponse')
  const form = blockSystem(within(scope, 'system'), system)
  const { input, column, count } = checkTimeOptions(scope, form, options)
  const direct = form.outputs.find((_, o) => form.D[o][column] !== 0)
  if (direct !== undefined)
    fail('improper', within(scope, 'input'), `reaches ${direct} directly; an impulse has no samples`)
  const inputs = { [input]: new Float64Array(count) } as { [port in I]?: Float64Array }
  const initialState = form.B.map((row) => row[column])
  return simulate(form, { inputs, sampleTime: options.sampleTime, initialState })
}

function checkTimeOptions<I extends string>(scope: Scope, system: StateSpace<I>, options: TimeResponseOptions<I>) {
  checkOptions(scope, options, ['input', 'duration', 'sampleTime'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const duration = checkNumber(scope, 'duration', options.duration, {
    unit: 's',
    atLeast: sampleTime,
    atMost: 1e6 * sampleTime,
  })
  if (options.input === undefined && system.inputs.length !== 1) {
    fail('invalid-option', within(scope, 'input'), `must name one of ${listed(system.inputs)}`)
  }
  const input = options.input ?? system.inputs[0]
  const column = system.inputs.indexOf(input)
  if (column < 0) fail('unknown-port', within(scope, 'input'), `is ${show(input)}; there are ${listed(system.inputs)}`)
  // A duration that is a whole number of samples up to rounding keeps its last sample.
  return { input, column, count: Math.floor((duration / sampleTime) * (1 + 1e-12)) + 1 }
}
