import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'

/** Options of {@link averagesNeeded}. */
export interface AveragesNeededOptions {
  /** Coherence expected, above 0, up to 1 */
  readonly coherence: number
  /** Relative standard deviation of |H1| allowed, above 0; as much in radians for its phase */
  readonly relativeError: number
}

/** Number of independent segments that a transfer estimate needs.
 *
 * n = (1 − γ²)/(2·γ²·ε²), at least 2. Half-overlapping Hann segments count 0.95 each.
 * @param options - see {@link AveragesNeededOptions}
 * @returns whole number of segments
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`, `not-finite`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 9
 * @example
 * import { averagesNeeded } from 'restmass'
 * averagesNeeded({ coherence: 0.9, relativeError: 0.0236 }) // 100
 */
export function averagesNeeded(options: AveragesNeededOptions): number {
  const scope = scopeOf('averagesNeeded')
  checkOptions(scope, options, ['coherence', 'relativeError'])
  const coherence = checkNumber(scope, 'coherence', options.coherence, { atLeast: 1e-6, atMost: 1 })
  const error = checkNumber(scope, 'relativeError', options.relativeError, { atLeast: 1e-6, atMost: 10 })
  // Up to the rounding of the quotient, so that a whole number stays one.
  return Math.max(2, Math.ceil((1 - coherence) / (2 * coherence * error * error) - 1e-9))
}
