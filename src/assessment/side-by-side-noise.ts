import { checkOptions, scopeOf } from '../internal/check.js'
import { checkQuantity } from '../vibration/check.js'
import { type SegmentOptions, segmentKeys } from '../vibration/segmentation.js'
import { transferEstimate } from '../vibration/transfer-estimate.js'
import type { Quantity, Spectrum } from '../vibration/types.js'

/** Options of {@link sideBySideNoise}. */
export interface SideBySideNoiseOptions extends SegmentOptions {
  /** Record of one sensor [unit] */
  readonly first: readonly number[] | Float64Array
  /** Record of the other sensor, of the same motion at the same instants [unit] */
  readonly second: readonly number[] | Float64Array
  /** What was measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
}

/** Own noise of two sensors that stood side by side. */
export interface SideBySideNoise {
  readonly kind: 'SideBySideNoise'
  /** Noise of the first sensor */
  readonly first: Spectrum
  /** Noise of the second sensor */
  readonly second: Spectrum
  /** Relative standard deviation of the noise densities, line by line */
  readonly relativeError: Float64Array
  /** √(S_22/S_11): where noise is small it tells one calibration from the other, which coherence does not */
  readonly ratio: Float64Array
  /** Coherence, corrected for its bias, 0 to 1 */
  readonly coherence: Float64Array
}

/** Noise that two like sensors add to the same motion, from a side-by-side test.
 *
 * N_i = S_ii·(1 − γ), with γ² corrected for the 1/n that unrelated records show. It holds for sensors alike in noise, whatever
 * their calibration; with unlike ones it shares the noise out evenly. Tilt, cross axis and soft feet count as noise. The
 * relative error is √((3 − γ²)/(2n)).
 * @param options - see {@link SideBySideNoiseOptions}
 * @returns densities on lines f_s/segmentLength apart
 * @throws {@link IsolationError} as {@link transferEstimate}, whose input and output the two records are
 * @source L. G. Holcomb, A direct method for calculating instrument noise levels in side-by-side seismometer evaluations, US
 * Geological Survey Open-File Report 89-214 (1989) (from memory); error: derived from the
 * covariances of spectral estimates in J. S. Bendat, A. G. Piersol, Random Data, chapter 9
 * @example
 * import { sideBySideNoise } from 'restmass'
 * const motion = Array.from({ length: 4096 }, (_, n) => Math.sin(n * n * 0.7))
 * const second = motion.map((value, n) => value + 0.1 * Math.sin(n ** 2.3))
 * const { first, coherence } = sideBySideNoise({ first: motion, second, sampleRate: 100, segmentLength: 64 })
 * first.density[10] < 0.02 && coherence[10] > 0.95 // true
 */
export function sideBySideNoise(options: SideBySideNoiseOptions): SideBySideNoise {
  const scope = scopeOf('sideBySideNoise')
  const {
    first,
    second,
    quantity: given,
    ...segments
  } = checkOptions(scope, options, ['first', 'second', 'quantity', ...segmentKeys])
  const quantity = given === undefined ? 'unspecified' : checkQuantity(scope, given)
  const estimate = transferEstimate({ input: first, output: second, ...segments })
  const { frequency, inputDensity, outputDensity, segmentLength, overlap, window, detrend } = estimate
  const { averages, effectiveAverages: n, noiseBandwidth } = estimate
  const coherence = estimate.coherence.map((value) => (n > 1 ? Math.max(0, (n * value - 1) / (n - 1)) : value))
  const noise = (density: Float64Array): Spectrum => ({
    kind: 'Spectrum',
    quantity,
    frequency: frequency.slice(),
    density: density.map((value, k) => value * (1 - Math.sqrt(coherence[k]))),
    support: 'lines',
    ...{ segmentLength, overlap, window, detrend, averages, effectiveAverages: n, noiseBandwidth },
  })
  return {
    kind: 'SideBySideNoise',
    first: noise(inputDensity),
    second: noise(outputDensity),
    relativeError: coherence.map((value) => Math.sqrt((3 - value) / (2 * n))),
    ratio: outputDensity.map((value, k) => (inputDensity[k] === 0 ? 0 : Math.sqrt(value / inputDensity[k]))),
    coherence,
  }
}
