import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { chiSquaredQuantile } from '../internal/chi-squared.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link recordLength}. */
export interface RecordLengthOptions {
  /** Width of the narrowest band [Hz], above 0; 0.2316 times the centre for one third of an octave */
  readonly bandwidth: number
  /** Error allowed either way [dB], above 0 */
  readonly decibels: number
  /** Probability of staying within it, above 0 and below 1. @defaultValue 0.95 */
  readonly confidence?: number
}

/** Length of a record [s] that gives the level of a band within a stated error.
 *
 * T = (z·(10/ln 10)/decibels)²/bandwidth with z the two-sided normal deviate of the confidence (1.96 for 95 %), for
 * stationary Gaussian motion, flat within the band; a good approximation up to about 2 dB.
 * @param options - see {@link RecordLengthOptions}
 * @returns duration [s]
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`, `not-finite`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 8
 * @example
 * import { recordLength } from 'restmass'
 * recordLength({ bandwidth: 0.2307, decibels: 1 }) // 314.1
 */
export function recordLength(options: RecordLengthOptions): number {
  const scope = scopeOf('recordLength')
  checkOptions(scope, options, ['bandwidth', 'decibels', 'confidence'])
  const bandwidth = checkNumber(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0, atMost: 1e6 })
  const decibels = checkNumber(scope, 'decibels', options.decibels, { unit: 'dB', atLeast: 1e-6, atMost: 20 })
  const confidence = checkOptional(scope, 'confidence', options.confidence, { above: 0, below: 1 }, 0.95)
  return finiteResult(
    scope,
    'record length',
    (chiSquaredQuantile(confidence, 1) * (10 / Math.LN10 / decibels) ** 2) / bandwidth,
  )
}
