import {
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  listed,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { type Dense, denseFrom, sum, times } from '../linear/dense.js'
import { matrixExponential } from '../linear/matrix-exponential.js'
import { type Recurrence, runRecurrence } from '../linear/recurrence.js'
import { anySystem } from './block.js'
import { heldStep } from './discretize.js'
import { refuseDelays } from './poles.js'
import type { DiscreteStateSpace, LinearSystem, StateSpace } from './types.js'

/** Options of {@link simulate}. */
export interface SimulateOptions<I extends string = string> {
  /** Samples by input name, all of one length; absent inputs are zero */
  readonly inputs: { readonly [port in I]?: Float64Array | readonly number[] }
  /** [s], above 0; a discrete system has its own and takes no other */
  readonly sampleTime?: number
  /** What a continuous system's inputs do between samples. @defaultValue `'first-order-hold'` */
  readonly hold?: 'first-order-hold' | 'zero-order-hold'
  /** State at the first sample, one number per state. @defaultValue zeros */
  readonly initialState?: readonly number[] | Float64Array
}

/** Outputs over time. */
export interface Simulation<O extends string = string> {
  readonly kind: 'Simulation'
  /** [s], the first at 0 */
  readonly time: Float64Array
  /** Samples by output name */
  readonly outputs: { readonly [port in O]: Float64Array }
  /** State at the last sample */
  readonly finalState: Float64Array
}

/** Response of a system to sampled inputs.
 *
 * A continuous system is solved exactly for inputs that are straight lines, or steps, between samples, by one matrix
 * exponential for all steps; the outputs are exact at the samples. A discrete system is iterated. Long records are taken in
 * blocks of about as many samples as there are states, which gives the same sums at O(n) per sample.
 * @param plant - continuous without delays, or discrete
 * @param options - see {@link SimulateOptions}
 * @returns one output sample per input sample, the first at 0 s
 * @throws {@link IsolationError} `unsupported` with delays; `unknown-port`, `dimension-mismatch`, `not-finite`;
 * `out-of-range` where an unstable response overflows
 * @source C. F. Van Loan, IEEE Trans. Automatic Control 23 (1978) 395
 * @example
 * import { integrator, simulate } from 'restmass'
 * const result = simulate(integrator(), { inputs: { u1: [0, 1, 2] }, sampleTime: 1 })
 * Array.from(result.outputs.y1) // [0, 0.5, 2]
 */
export function simulate<I extends string, O extends string>(
  plant: LinearSystem<I, O>,
  options: SimulateOptions<I>,
): Simulation<O> {
  const scope = scopeOf('simulate')
  checkOptions(scope, options, ['inputs', 'sampleTime', 'hold', 'initialState'])
  const system = anySystem(within(scope, 'system'), plant)
  const { step, sampleTime } = recurrence(scope, system, options)
  const { samples, count } = inputSamples(scope, system.inputs, options.inputs)
  const state = initialState(scope, system.states.length, options.initialState)
  const outputs = runRecurrence(step, samples, count, state)
  for (const series of [...outputs, state]) {
    if (!series.every(Number.isFinite)) fail('out-of-range', scope, 'has a response beyond the range of numbers')
  }
  const time = new Float64Array(count)
  for (let k = 0; k < count; k++) time[k] = k * sampleTime
  return {
    kind: 'Simulation',
    time,
    outputs: Object.fromEntries(system.outputs.map((name, o) => [name, outputs[o]])) as Simulation<O>['outputs'],
    finalState: state,
  }
}

function recurrence(
  scope: Scope,
  system: StateSpace | DiscreteStateSpace,
  options: SimulateOptions,
): { step: Recurrence; sampleTime: number } {
  const n = system.A.length
  if (system.kind === 'DiscreteStateSpace') {
    for (const key of ['sampleTime', 'hold'] as const) {
      if (options[key] !== undefined) fail('invalid-option', within(scope, key), 'does not apply to a discrete system')
    }
    const [A, now] = [denseFrom(system.A, n), denseFrom(system.B, system.inputs.length)]
    return { step: { A, now, next: null, ...readout(system) }, sampleTime: system.sampleTime }
  }
  refuseDelays(scope, system)
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const holds = ['first-order-hold', 'zero-order-hold'] as const
  const hold = options.hold === undefined ? holds[0] : checkOneOf(scope, 'hold', options.hold, holds)
  const { A, now, next } = heldStep(scope, system, sampleTime)
  const stepped = hold === 'zero-order-hold'
  const power = (exponent: number) => matrixExponential(times(denseFrom(system.A, n), exponent * sampleTime))
  return {
    step: { A, now: stepped ? sum(now, next) : now, next: stepped ? null : next, power, ...readout(system) },
    sampleTime,
  }
}

function readout(system: StateSpace | DiscreteStateSpace): { C: Dense; D: Dense } {
  return { C: denseFrom(system.C, system.A.length), D: denseFrom(system.D, system.inputs.length) }
}

/** Samples by input as one list, row by row, zeros where none are given. */
export function inputSamples(
  scope: Scope,
  names: readonly string[],
  inputs: SimulateOptions['inputs'],
): { samples: Float64Array; count: number } {
  const at = within(scope, 'inputs')
  if (typeof inputs !== 'object' || inputs === null)
    fail('invalid-option', at, `must be an object, got ${show(inputs)}`)
  let count: number | null = null
  for (const name of Object.keys(inputs)) {
    if (!names.includes(name)) fail('unknown-port', within(at, name), `is not an input; there are ${listed(names)}`)
    const { length } = checkNumbers(at, name, inputs[name])
    if (count !== null && length !== count)
      fail('dimension-mismatch', within(at, name), `must have ${count} samples, got ${length}`)
    count = length
  }
  if (count === null || count === 0) fail('invalid-option', at, 'must hold at least one sample of one input')
  const only = inputs[names[0]]
  if (names.length === 1 && only instanceof Float64Array) return { samples: only, count }
  const samples = new Float64Array(count * names.length)
  for (let i = 0; i < names.length; i++) {
    const values = inputs[names[i]] ?? []
    for (let k = 0; k < values.length; k++) samples[k * names.length + i] = values[k]
  }
  return { samples, count }
}

function initialState(scope: Scope, n: number, given: SimulateOptions['initialState']): Float64Array {
  if (given === undefined) return new Float64Array(n)
  const values = checkNumbers(scope, 'initialState', given)
  if (values.length !== n)
    fail('dimension-mismatch', within(scope, 'initialState'), `must have ${n} entries, got ${values.length}`)
  return Float64Array.from(values)
}
