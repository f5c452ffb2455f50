import { checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkModel } from '../isolation/check-model.js'
import type { IsolationModel } from '../isolation/model.js'
import { transmissibility } from '../isolation/transmissibility.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { checkSeries } from '../systems/series-values.js'
import type { ComplexSeries } from '../systems/types.js'
import type { TransferEstimate } from '../vibration/types.js'
import { checkEstimate, checkedLines, smearing, standardDeviations } from './line-statistics.js'

/** Options of {@link compareToModel}. */
export interface CompareToModelOptions {
  /** Lowest line judged [Hz]. @defaultValue the first above 0 Hz */
  readonly from?: number
  /** Highest line judged [Hz]. @defaultValue the last */
  readonly to?: number
  /** Probability that a system which is as predicted shows no departure in any line, 0.5 to 0.9999. @defaultValue 0.95 */
  readonly confidence?: number
}

/** Neighbouring lines in which a system is not what was predicted. */
export interface Departure {
  /** First and last line [Hz] */
  readonly from: number
  readonly to: number
  /** Line that departs most [Hz] */
  readonly worst: number
  /** Its distance from the prediction, in standard deviations */
  readonly deviation: number
  /** |H1| there */
  readonly measured: number
  /** |T| there, as the estimate should show it */
  readonly predicted: number
}

/** An installed system held against its prediction. */
export interface ModelComparison {
  readonly kind: 'ModelComparison'
  /** `'departs'` if a line lies outside of what chance allows; else `'agrees'` if at least half of the lines could have shown
   * an error as large as the prediction itself; else `'undecided'` */
  readonly verdict: 'agrees' | 'departs' | 'undecided'
  /** Where it departs, in ascending order */
  readonly departures: readonly Departure[]
  /** Lines judged [Hz] */
  readonly frequency: Float64Array
  /** |H1 − T| of each line in standard deviations of |H1| */
  readonly deviations: Float64Array
  /** Deviation that chance exceeds in none of the lines, with the given confidence */
  readonly limit: number
  /** Root mean square of the deviations over √2: about 1 for a system that is as predicted, apart from few averages */
  readonly scatter: number
  /** Share of the lines that could have shown an error as large as the prediction, 0 to 1 */
  readonly provableShare: number
}

/** Where an installed system departs from its prediction, and by how many standard deviations.
 *
 * The deviation of a line is |H1 − T|/σ with σ = √((1 − γ²)·S_yy/(2(n − 1)·S_xx)); half its square has an F distribution with
 * 2 and 2(n − 1) degrees of freedom if the system is as predicted. T of a model is averaged with the window of the estimate
 * first. The limit is shared out over all lines, so that a long list of them does not make a departure by itself.
 * Coherence plays no part beyond σ: a wrong calibration departs the more clearly the higher it is.
 * @param estimate - H1 from floor to payload, both as the same quantity
 * @param model - prediction: a model, or a response on exactly the frequencies of the estimate
 * @param options - see {@link CompareToModelOptions}
 * @returns see {@link ModelComparison}
 * @throws {@link IsolationError} `dimension-mismatch` for a response on other frequencies; `out-of-range` for a range without
 * lines; `singular` where an undamped resonance lies on a line; `invalid-option`
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 9; Z. Šidák, J. American Statistical Association 62 (1967) 626-633
 * @example
 * import { compareToModel, passiveIsolation, transferEstimate } from 'restmass'
 * const input = Array.from({ length: 512 }, (_, n) => Math.sin(n * n))
 * const estimate = transferEstimate({ input, output: input, sampleRate: 100, segmentLength: 64 })
 * const soft = passiveIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e5, damping: 2000 } })
 * compareToModel(estimate, soft).verdict // 'departs'
 */
