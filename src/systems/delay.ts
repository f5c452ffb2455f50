import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { cascade } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link delay}. */
export interface DelayOptions<I extends string = string, O extends string = string> {
  /** How much later the output is [s], 0 to 1e9; 0 makes a plain gain of one. */
  readonly seconds: number
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** A pure delay, kept exact: y(t) = u(t − seconds), e^(−sτ).
 *
 * Responses, stability, margins and connections treat it exactly; what cannot refuses it and names `pade`.
 * @param options - see {@link DelayOptions}
 * @returns a block without states; a plain gain of one where `seconds` is 0
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source K. Zhou, J. C. Doyle, K. Glover, Robust and Optimal Control, 1996, section 10.1 (linear fractional form)
 * @example
 * import { delay, series } from 'restmass'
 * series(delay({ seconds: 0.002 }), delay({ seconds: 0.005 })).delays?.seconds // [0.002, 0.005]
 */
export function delay<const I extends string = 'u1', const O extends string = 'y1'>(
  options: DelayOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('delay')
  checkOptions(scope, options, ['seconds', 'input', 'output'])
  const seconds = checkNumber(scope, 'seconds', options.seconds, { unit: 's', atLeast: 0, atMost: 1e9 })
  const direct = cascade(scope, [{ A: [], B: [], C: [], D: 1 }], options)
  if (seconds === 0) return direct
  return { ...direct, D: [[0]], delays: { seconds: [seconds], B: [], C: [[]], D12: [[1]], D21: [[1]], D22: [[0]] } }
}
