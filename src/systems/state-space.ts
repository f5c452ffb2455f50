import { checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { checkMatrix, checkNames, checkRole } from './check.js'
import { numbered } from './numbered.js'
import type { BlockRole, Matrix, StateSpace } from './types.js'

/** Options of {@link stateSpace}. */
export interface StateSpaceOptions<I extends string = string, O extends string = string> {
  /** n × n [1/s]; `[]` for a system without states */
  readonly A: Matrix
  /** n × m; `[]` for a system without states */
  readonly B: Matrix
  /** p × n; `[[], …]` for a system without states */
  readonly C: Matrix
  /** p × m. @defaultValue zeros */
  readonly D?: Matrix
  /** Names of the inputs. @defaultValue `u1`, `u2`, … */
  readonly inputs?: readonly I[]
  /** Names of the outputs. @defaultValue `y1`, `y2`, … */
  readonly outputs?: readonly O[]
  /** Names of the states. @defaultValue `x1`, `x2`, … */
  readonly states?: readonly string[]
  /** Piece of hardware the system stands for. @defaultValue none */
  readonly role?: BlockRole
}

/** A linear system with named ports, from its matrices.
 *
 *     x' = A x + B u
 *     y  = C x + D u
 * @param options - see {@link StateSpaceOptions}; a system without states needs D
 * @returns the checked system; the input is copied
 * @throws {@link IsolationError} `dimension-mismatch`, `not-finite`, `invalid-option`, `duplicate-port`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { stateSpace } from 'restmass'
 * const lag = stateSpace({ A: [[-2]], B: [[1]], C: [[4]], inputs: ['force'], outputs: ['velocity'] })
 * lag.states // ['x1']
 */
export function stateSpace<const I extends string = string, const O extends string = string>(
  options: StateSpaceOptions<I, O>,
): StateSpace<I, O> {
  const scope = scopeOf('stateSpace')
  checkOptions(scope, options, ['A', 'B', 'C', 'D', 'inputs', 'outputs', 'states', 'role'])
  checkRole(scope, options.role)
  const { inputCount, outputCount, stateCount } = sizes(scope, options)
  const A = checkMatrix(scope, 'A', options.A, stateCount, stateCount)
  const B = checkMatrix(scope, 'B', options.B, stateCount, inputCount)
  const C = checkMatrix(scope, 'C', options.C, outputCount, stateCount)
  const D =
    options.D === undefined
      ? Array.from({ length: outputCount }, () => new Array<number>(inputCount).fill(0))
      : checkMatrix(scope, 'D', options.D, outputCount, inputCount)
  return {
    kind: 'StateSpace',
    A,
    B,
    C,
    D,
    inputs: checkNames(scope, 'inputs', options.inputs ?? (numbered('u', { length: inputCount }) as I[]), inputCount),
    outputs: checkNames(
      scope,
      'outputs',
      options.outputs ?? (numbered('y', { length: outputCount }) as O[]),
      outputCount,
    ),
    states: checkNames(scope, 'states', options.states ?? numbered('x', { length: stateCount }), stateCount),
    delays: null,
    ...(options.role === undefined ? {} : { role: options.role }),
  }
}

function sizes(scope: Scope, options: StateSpaceOptions) {
  for (const key of ['A', 'B', 'C'] as const) {
    if (!Array.isArray(options[key])) fail('invalid-option', within(scope, key), 'must be an array of rows')
  }
  const stateCount = options.A.length
  const outputCount = options.C.length
  const first = stateCount > 0 ? options.B[0] : options.D?.[0]
  const inputCount = Array.isArray(first) ? first.length : (options.inputs?.length ?? 0)
  return { stateCount, inputCount, outputCount }
}
