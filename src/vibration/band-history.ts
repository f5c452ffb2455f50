import { scopeOf } from '../internal/check.js'
import { type BandStreamOptions, bandStreamKeys, startedBands } from './band-stream.js'
import { checkSamples } from './check.js'
import type { BandHistory } from './time-statistics-types.js'

/** Options of {@link bandHistory}. */
export interface BandHistoryOptions extends BandStreamOptions {
  /** Record in time [unit] */
  readonly samples: readonly number[] | Float64Array
}

/** One-third-octave band levels of a record by filters in time, block after block or over all of it.
 *
 * Base-ten bands by Butterworth band-passes of order 6 on either side, as second-order sections made digital by the bilinear
 * map with exact corners. These are drawn in so that white noise has the level of an ideal band; spectra that rise or fall
 * up to f⁻⁶ read within 0.1 dB of it. Low bands are filtered at rates halved again and again, each time behind a low-pass of order
 * 10 that keeps all but 1e-5 from folding. The filters start at rest under the first sample, and 10/bandwidth of the lowest
 * band, less its delay, are left out while they settle: 43 s less 5 s at 1 Hz. Every band is moved back by its delay.
 * @param options - see {@link BandHistoryOptions}
 * @returns levels [unit] by block and band, with what was left out; see {@link bandStatistic} for one level per band
 * @throws {@link IsolationError} `out-of-range` for a record too short to settle and hold a block, and for bands above 0.45 of
 * the sample rate; `not-finite`; `invalid-option`
 * @source IEC 61260-1:2014 (bands); S. Butterworth, On the theory of filter amplifiers, Experimental Wireless 7, 1930; band-pass
 * transformation and bilinear map: A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, 3rd edition 2010, chapter 7
 * @example
 * import { bandHistory } from 'restmass'
 * const samples = Array.from({ length: 5000 }, (_, n) => (n < 2500 ? 1 : 2) * Math.sin(0.2 * Math.PI * n))
 * const { rms } = bandHistory({ samples, sampleRate: 100, from: 10, to: 10, blockDuration: 10 })
 * Array.from(rms, (level) => Number(level.toFixed(1))) // [0.7, 0.7, 1.3, 1.4]
 */
export function bandHistory(options: BandHistoryOptions): BandHistory {
  const scope = scopeOf('bandHistory')
  const { samples, ...rest } = options ?? {}
  const bands = startedBands(scope, rest, ['samples', ...bandStreamKeys])
  bands.push(checkSamples(scope, 'samples', samples))
  return bands.result()
}
