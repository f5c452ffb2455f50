import { checkOneOf, checkOptions, scopeOf } from '../internal/check.js'
import { type FourierPlan, fourierPlan } from '../linear/fourier.js'
import { checkQuantity, checkSamples } from './check.js'
import {
  addPowers,
  checkDensity,
  loadPair,
  type Segmentation,
  type SegmentOptions,
  scaleToDensity,
  segmentation,
  segmentKeys,
} from './segmentation.js'
import type { Quantity, Spectrum } from './types.js'

/** Options of {@link welch}. */
export interface WelchOptions extends SegmentOptions {
  /** Record in time [unit] */
  readonly samples: readonly number[] | Float64Array
  /** What was measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** How the segments are averaged; the median, corrected for its bias, ignores rare disturbances.
   * @defaultValue `'mean'` */
  readonly average?: 'mean' | 'median'
}

/** One-sided power spectral density of a record, averaged over overlapping segments.
 *
 * Each segment is detrended, weighted with a periodic window w and transformed: S(f_k) = 2|X_k|² / (f_s Σw²), not doubled
 * at 0 Hz and, for an even segment, at f_s/2. Segments start at 0, hop, 2·hop, …; samples after the last full segment are
 * not used. The median is divided by its expected value for independent, Gaussian segments.
 * @param options - see {@link WelchOptions}
 * @returns density [unit²/Hz] on lines f_s/segmentLength apart, with the number of averages and the noise bandwidth
 * @throws {@link IsolationError} `out-of-range` for a record shorter than its segment; `not-finite`; `invalid-option`
 * @source P. D. Welch, IEEE Trans. Audio and Electroacoustics 15 (1967) 70-73; G. Heinzel, A. Rüdiger, R. Schilling,
 * Spectrum and spectral density estimation by the discrete Fourier transform, 2002, section 9; median: B. Allen et al.,
 * Physical Review D 85 (2012) 122006, appendix B
 * @example
 * import { rms, welch } from 'restmass'
 * const samples = Array.from({ length: 1024 }, (_, n) => 3 * Math.sin((2 * Math.PI * 100 * n) / 1024))
 * const density = welch({ samples, sampleRate: 1024, segmentLength: 512, quantity: 'velocity' })
 * rms(density, { from: 90, to: 110 }) // 2.12132
 */
export function welch(options: WelchOptions): Spectrum {
  const scope = scopeOf('welch')
  checkOptions(scope, options, ['samples', 'quantity', 'average', ...segmentKeys])
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const average = options.average === undefined ? 'mean' : checkOneOf(scope, 'average', options.average, averages)
  const samples = checkSamples(scope, 'samples', options.samples)
  const plan = segmentation(scope, 'samples', samples.length, options)
  const { transform } = fourierPlan(plan.length)
  const density = (average === 'mean' ? meanDensity : medianDensity)(plan, samples, transform)
  checkDensity(scope, 'samples', density)
  return { kind: 'Spectrum', quantity, frequency: plan.frequency, density, support: 'lines', ...plan.summary, average }
}

const averages = ['mean', 'median'] as const

type Transform = FourierPlan['transform']

/** Mean density of the segments of a record, through a transform of their length. */
export function meanDensity(plan: Segmentation, samples: Float64Array, transform: Transform): Float64Array {
  const sums = new Float64Array(plan.frequency.length)
  forEachPair(plan, samples, transform, (out) => addPowers(sums, out))
  scaleToDensity(plan, sums, plan.count)
  return sums
}

function medianDensity(plan: Segmentation, samples: Float64Array, transform: Transform): Float64Array {
  const { count } = plan
  const lines = plan.frequency.length
  const all = new Float64Array(lines * count)
  forEachPair(plan, samples, transform, (out, first) => {
    const paired = first + 1 < count
    for (let k = 0; k < lines; k++) {
      const i = 2 * k
      const j = 2 * ((plan.length - k) % plan.length)
      const real = out[i] + out[j]
      const imaginary = out[i + 1] - out[j + 1]
      all[k * count + first] = 0.25 * (real * real + imaginary * imaginary)
      if (!paired) continue
      const sine = out[i + 1] + out[j + 1]
      const cosine = out[j] - out[i]
      all[k * count + first + 1] = 0.25 * (sine * sine + cosine * cosine)
    }
  })
  const medians = new Float64Array(lines)
  for (let k = 0; k < lines; k++) {
    const sorted = all.subarray(k * count, (k + 1) * count).sort()
    medians[k] = 0.5 * (sorted[(count - 1) >> 1] + sorted[count >> 1])
  }
  scaleToDensity(plan, medians, medianBias(count))
  return medians
}

/** Expected median of `count` independent powers whose mean is 1: 1 − 1/2 + 1/3 − … up to the largest odd term. */
function medianBias(count: number): number {
  let bias = 1
  for (let even = 2; even < count; even += 2) bias += 1 / (even + 1) - 1 / even
  return bias
}

function forEachPair(
  plan: Segmentation,
  samples: Float64Array,
  transform: Transform,
  take: (out: Float64Array, first: number) => void,
): void {
  const data = new Float64Array(2 * plan.length)
  const out = new Float64Array(2 * plan.length)
  for (let first = 0; first < plan.count; first += 2) {
    loadPair(plan, samples, first, plan.count, data)
    transform(out, data)
    take(out, first)
  }
}
