import { checkOptions, scopeOf, within } from '../internal/check.js'
import { flagsOf, linesFreedom } from './band-evidence.js'
import { checkSpectrum } from './check.js'
import { checkCovered, lineSpacing, meanSquare } from './mean-square.js'
import { centreFrequency, checkedBandIndices, lowerEdge, nominalFrequency } from './nominal-bands.js'
import type { Bands, SpectrumLiteral } from './types.js'

/** Options of {@link oneThirdOctaveBands}. */
export interface OneThirdOctaveBandsOptions {
  /** Lowest nominal label wanted [Hz], 1e-6 to 1e6 */
  readonly from: number
  /** Highest nominal label wanted [Hz], at least `from`, up to 1e6 */
  readonly to: number
}

/** One-third-octave band levels of a spectrum.
 *
 * Base ten: centre 10^(n/10) Hz, edges centre · 10^(±1/20); rms = √∫S df between the edges, with lines shared across them.
 * The bands are those whose nominal label (…, 0.8, 1, 1.25, 1.6, …) lies in from..to, ends included. A band that the
 * spectrum does not cover from edge to edge is refused, not guessed. Where the spectrum tells how it was estimated, each band
 * states the degrees of freedom of its mean square: twice the independent segments times the independent lines, 1 + (lines − 1)/c
 * with c = 2 for half-overlapping Hann segments. Fewer than four lines (`'few-lines'`) or a standard deviation of more than
 * 1 dB (`'short-record'`) are flagged.
 * @param spectrum - a {@link SpectrumLiteral}
 * @param options - see {@link OneThirdOctaveBandsOptions}
 * @returns bands in ascending order, rms [unit of the quantity]
 * @throws {@link IsolationError} `out-of-range` for a band that the spectrum does not cover, naming what it covers;
 * `invalid-option` if no label lies in from..to, and others for a malformed spectrum
 * @source IEC 61260-1:2014, equations 1 to 5 and annex E; scatter: J. S. Bendat, A. G. Piersol, Random Data, chapter 8; flags:
 * common practice, no source
 * @example
 * import { oneThirdOctaveBands } from 'restmass'
 * const floor = { quantity: 'velocity', frequency: [1, 100], density: [1e-12, 1e-12] } as const
 * const { bands } = oneThirdOctaveBands(floor, { from: 8, to: 10 })
 * bands.map((band) => [band.nominal, Number(band.rms.toPrecision(4))]) // [[8, 1.354e-6], [10, 1.519e-6]]
 */
export function oneThirdOctaveBands(spectrum: SpectrumLiteral, options: OneThirdOctaveBandsOptions): Bands {
  const scope = scopeOf('oneThirdOctaveBands')
  const checked = checkSpectrum(within(scope, 'spectrum'), spectrum)
  checkOptions(scope, options, ['from', 'to'])
  const indices = checkedBandIndices(scope, options)
  checkCovered(scope, checked, lowerEdge(indices[0]), lowerEdge(indices[indices.length - 1] + 1))
  const spacing = checked.support === 'lines' ? lineSpacing(checked.frequency) : null
  const freedom = linesFreedom(checked)
  const bands = indices.map((index) => {
    const lower = lowerEdge(index)
    const upper = lowerEdge(index + 1)
    const lines = spacing === null ? null : (upper - lower) / spacing
    const degreesOfFreedom = lines === null ? null : freedom(lines)
    return {
      nominal: nominalFrequency(index),
      centre: centreFrequency(index),
      lower,
      upper,
      rms: Math.sqrt(meanSquare(checked, lower, upper)),
      lines,
      degreesOfFreedom,
      flags: flagsOf(lines, degreesOfFreedom),
    }
  })
  const { quantity, average, exceeded } = checked
  // The median of segments is corrected to stand for the average.
  const over = average === 'maximum' || average === 'percentile' ? { statistic: average } : {}
  return { kind: 'Bands', quantity, bands, ...over, ...(exceeded === undefined ? {} : { exceeded }) }
}
