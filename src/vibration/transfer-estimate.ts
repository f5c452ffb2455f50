import { checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkPartner, checkSamples } from './check.js'
import { type CrossSums, crossSums } from './cross-sums.js'
import { roundingDensity } from './rounding-density.js'
import { checkDensity, type SegmentOptions, segmentation, segmentKeys } from './segmentation.js'
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
 * γ² = |S_xy|² / (S_xx S_yy) = |H1|/|H2|; relative random error √(1 − γ²) / (γ √(2n)) with n the effective number of
 * independent segments. The coherence has the standard deviation √2·(1 − γ²)·γ/√n and the bias (1 − γ²)²/n; unrelated
 * records exceed 1 − 0.05^(1/(n − 1)) in one line out of twenty. High coherence proves a linear relation, not that either
 * sensor is calibrated. Lines wider than a resonance flatten it: see {@link resolutionBias}. No line is dropped: where the
 * input has no power (within rounding) H1 and coherence are 0 and the line is listed; where the output has none the coherence is
 * 0. At least two segments are needed, since the coherence of one is always 1.
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
  const output = checkPartner(scope, 'output', options.output, 'input', input)
  const plan = segmentation(scope, 'input', input.length, options)
  if (plan.count < 2) {
    fail(
      'out-of-range',
      within(scope, 'segmentLength'),
      `must leave at least 2 segments in ${input.length} samples, got 1`,
    )
  }
  const sums = crossSums(plan, input, output)
  checkDensity(scope, 'input', sums.xx)
  checkDensity(scope, 'output', sums.yy)
  const floors = [roundingDensity(plan, input), roundingDensity(plan, output)] as const
  const ratios = ratiosOf(sums, floors, plan.summary.effectiveAverages)
  return {
    kind: 'TransferEstimate',
    frequency: plan.frequency,
    ...ratios,
    significantCoherence: significantCoherence(plan.summary.effectiveAverages, 0.95),
    inputDensity: sums.xx,
    outputDensity: sums.yy,
    ...plan.summary,
  }
}

/** Coherence that unrelated Gaussian records stay below with a given probability.
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 9
 */
export function significantCoherence(averages: number, confidence: number): number {
  return 1 - (1 - confidence) ** (1 / Math.max(0, averages - 1))
}

function ratiosOf(
  { xx, yy, re, im }: CrossSums,
  [inputFloor, outputFloor]: readonly [number, number],
  effectiveAverages: number,
): Pick<
  TransferEstimate,
  're' | 'im' | 'coherence' | 'randomError' | 'h2' | 'coherenceError' | 'coherenceBias' | 'undefinedLines'
> {
  const lines = xx.length
  const coherence = new Float64Array(lines)
  const randomError = new Float64Array(lines)
  const response = { re: new Float64Array(lines), im: new Float64Array(lines) }
  const h2 = new Float64Array(lines).fill(Infinity)
  const undefinedLines: number[] = []
  for (let k = 0; k < lines; k++) {
    if (xx[k] > inputFloor) {
      response.re[k] = re[k] / xx[k]
      response.im[k] = im[k] / xx[k]
      const cross = Math.hypot(re[k], im[k])
      if (yy[k] > outputFloor) coherence[k] = Math.min(1, (cross / xx[k]) * (cross / yy[k]))
      if (coherence[k] > 0) h2[k] = yy[k] / cross
    } else undefinedLines.push(k)
    randomError[k] = Math.sqrt((1 - coherence[k]) / (2 * effectiveAverages * coherence[k]))
  }
  const coherenceError = coherence.map((value) => (1 - value) * Math.sqrt((2 * value) / effectiveAverages))
  const coherenceBias = coherence.map((value) => (1 - value) ** 2 / effectiveAverages)
  return { ...response, coherence, randomError, h2, coherenceError, coherenceBias, undefinedLines }
}
