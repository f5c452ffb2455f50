import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { chiSquaredQuantile } from '../internal/chi-squared.js'

/** Options of {@link levelConfidence}. */
export interface LevelConfidenceOptions {
  /** Width of the band [Hz], above 0; 0.2316 times the centre for one third of an octave */
  readonly bandwidth: number
  /** Length of the record [s], above 0 */
  readonly duration: number
  /** Probability with which each bound holds, 0.5 to below 1. @defaultValue 0.95 */
  readonly confidence?: number
}

/** How far a measured level may be from the true one. */
export interface LevelConfidence {
  readonly kind: 'LevelConfidence'
  /** 2·bandwidth·duration */
  readonly degreesOfFreedom: number
  /** (10/ln 10)/√(bandwidth·duration) [dB]; for few degrees of freedom a guide only */
  readonly standardDeviationDecibels: number
  /** The true rms is above this factor times the measured one with the given confidence. */
  readonly lower: number
  /** The true rms is below this factor times the measured one with the given confidence. */
  readonly upper: number
  /** Probability with which each bound holds. */
  readonly confidence: number
}

/** How far the level of a band may be from the true one, since the record is short.
 *
 * The mean square of Gaussian random motion, flat within the band, has a chi-squared distribution with
 * ν = 2·bandwidth·duration degrees of freedom: true/measured rms lies above √(ν/χ²(confidence, ν)) and below
 * √(ν/χ²(1 − confidence, ν)). Tones scatter less, drifting machines more. A Welch estimate with a Hann window and half
 * overlap has 5 % fewer degrees of freedom in a wide band.
 * @param options - see {@link LevelConfidenceOptions}
 * @returns factors on the measured rms
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`, `not-finite`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 8
 * @example
 * import { levelConfidence } from 'restmass'
 * const { standardDeviationDecibels } = levelConfidence({ bandwidth: 0.2307, duration: 8 })
 * standardDeviationDecibels // 3.197
 */
export function levelConfidence(options: LevelConfidenceOptions): LevelConfidence {
  const scope = scopeOf('levelConfidence')
  checkOptions(scope, options, ['bandwidth', 'duration', 'confidence'])
  const bandwidth = checkNumber(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0, atMost: 1e6 })
  const range = { unit: 's', atLeast: 0.01 / bandwidth, atMost: 1e6 / bandwidth }
  const duration = checkNumber(scope, 'duration', options.duration, range)
  const confidence = checkOptional(scope, 'confidence', options.confidence, { atLeast: 0.5, below: 1 }, 0.95)
  const degreesOfFreedom = 2 * bandwidth * duration
  const [lower, upper] = levelBounds(degreesOfFreedom, confidence)
  const standardDeviationDecibels = 10 / Math.LN10 / Math.sqrt(bandwidth * duration)
  return { kind: 'LevelConfidence', degreesOfFreedom, standardDeviationDecibels, lower, upper, confidence }
}

/** Factors between which true over measured rms lies, each with the given probability. */
export function levelBounds(freedom: number, confidence: number): readonly [lower: number, upper: number] {
  return [
    Math.sqrt(freedom / chiSquaredQuantile(confidence, freedom)),
    Math.sqrt(freedom / chiSquaredQuantile(1 - confidence, freedom)),
  ]
}
