import { checkNumber, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkSpectrum } from './check.js'
import { checkCovered, lineSpacing, meanSquare } from './mean-square.js'
import { bandIndices, centreFrequency, lowerEdge, nominalFrequency } from './nominal-bands.js'
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
 * spectrum does not cover from edge to edge is refused, not guessed.
 * @param spectrum - a {@link SpectrumLiteral}
 * @param options - see {@link OneThirdOctaveBandsOptions}
 * @returns bands in ascending order, rms [unit of the quantity]
 * @throws {@link IsolationError} `out-of-range` for a band that the spectrum does not cover, naming what it covers;
 * `invalid-option` if no label lies in from..to, and others for a malformed spectrum
 * @source IEC 61260-1:2014, equations 1 to 5 and annex E
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
  const from = checkNumber(scope, 'from', options.from, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const to = checkNumber(scope, 'to', options.to, { unit: 'Hz', atLeast: from, atMost: 1e6 })
  const indices = bandIndices(from, to)
  if (indices.length === 0) {
    fail(
      'invalid-option',
      within(scope, 'from'),
      `to to must hold a nominal band frequency, ${from} to ${to} Hz does not`,
    )
  }
  checkCovered(scope, 'from', checked, lowerEdge(indices[0]), lowerEdge(indices[0] + 1))
  checkCovered(scope, 'to', checked, lowerEdge(indices[0]), lowerEdge(indices[indices.length - 1] + 1))
  const spacing = checked.support === 'lines' ? lineSpacing(checked.frequency) : null
  const bands = indices.map((index) => {
    const lower = lowerEdge(index)
    const upper = lowerEdge(index + 1)
    return {
      nominal: nominalFrequency(index),
      centre: centreFrequency(index),
      lower,
      upper,
      rms: Math.sqrt(meanSquare(checked, lower, upper)),
      lines: spacing === null ? null : (upper - lower) / spacing,
    }
  })
  return { kind: 'Bands', quantity: checked.quantity, bands }
}
