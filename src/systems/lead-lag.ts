import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import { cascade } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link leadLag}. */
export interface LeadLagOptions<I extends string = string, O extends string = string> {
  /** Corner [Hz], above 0, from which the gain rises: the zero. */
  readonly leadCorner: number
  /** Corner [Hz], above 0, from which the gain falls: the pole. */
  readonly lagCorner: number
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** A lead or lag compensator with unit gain at low frequencies.
 *
 *     (1 + s/ω_lead)/(1 + s/ω_lag)
 *
 * It leads where `leadCorner` is below `lagCorner`, most at √(leadCorner·lagCorner), and lags otherwise; at high
 * frequencies the gain is lagCorner/leadCorner.
 * @param options - see {@link LeadLagOptions}
 * @returns a block with one input and one output
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source G. F. Franklin, J. D. Powell, A. Emami-Naeini, Feedback Control of Dynamic Systems, 7th edition 2015, section 6.7
 * @example
 * import { leadLag } from 'restmass'
 * leadLag({ leadCorner: 10, lagCorner: 40 }).D // [[4]]
 */
export function leadLag<const I extends string = 'u1', const O extends string = 'y1'>(
  options: LeadLagOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('leadLag')
  checkOptions(scope, options, ['leadCorner', 'lagCorner', 'input', 'output'])
  const lead = checkNumber(scope, 'leadCorner', options.leadCorner, cornerRange)
  const lag = checkNumber(scope, 'lagCorner', options.lagCorner, cornerRange)
  const omega = 2 * Math.PI * lag
  const ratio = checkNumber(scope, 'lagCorner / leadCorner', lag / lead, { above: 0, atMost: 1e15 })
  return cascade(scope, [{ A: [[-omega]], B: [omega], C: [1 - ratio], D: ratio }], options)
}
