import { autocorrelation } from '../linear/autocorrelation.js'
import type { SpectrumEstimation } from './types.js'
import { windowValues } from './window-values.js'

/** What an average over segments has to say of itself. */
export type KnownEstimation = Required<
  Pick<SpectrumEstimation, 'window' | 'segmentLength' | 'overlap' | 'averages' | 'effectiveAverages'>
>

/** By what factor the variance of a quantity drawn from many neighbouring lines exceeds that of independent ones.
 *
 * Neighbouring lines share what the window spreads, overlapping segments share samples: n·L·Σs²/(Σs)² with s the sum of all
 * squared windows over the record; 1.94 for separate Hann segments, 2 for half-overlapping ones.
 * @source derived: variance of Σ over lines of the cross periodogram by Parseval's theorem
 */
export function lineCorrelation(estimation: KnownEstimation): number {
  const { window, segmentLength, overlap, averages, effectiveAverages } = estimation
  const squares = windowValues(window, segmentLength).map((value) => value * value)
  const shared = autocorrelation(squares)
  const hop = Math.max(1, Math.round(segmentLength * (1 - overlap)))
  let inflated = shared[0]
  for (let m = 1; m < averages && m * hop < segmentLength; m++) inflated += 2 * (1 - m / averages) * shared[m * hop]
  const sum = squares.reduce((total, value) => total + value, 0)
  const power = squares.reduce((total, value) => total + value * value, 0)
  return (effectiveAverages * segmentLength * inflated * power) / (averages * shared[0] * sum * sum)
}
