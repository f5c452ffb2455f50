import { checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { fourierPlan } from '../linear/fourier.js'
import { checkSamples } from './check.js'
import {
  checkDensity,
  clearSegment,
  loadSegment,
  type Segmentation,
  type SegmentOptions,
  scaleToDensity,
  segmentation,
  segmentKeys,
} from './segmentation.js'
import type { TransferEstimate } from './types.js'

/** Options of {@link transferEstimate}. */
export interface TransferEstimateOptions extends SegmentOptions {
  /** Record of the input [input unit], such as floor velocity */
  readonly input: readonly number[] | Float64Array
  /** Record of the output [output unit], as long as the input and sampled at the same instants */
  readonly output: readonly number[] | Float64Array
}

/** Transfer function from one record to another, with its coherence and its random error.
 *
 * H1 = S_xy / S_xx with S_xy = mean(conj(X)·Y), the estimate that noise in the output does not bias; coherence
 * γ² = |S_xy|² / (S_xx S_yy); relative random error √(1 − γ²) / (γ √(2n)) with n the effective number of independent
 * segments. No line is dropped: where the input has no power (within rounding) H1 and coherence are 0 and the line is
 * listed. At least two segments are needed, since the coherence of one is always 1.
 * @param options - see {@link TransferEstimateOptions}
 * @returns estimate on lines f_s/segmentLength apart, from 0 Hz on
 * @throws {@link IsolationError} `dimension-mismatch` for records of different length; `out-of-range` for records too short
 * for two segments; `not-finite`; `invalid-option`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapters 6 and 9
 * @example
 * import { transferEstimate } from 'restmass'
 * const input = Array.from({ length: 64 }, (_, n) => Math.sin(n * n))
 * const output = input.map((value) => -0.25 * value)
 * const estimate = transferEstimate({ input, output, sampleRate: 100, segmentLength: 16 })
 * estimate.re[3] // -0.25
 */
export function transferEstimate(options: TransferEstimateOptions): TransferEstimate {
  const scope = scopeOf('transferEstimate')
  checkOptions(scope, options, ['input', 'output', ...segmentKeys])
  const input = checkSamples(scope, 'input', options.input)
  const output = checkSamples(scope, 'output', options.output)
  if (output.length !== input.length) {
    fail(
      'dimension-mismatch',
      within(scope, 'output'),
      `must have ${input.length} samples like input, got ${output.length}`,
    )
  }
  const plan = segmentation(scope, 'input', input.length, options)
  if (plan.count < 2) {
    fail(
      'out-of-range',
      within(scope, 'segmentLength'),
      `must leave at least 2 segments in ${input.length} samples, got 1`,
    )
  }
  const sums = crossSums(plan, input, output)
  for (const list of [sums.xx, sums.yy, sums.re, sums.im]) scaleToDensity(plan, list, plan.count)
  checkDensity(scope, 'input', sums.xx)
  checkDensity(scope, 'output', sums.yy)
  const ratios = ratiosOf(sums, roundingDensity(plan, input), plan.summary.effectiveAverages)
  return {
    kind: 'TransferEstimate',
    frequency: plan.frequency,
    ...ratios,
    inputDensity: sums.xx,
    outputDensity: sums.yy,
    ...plan.summary,
  }
}

interface CrossSums {
  readonly xx: Float64Array
  readonly yy: Float64Array
  readonly re: Float64Array
  readonly im: Float64Array
}

/** Two segments of the input share one transform and two of the output another, so that neither signal leaks into the
 * other by rounding. */
function crossSums(plan: Segmentation, input: Float64Array, output: Float64Array): CrossSums {
  const { length } = plan
  const make = (size: number): Float64Array => new Float64Array(size)
  const lines = plan.frequency.length
  const sums: CrossSums = { xx: make(lines), yy: make(lines), re: make(lines), im: make(lines) }
  const transform = fourierPlan(length).transform
  const data = make(2 * length)
  const X = make(2 * length)
  const Y = make(2 * length)
  for (let first = 0; first < plan.count; first += 2) {
    loadPair(plan, input, first, data)
    transform(X, data)
    loadPair(plan, output, first, data)
    transform(Y, data)
    addPair(sums, X, Y, length)
  }
  return sums
}

function loadPair(plan: Segmentation, samples: Float64Array, first: number, data: Float64Array): void {
  loadSegment(plan, samples, first, data, 0)
  if (first + 1 < plan.count) loadSegment(plan, samples, first + 1, data, 1)
  else clearSegment(data, 1)
}

/** Of Z = transform of a + ib: A_k = (Z_k + conj Z_(L−k))/2 and B_k = (Z_k − conj Z_(L−k))/2i. */
function addPair({ xx, yy, re, im }: CrossSums, X: Float64Array, Y: Float64Array, length: number): void {
  for (let k = 0; k < xx.length; k++) {
    const i = 2 * k
    const j = k === 0 ? 0 : 2 * (length - k)
    const xaRe = 0.5 * (X[i] + X[j])
    const xaIm = 0.5 * (X[i + 1] - X[j + 1])
    const xbRe = 0.5 * (X[i + 1] + X[j + 1])
    const xbIm = 0.5 * (X[j] - X[i])
    const yaRe = 0.5 * (Y[i] + Y[j])
    const yaIm = 0.5 * (Y[i + 1] - Y[j + 1])
    const ybRe = 0.5 * (Y[i + 1] + Y[j + 1])
    const ybIm = 0.5 * (Y[j] - Y[i])
    xx[k] += xaRe * xaRe + xaIm * xaIm + xbRe * xbRe + xbIm * xbIm
    yy[k] += yaRe * yaRe + yaIm * yaIm + ybRe * ybRe + ybIm * ybIm
    re[k] += xaRe * yaRe + xaIm * yaIm + xbRe * ybRe + xbIm * ybIm
    im[k] += xaRe * yaIm - xaIm * yaRe + xbRe * ybIm - xbIm * ybRe
  }
}

/** Density that rounding alone leaves in a line: a transform errs by about ε·log2(L) of the signal, its mean included. */
function roundingDensity(plan: Segmentation, input: Float64Array): number {
  let squares = 0
  for (const value of input) squares += value * value
  const sampleRate = plan.frequency[1] * plan.length
  const meanDensity = (2 * squares) / (input.length * sampleRate)
  return meanDensity * (4 * Number.EPSILON * Math.log2(2 * plan.length)) ** 2
}

function ratiosOf(
  { xx, yy, re, im }: CrossSums,
  floor: number,
  effectiveAverages: number,
): Pick<TransferEstimate, 're' | 'im' | 'coherence' | 'randomError' | 'undefinedLines'> {
  const lines = xx.length
  const coherence = new Float64Array(lines)
  const randomError = new Float64Array(lines)
  const response = { re: new Float64Array(lines), im: new Float64Array(lines) }
  const undefinedLines: number[] = []
  for (let k = 0; k < lines; k++) {
    if (xx[k] > floor) {
      response.re[k] = re[k] / xx[k]
      response.im[k] = im[k] / xx[k]
      const cross = Math.hypot(re[k], im[k])
      coherence[k] = yy[k] === 0 ? 0 : Math.min(1, (cross / xx[k]) * (cross / yy[k]))
    } else undefinedLines.push(k)
    randomError[k] = Math.sqrt((1 - coherence[k]) / (2 * effectiveAverages * coherence[k]))
  }
  return { ...response, coherence, randomError, undefinedLines }
}
