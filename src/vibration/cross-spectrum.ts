import { checkOptions, scopeOf } from '../internal/check.js'
import { checkPartner, checkSamples } from './check.js'
import { crossSums } from './cross-sums.js'
import { roundingDensity } from './rounding-density.js'
import { checkDensity, type SegmentOptions, segmentation, segmentKeys } from './segmentation.js'
import type { CrossSpectrum } from './types.js'

/** Options of {@link crossSpectrum}. */
export interface CrossSpectrumOptions extends SegmentOptions {
  /** First record [x unit] */
  readonly x: readonly number[] | Float64Array
  /** Second record [y unit], as long as the first and sampled at the same instants */
  readonly y: readonly number[] | Float64Array
}

/** One-sided cross spectral density of two records, with the density of each and their coherence.
 *
 * S_xy(f_k) = 2·mean(conj(X_k)·Y_k)/(f_s·Σw²), scaled as in {@link welch}; a y that lags x has a negative phase.
 * Independent records have a coherence of about 1/(number of averages), not 0.
 * @param options - see {@link CrossSpectrumOptions}
 * @returns cross density on lines f_s/segmentLength apart, from 0 Hz on
 * @throws {@link IsolationError} `dimension-mismatch` for records of different length; `out-of-range` for records shorter than
 * a segment; `not-finite`; `invalid-option`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 5
 * @example
 * import { crossSpectrum } from 'restmass'
 * const x = Array.from({ length: 64 }, (_, n) => Math.sin(n * n))
 * const y = x.map((value) => -2 * value)
 * const { re, xDensity } = crossSpectrum({ x, y, sampleRate: 100, segmentLength: 16 })
 * re[3] / xDensity[3] // -2
 */
export function crossSpectrum(options: CrossSpectrumOptions): CrossSpectrum {
  const scope = scopeOf('crossSpectrum')
  checkOptions(scope, options, ['x', 'y', ...segmentKeys])
  const x = checkSamples(scope, 'x', options.x)
  const y = checkPartner(scope, 'y', options.y, 'x', x)
  const plan = segmentation(scope, 'x', x.length, options)
  const { xx, yy, re, im } = crossSums(plan, x, y)
  checkDensity(scope, 'x', xx)
  checkDensity(scope, 'y', yy)
  const [xFloor, yFloor] = [roundingDensity(plan, x), roundingDensity(plan, y)]
  const coherence = xx.map((value, k) => {
    const cross = Math.hypot(re[k], im[k])
    return value > xFloor && yy[k] > yFloor ? Math.min(1, (cross / value) * (cross / yy[k])) : 0
  })
  return {
    kind: 'CrossSpectrum',
    frequency: plan.frequency,
    re,
    im,
    xDensity: xx,
    yDensity: yy,
    coherence,
    ...plan.summary,
  }
}
