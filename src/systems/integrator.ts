import { checkOptions, scopeOf } from '../internal/check.js'
import { cascade } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link integrator}. */
export interface IntegratorOptions<I extends string = string, O extends string = string> {
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** The integral of its input over time: 1/s.
 *
 * @param options - see {@link IntegratorOptions}
 * @returns a block with one input, one output and one state
 * @throws {@link IsolationError} `invalid-option`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { integrator } from 'restmass'
 * integrator({ input: 'velocity', output: 'displacement' }).A // [[0]]
 */
export function integrator<const I extends string = 'u1', const O extends string = 'y1'>(
  options: IntegratorOptions<I, O> = {},
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('integrator')
  checkOptions(scope, options, ['input', 'output'])
  return cascade(scope, [{ A: [[0]], B: [1], C: [1], D: 0 }], options)
}
