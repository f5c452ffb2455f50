import { checkNumber, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkMatrix, checkNames } from './check.js'
import { numbered } from './numbered.js'
import type { Matrix, StateSpace } from './types.js'

/** Options of {@link gain}. */
export interface GainOptions<I extends string = string, O extends string = string> {
  /** Names of the inputs, one per column. @defaultValue `u1`, `u2`, … */
  readonly inputs?: readonly I[]
  /** Names of the outputs, one per row. @defaultValue `y1`, `y2`, … */
  readonly outputs?: readonly O[]
}

/** A constant gain, or a matrix of gains: y = D u.
 *
 * @param value - a number for one input and one output, or p × m rows [output unit / input unit]
 * @param options - see {@link GainOptions}
 * @returns a block without states
 * @throws {@link IsolationError} `not-finite`, `dimension-mismatch`, `invalid-option`, `duplicate-port`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { gain } from 'restmass'
 * gain([[1, -1]], { inputs: ['payload', 'floor'], outputs: ['difference'] }).D // [[1, -1]]
 */
export function gain<const I extends string = 'u1', const O extends string = 'y1'>(
  value: number,
  options?: GainOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>>
export function gain<const I extends string = string, const O extends string = string>(
  value: number | Matrix,
  options?: GainOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>>
export function gain(value: number | Matrix, options: GainOptions = {}): StateSpace {
  const scope = scopeOf('gain')
  checkOptions(scope, options, ['inputs', 'outputs'])
  const D = typeof value === 'number' ? [[checkNumber(scope, 'value', value, {})]] : checkRows(scope, value)
  const m = D.length === 0 ? (options.inputs?.length ?? 0) : D[0].length
  return {
    kind: 'StateSpace',
    A: [],
    B: [],
    C: D.map(() => []),
    D,
    inputs: checkNames(scope, 'inputs', options.inputs ?? numbered('u', { length: m }), m),
    outputs: checkNames(scope, 'outputs', options.outputs ?? numbered('y', D), D.length),
    states: [],
    delays: null,
  }
}

function checkRows(scope: Scope, value: unknown): number[][] {
  if (!Array.isArray(value) || (value.length > 0 && !Array.isArray(value[0]))) {
    fail('invalid-option', within(scope, 'value'), `must be a number or an array of rows, got ${show(value)}`)
  }
  return checkMatrix(scope, 'value', value, value.length, value[0]?.length ?? 0)
}
