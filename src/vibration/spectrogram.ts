import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { fourierPlan } from '../linear/fourier.js'
import { checkQuantity, checkSamples } from './check.js'
import { medianBias } from './median-bias.js'
import { checkDensity, checkSampleRate, type SegmentOptions, segmentation, segmentKeys } from './segmentation.js'
import type { Spectrogram } from './time-statistics-types.js'
import type { Quantity } from './types.js'
import { meanDensity } from './welch.js'

/** Options of {@link spectrogram}. */
export interface SpectrogramOptions extends SegmentOptions {
  /** Record in time [unit] */
  readonly samples: readonly number[] | Float64Array
  /** What was measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** Length of a block [s], at least a segment and at most the record. @defaultValue one segment */
  readonly blockDuration?: number
}

/** Power spectral densities of a record, block after block.
 *
 * Blocks follow each other without overlap, and within each the segments are averaged as by {@link welch}; without
 * `segmentLength` they are the largest power of two in a quarter of a block. What is left behind the last full block is not
 * used. For one spectrum out of many blocks see {@link spectrumStatistic}, for bands {@link spectrogramBands}.
 * @param options - see {@link SpectrogramOptions}
 * @returns densities [unit²/Hz] by block and line
 * @throws {@link IsolationError} `out-of-range` for a record shorter than a block, or a block shorter than its segment;
 * `not-finite`; `invalid-option`
 * @source P. D. Welch, IEEE Trans. Audio and Electroacoustics 15 (1967) 70-73
 * @example
 * import { spectrogram } from 'restmass'
 * const samples = Array.from({ length: 640 }, (_, n) => (n < 320 ? 1 : 3) * Math.sin(0.5 * Math.PI * n))
 * const { density, frequency, time } = spectrogram({ samples, sampleRate: 64, segmentLength: 64, blockDuration: 2.5 })
 * Array.from(time, (_, k) => density[k * frequency.length + 16]) // [0.33333, 0.33333, 3, 3]
 */
export function spectrogram(options: SpectrogramOptions): Spectrogram {
  const scope = scopeOf('spectrogram')
  checkOptions(scope, options, ['samples', 'quantity', 'blockDuration', ...segmentKeys])
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const samples = checkSamples(scope, 'samples', options.samples)
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const range = { unit: 's', above: 0, atMost: samples.length / sampleRate }
  const given = options.blockDuration
  const block = given === undefined ? null : Math.round(sampleRate * checkNumber(scope, 'blockDuration', given, range))
  const plan = segmentation(scope, 'samples', block ?? samples.length, options)
  const length = block ?? plan.length
  const single = block === null ? segmentation(scope, 'samples', length, { ...options, segmentLength: length }) : plan
  const { transform } = fourierPlan(plan.length)
  const count = Math.floor(samples.length / length)
  const lines = plan.frequency.length
  const density = new Float64Array(count * lines)
  for (let k = 0; k < count; k++) {
    density.set(meanDensity(single, samples.subarray(k * length, (k + 1) * length), transform), k * lines)
  }
  checkDensity(scope, 'samples', density)
  return {
    kind: 'Spectrogram',
    quantity,
    time: Float64Array.from({ length: count }, (_, k) => ((k + 0.5) * length) / sampleRate),
    frequency: plan.frequency,
    density,
    blockDuration: length / sampleRate,
    ...single.summary,
    medianBias: medianBias(2 * single.summary.effectiveAverages),
  }
}
