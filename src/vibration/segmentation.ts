import { checkNumber, checkOneOf, checkOptional, fail, type Scope, within } from '../internal/check.js'
import { powerOfTwoFrom } from '../linear/fourier.js'
import { sumOfSquares } from '../linear/sum-of-squares.js'
import { trendOf } from './trend.js'
import type { Detrend, WindowName } from './types.js'
import { detrends, windowNames, windowValues } from './window-values.js'

/** How a record is cut into segments, and how these are treated. */
export interface SegmentOptions {
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** Samples per segment, any whole number from 2 to the length of the record; lines are sampleRate/segmentLength apart.
   * @defaultValue the largest power of two in a quarter of the record, so that at least seven half-overlapping segments
   * are averaged */
  readonly segmentLength?: number
  /** Overlap of neighbouring segments, a fraction of their length, from 0 to below 1. @defaultValue 0.5 */
  readonly overlap?: number
  /** Window, always periodic. @defaultValue `'hann'` */
  readonly window?: WindowName
  /** What is taken out of each segment first. @defaultValue `'mean'` */
  readonly detrend?: Detrend
}

/** Names of the fields of {@link SegmentOptions}. */
export const segmentKeys = ['sampleRate', 'segmentLength', 'overlap', 'window', 'detrend'] as const

/** What is the same for each segment, however many there are. */
export interface SegmentPlan {
  readonly length: number
  readonly hop: number
  readonly sampleRate: number
  readonly window: WindowName
  readonly detrend: Detrend
  readonly weights: Float64Array
  /** One-sided density of line k is this times |X_k|² of one segment; half of it where a line has no mirror image. */
  readonly densityScale: number
  /** [Hz], lines 0 to ⌊length/2⌋ */
  readonly frequency: Float64Array
}

/** What an average over segments says about itself. */
export interface SegmentSummary {
  readonly segmentLength: number
  readonly overlap: number
  readonly window: WindowName
  readonly detrend: Detrend
  readonly averages: number
  readonly effectiveAverages: number
  readonly noiseBandwidth: number
}

/** A record of known length cut into segments. */
export interface Segmentation extends SegmentPlan {
  readonly count: number
  readonly summary: SegmentSummary
}

/** Checks the options and lays out the segments of a record of `samples` samples. */
export function segmentation(scope: Scope, key: string, samples: number, options: SegmentOptions): Segmentation {
  checkSampleRate(scope, options.sampleRate)
  const plan = segmentPlan(scope, options, segmentLengthOf(scope, key, samples, options.segmentLength))
  const count = 1 + Math.floor((samples - plan.length) / plan.hop)
  return { ...plan, count, summary: segmentSummary(plan, count) }
}

/** Checks the options and lays out segments of a known length. */
export function segmentPlan(scope: Scope, options: SegmentOptions, length: number): SegmentPlan {
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const fraction = checkOptional(scope, 'overlap', options.overlap, { atLeast: 0, below: 1 }, 0.5)
  const window = options.window === undefined ? 'hann' : checkOneOf(scope, 'window', options.window, windowNames)
  const detrend = options.detrend === undefined ? 'mean' : checkOneOf(scope, 'detrend', options.detrend, detrends)
  // A fraction such as 2/3 must not lose a sample to rounding.
  const hop = length - Math.min(length - 1, Math.floor(fraction * length + 1e-9))
  const weights = windowValues(window, length)
  return {
    length,
    hop,
    sampleRate,
    window,
    detrend,
    weights,
    densityScale: 2 / (sampleRate * sumOfSquares(weights)),
    frequency: Float64Array.from({ length: Math.floor(length / 2) + 1 }, (_, k) => (k * sampleRate) / length),
  }
}

/** What an average over `averages` segments says about itself. */
export function segmentSummary(plan: SegmentPlan, averages: number): SegmentSummary {
  const { length, hop, sampleRate, window, detrend, weights } = plan
  let sum = 0
  for (const weight of weights) sum += weight
  return {
    segmentLength: length,
    overlap: (length - hop) / length,
    window,
    detrend,
    averages,
    effectiveAverages: independentSegments(weights, hop, averages),
    noiseBandwidth: (sampleRate * sumOfSquares(weights)) / (sum * sum),
  }
}

