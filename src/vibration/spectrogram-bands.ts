import { checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { linesFreedom } from './band-evidence.js'
import { checkCovered, lineSpacing, meanSquare } from './mean-square.js'
import { medianBias } from './median-bias.js'
import { centreFrequency, checkedBandIndices, lowerEdge, nominalFrequency } from './nominal-bands.js'
import type { OneThirdOctaveBandsOptions } from './one-third-octave-bands.js'
import { blockSpectrum, checkSpectrogram } from './spectrum-statistic.js'
import type { BandHistory, Spectrogram } from './time-statistics-types.js'

/** One-third-octave band levels of the blocks of a spectrogram.
 *
 * Each block by itself as {@link oneThirdOctaveBands} does it; for one level per band see {@link bandStatistic}.
 * @param spectrogram - from the function of that name
 * @param options - see {@link OneThirdOctaveBandsOptions}
 * @returns levels [unit] by block and band
 * @throws {@link IsolationError} `out-of-range` for a band that the lines do not cover; `invalid-option`, `dimension-mismatch`
 * @source IEC 61260-1:2014, equations 1 to 5 and annex E
 * @example
 * import { bandStatistic, spectrogram, spectrogramBands } from 'restmass'
 * const samples = Array.from({ length: 640 }, (_, n) => (n < 512 ? 1 : 3) * Math.sin(0.5 * Math.PI * n))
 * const blocks = spectrogram({ samples, sampleRate: 64, segmentLength: 64 })
 * bandStatistic(spectrogramBands(blocks, { from: 16, to: 16 }), { statistic: 'median' }).bands[0].rms // 0.70711
 */
export function spectrogramBands(spectrogram: Spectrogram, options: OneThirdOctaveBandsOptions): BandHistory {
  const scope = scopeOf('spectrogramBands')
  const at = within(scope, 'spectrogram')
  const { quantity, time, frequency, blockDuration } = checkSpectrogram(at, spectrogram)
  checkOptions(scope, options, ['from', 'to'])
  const indices = checkedBandIndices(scope, options)
  const first = blockSpectrum(at, spectrogram, 0)
  checkCovered(scope, first, lowerEdge(indices[0]), lowerEdge(indices[indices.length - 1] + 1))
  const freedom = linesFreedom(first)
  const bands = indices.map((index) => {
    const [lower, upper] = [lowerEdge(index), lowerEdge(index + 1)]
    const lines = (upper - lower) / lineSpacing(frequency)
    const degreesOfFreedom = freedom(lines)
    if (degreesOfFreedom === null) fail('invalid-option', at, 'must tell how it was averaged')
    const labels = { nominal: nominalFrequency(index), centre: centreFrequency(index), lower, upper, lines, delay: 0 }
    return { ...labels, degreesOfFreedom, medianBias: medianBias(degreesOfFreedom) }
  })
  const rms = new Float64Array(time.length * bands.length)
  for (let k = 0; k < time.length; k++) {
    const block = blockSpectrum(at, spectrogram, k)
    bands.forEach(({ lower, upper }, b) => {
      rms[k * bands.length + b] = Math.sqrt(meanSquare(block, lower, upper))
    })
  }
  const averaging = { blockDuration, timeConstant: null, skipped: 0 }
  return { kind: 'BandHistory', quantity, bands, time: time.slice(), rms, ...averaging }
}