export function compareToModel(
  estimate: TransferEstimate,
  model: IsolationModel | ComplexSeries,
  options: CompareToModelOptions = {},
): ModelComparison {
  const scope = scopeOf('compareToModel')
  checkEstimate(within(scope, 'estimate'), estimate)
  checkOptions(scope, options, ['from', 'to', 'confidence'])
  const confidence = checkOptional(scope, 'confidence', options.confidence, { atLeast: 0.5, atMost: 0.9999 }, 0.95)
  const lines = checkedLines(scope, estimate, options)
  const expected = expectedResponse(within(scope, 'model'), estimate, model, lines)
  const sigma = standardDeviations(estimate, lines)
  const deviations = Float64Array.from(lines, (k, i) => {
    const distance = hypotenuse(estimate.re[k] - expected[2 * i], estimate.im[k] - expected[2 * i + 1])
    return distance === 0 ? 0 : finiteResult(within(scope, 'model'), 'deviation', distance / sigma[i])
  })
  const limit = limitOf(estimate.effectiveAverages, 1 - confidence ** (1 / lines.length))
  const departures = departuresOf(estimate, expected, lines, deviations, limit)
  const provable = lines.filter((_, i) => hypotenuse(expected[2 * i], expected[2 * i + 1]) > limit * sigma[i]).length
  const provableShare = provable / lines.length
  const length = deviations.reduce((size, value) => hypotenuse(size, value), 0)
  return {
    kind: 'ModelComparison',
    verdict: departures.length > 0 ? 'departs' : provableShare >= 0.5 ? 'agrees' : 'undecided',
    departures,
    frequency: Float64Array.from(lines, (k) => estimate.frequency[k]),
    deviations,
    limit,
    scatter: length / Math.sqrt(2 * lines.length),
    provableShare,
  }
}

/** Real and imaginary part for each line, one after the other. */
function expectedResponse(
  scope: Scope,
  estimate: TransferEstimate,
  model: IsolationModel | ComplexSeries,
  lines: readonly number[],
): Float64Array {
  if (model?.kind !== 'ComplexSeries') {
    const { frequency, smear } = smearing(estimate, lines)
    const { re, im } = transmissibility(checkModel(scope, model), frequency)
    return smear(re, im)
  }
  checkSeries(scope, model)
  const { frequency, re, im } = model
  if (
    frequency?.length !== re.length ||
    frequency.length !== estimate.frequency.length ||
    frequency.some((f, k) => Math.abs(f - estimate.frequency[k]) > 1e-9 * f)
  ) {
    fail('dimension-mismatch', within(scope, 'frequency'), 'must be that of the estimate')
  }
  return Float64Array.from(lines.flatMap((k) => [re[k], im[k]]))
}

/** √(2F) with F exceeded with probability `tail`: F = (m/2)(tail^(−2/m) − 1), m = 2(n − 1), for 2 and m degrees of freedom. */
function limitOf(averages: number, tail: number): number {
  const freedom = 2 * Math.max(averages - 1, 0.5)
  return Math.sqrt(freedom * Math.expm1((-2 / freedom) * Math.log(tail)))
}

/** Runs of lines above the limit; a single line between two of them does not part them. */
function departuresOf(
  estimate: TransferEstimate,
  expected: Float64Array,
  lines: readonly number[],
  deviations: Float64Array,
  limit: number,
): Departure[] {
  const found: Departure[] = []
  let last = Number.NEGATIVE_INFINITY
  lines.forEach((k, i) => {
    if (deviations[i] <= limit) return
    const here: Departure = {
      from: estimate.frequency[k],
      to: estimate.frequency[k],
      worst: estimate.frequency[k],
      deviation: deviations[i],
      measured: hypotenuse(estimate.re[k], estimate.im[k]),
      predicted: hypotenuse(expected[2 * i], expected[2 * i + 1]),
    }
    const before = k - last <= 2 ? found.pop() : undefined
    last = k
    if (before === undefined) found.push(here)
    else found.push({ ...(before.deviation >= here.deviation ? before : here), from: before.from, to: here.to })
  })
  return found
}