/** Checks a sample rate. */
export function checkSampleRate(scope: Scope, value: unknown): number {
  return checkNumber(scope, 'sampleRate', value, { unit: 'Hz', atLeast: 1e-50, atMost: 1e50 })
}

/** Writes two segments, detrended and weighted, as real and imaginary parts into `data`: those at `first` and `first` + 1 of
 * `count`, or the last one alone. */
export function loadPair(
  plan: SegmentPlan,
  samples: Float64Array,
  first: number,
  count: number,
  data: Float64Array,
): void {
  const { length, hop, weights, detrend } = plan
  const paired = first + 1 < count
  const a = first * hop
  const b = paired ? a + hop : a
  const [constantA, slopeA] = trendOf(detrend, samples, a, length)
  const [constantB, slopeB] = paired ? trendOf(detrend, samples, b, length) : [0, 0]
  for (let i = 0; i < length; i++) {
    data[2 * i] = weights[i] * (samples[a + i] - constantA - slopeA * i)
    data[2 * i + 1] = paired ? weights[i] * (samples[b + i] - constantB - slopeB * i) : 0
  }
}

/** Adds the powers of two real segments a and b that went through one complex transform Z of a + ib:
 * |A_k|² + |B_k|² = (|Z_k|² + |Z_(L−k)|²)/2. */
export function addPowers(sums: Float64Array, out: Float64Array): void {
  sums[0] += out[0] * out[0] + out[1] * out[1]
  for (let k = 1, i = 2, j = out.length - 2; k < sums.length; k++, i += 2, j -= 2) {
    sums[k] += 0.5 * (out[i] * out[i] + out[i + 1] * out[i + 1] + out[j] * out[j] + out[j + 1] * out[j + 1])
  }
}

/** Turns squares, divided by `divisor`, into one-sided densities: lines at 0 Hz and at half the sample rate are not
 * doubled. */
export function scaleToDensity(plan: SegmentPlan, squares: Float64Array, divisor: number): void {
  const scale = plan.densityScale / divisor
  for (let k = 0; k < squares.length; k++) squares[k] *= k === 0 || 2 * k === plan.length ? scale / 2 : scale
}

/** Refuses a density that left the range of numbers. */
export function checkDensity(scope: Scope, key: string, density: Float64Array): void {
  if (density.every(Number.isFinite)) return
  fail('out-of-range', within(scope, key), 'must be small enough for its squares to be numbers')
}

function segmentLengthOf(scope: Scope, key: string, samples: number, given: number | undefined): number {
  if (given === undefined) {
    if (samples >= 8) return powerOfTwoFrom(Math.floor(samples / 4) + 1) / 2
    fail(
      'out-of-range',
      within(scope, key),
      `must hold at least 8 samples unless segmentLength is given, got ${samples}`,
    )
  }
  if (samples < 2) fail('out-of-range', within(scope, key), `must hold at least 2 samples, got ${samples}`)
  return checkNumber(scope, 'segmentLength', given, { unit: 'samples', integer: true, atLeast: 2, atMost: samples })
}

/** Number of independent segments with the same variance of their average: K / (1 + 2 Σ (1 − m/K) ρ_m²), where ρ_m is
 * the correlation of two windows m hops apart.
 *
 * @source P. D. Welch, IEEE Trans. Audio and Electroacoustics 15 (1967) 70-73
 */
function independentSegments(weights: Float64Array, hop: number, count: number): number {
  if (count === 1 || hop >= weights.length) return count
  const power = sumOfSquares(weights)
  let inflation = 1
  for (let m = 1; m < count && m * hop < weights.length; m++) {
    let sum = 0
    for (let i = m * hop; i < weights.length; i++) sum += weights[i] * weights[i - m * hop]
    inflation += 2 * (1 - m / count) * (sum / power) ** 2
  }
  return count / inflation
}
