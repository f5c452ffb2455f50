import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import { cascade, type PortOptions } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link leakyIntegrator}. */
export interface LeakyIntegratorOptions<I extends string = string, O extends string = string>
  extends PortOptions<I, O> {
  /** Corner below which it stops to integrate [Hz], above 0 */
  readonly corner: number
}

/** An integrator that forgets: 1/(s + ω), ω = 2π·corner.
 *
 * Above the corner it integrates; a constant input ends at 1/ω instead of running away.
 * @param options - see {@link LeakyIntegratorOptions}
 * @returns a block with one input and one output
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source derived: an integrator with a leak
 * @example
 * import { dcGain, leakyIntegrator } from 'restmass'
 * dcGain(leakyIntegrator({ corner: 0.1 }))[0][0] // 1.59155
 */
export function leakyIntegrator<const I extends string = 'u1', const O extends string = 'y1'>(
  options: LeakyIntegratorOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('leakyIntegrator')
  checkOptions(scope, options, ['corner', 'input', 'output'])
  const omega = 2 * Math.PI * checkNumber(scope, 'corner', options.corner, cornerRange)
  return cascade(scope, [{ A: [[-omega]], B: [1], C: [1], D: 0 }], options)
}
