import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { chiSquaredQuantile } from '../internal/chi-squared.js'
import { isIsolationError } from '../internal/errors.js'
import type { IsolationModel } from '../isolation/model.js'
import { transmissibility } from '../isolation/transmissibility.js'
import { type NonlinearFit, nonlinearLeastSquares } from '../linear/nonlinear-least-squares.js'
import type { ComplexSeries } from '../systems/types.js'
import { lineCorrelation } from '../vibration/line-correlation.js'
import type { TransferEstimate } from '../vibration/types.js'
import { formParameters, formResponse, type IsolatorForm } from './isolator-forms.js'
import { formSearch } from './isolator-search.js'
import { checkEstimate, checkedLines, smearing, standardDeviations } from './line-statistics.js'

/** Options of {@link fitIsolator}. */
export interface FitIsolatorOptions {
  /** What is fitted: a named form, or a function from parameters to a model of any concept, such as one whose loop gain
   * and delay are wanted. @defaultValue `'viscous'` */
  readonly model?: IsolatorForm | ((parameters: Readonly<Record<string, number>>) => IsolationModel)
  /** First guess of every parameter, each above 0; needed for a function, found by a search for a named form */
  readonly start?: Readonly<Record<string, number>>
  /** Lowest line used [Hz]. @defaultValue the first above 0 Hz */
  readonly from?: number
  /** Highest line used [Hz]. @defaultValue the last */
  readonly to?: number
  /** Probability that an interval holds the true value, 0.5 to 0.9999. @defaultValue 0.95 */
  readonly confidence?: number
}

/** One fitted parameter. */
export interface FittedParameter {
  readonly value: number
  /** Standard deviation, relative to the value */
  readonly relativeError: number
  /** Lower end of the confidence interval */
  readonly from: number
  /** Upper end of the confidence interval */
  readonly to: number
}

/** An isolator as its transmissibility shows it. */
export interface IsolatorFit {
  readonly kind: 'IsolatorFit'
  readonly model: IsolatorForm | 'custom'
  /** [Hz]; null if it is no parameter of the model */
  readonly naturalFrequency: number | null
  /** Of the dashpot over 2·√(k·m); null if it is no parameter of the model */
  readonly dampingRatio: number | null
  /** Relaxing over static stiffness; null if it is no parameter of the model */
  readonly stiffnessRatio: number | null
  /** Of the active damping; null if it is no parameter of the model */
  readonly activeDampingRatio: number | null
  /** Every parameter with its interval */
  readonly confidence: Readonly<Record<string, FittedParameter>>
  /** Probability that an interval holds the true value */
  readonly confidenceLevel: number
  /** What is left, measured minus fitted, in standard deviations of a real or imaginary part, line by line */
  readonly residuals: ComplexSeries
  /** Root mean square of the residuals over the degrees of freedom: about 1 where the form is right, more where the
   * isolator is something else */
  readonly scatter: number
  /** First and last line used [Hz] */
  readonly judged: readonly [from: number, to: number]
}

/** Parameters of an isolator from a measured transmissibility, with confidence and residuals.
 *
 * Minimises Σ|H1 − T|²/σ², with the error σ of each line from its coherence, over the logarithms of the parameters. T is
 * averaged with the window of the estimate first, so that lines as wide as half the resonance do not pass for damping; the
 * floor is taken as flat within a few lines. Intervals are value·exp(±z·s), s from the Jacobian, widened by what
 * neighbouring lines share and by the scatter where it is above 1. Where the window scatters more than noise does, they are up
 * to 1.6 times wider than need be. They hold random errors only: noise in the floor sensor (which biases H1 low), a second path
 * or a loose cable are no part of them.
 *
 * Named forms, r = f/f0: viscous (1 + 2jζr)/(1 − r² + 2jζr); relaxation K/(K − r²) with K = 1 + 2jζNr/(N + 2jζr); actively
 * damped (1 + 2jζr)/(1 − r² + 2j(ζ + ζ_a)r).
 * @param estimate - H1 from floor to payload, both as the same quantity
 * @param options - see {@link FitIsolatorOptions}
 * @returns see {@link IsolatorFit}
 * @throws {@link IsolationError} `out-of-range` for too few lines; `no-convergence` where the record does not determine the
 * parameters; `invalid-option`; errors of a model that cannot be built
 * @source K. Levenberg, Quarterly of Applied Mathematics 2 (1944) 164-168; J. S. Bendat, A. G. Piersol, Random Data,
 * chapter 9 (errors of a line)
 * @example
 * import { fitIsolator, transferEstimate } from 'restmass'
 * const floor = Array.from({ length: 4096 }, (_, n) => Math.sin(n * n * 0.7) + Math.cos(n ** 2.3))
 * const payload = [0, 0]
 * for (let n = 2; n < 4096; n++) payload[n] = 1.9 * payload[n - 1] - 0.95 * payload[n - 2] + 0.05 * floor[n - 1]
 * const estimate = transferEstimate({ input: floor, output: payload, sampleRate: 100, segmentLength: 1024 })
 * fitIsolator(estimate, { to: 10 }).naturalFrequency // 3.61
 */
export function fitIsolator(estimate: TransferEstimate, options: FitIsolatorOptions = {}): IsolatorFit {
  const scope = scopeOf('fitIsolator')
  checkEstimate(within(scope, 'estimate'), estimate)
  checkOptions(scope, options, ['model', 'start', 'from', 'to', 'confidence'])
  const level = checkOptional(scope, 'confidence', options.confidence, { atLeast: 0.5, atMost: 0.9999 }, 0.95)
  const lines = checkedLines(scope, estimate, options)
  const model = options.model ?? 'viscous'
  const form = typeof model === 'function' ? null : checkOneOf(scope, 'model', model, forms)
  const names = namesOf(scope, form, options)
  if (2 * lines.length <= 2 * names.length) {
    fail('out-of-range', within(scope, 'from'), `to to must hold more than ${names.length} lines, got ${lines.length}`)
  }
  const sigma = standardDeviations(estimate, lines)
  const { frequency, smear } = smearing(estimate, lines)
  const respond = (values: Float64Array): { re: Float64Array; im: Float64Array } =>
    typeof model === 'function'
      ? transmissibility(model(Object.fromEntries(names.map((name, k) => [name, values[k]]))), frequency)
      : formResponse(model, values, frequency)
  const residuals = (logarithms: Float64Array): Float64Array => {
    const { re, im } = respond(logarithms.map(Math.exp))
    const expected = smear(re, im)
    lines.forEach((k, i) => {
      expected[2 * i] = (estimate.re[k] - expected[2 * i]) / sigma[i]
      expected[2 * i + 1] = (estimate.im[k] - expected[2 * i + 1]) / sigma[i]
    })
    return expected
  }
  const starts = startsOf(scope, form, names, options, () => formSearch(form as IsolatorForm, estimate, lines, sigma))
  const fit = bestFit(residuals, starts)
  if (fit === null || fit.parameters.some((_, k) => !(fit.covariance.data[k * (names.length + 1)] < 100))) {
    fail('no-convergence', scope, `found no ${names.join(', ')} that the estimate determines`)
  }
  return fitRecord(form, names, fit, residuals(fit.parameters), level, estimate, lines)
}

const forms = Object.keys(formParameters) as IsolatorForm[]

function namesOf(scope: Scope, form: IsolatorForm | null, { start }: FitIsolatorOptions): readonly string[] {
  if (start !== undefined)
    checkOptions(within(scope, 'start'), start, form === null ? Object.keys(start) : formParameters[form])
  if (form !== null) return formParameters[form]
  const names = Object.keys(start ?? {})
  if (names.length > 0) return names
  fail(
    'invalid-option',
    within(scope, 'start'),
    `must name the parameters of a model given as a function, got ${show(start)}`,
  )
}

function startsOf(
  scope: Scope,
  form: IsolatorForm | null,
  names: readonly string[],
  { start }: FitIsolatorOptions,
  search: () => Float64Array[],
): Float64Array[] {
  if (form !== null && start === undefined) return search()
  const at = within(scope, 'start')
  return [
    Float64Array.from(names, (name) => Math.log(checkNumber(at, name, start?.[name], { above: 0, atMost: 1e100 }))),
  ]
}

function bestFit(residuals: (p: Float64Array) => Float64Array, starts: readonly Float64Array[]): NonlinearFit | null {
  let best: NonlinearFit | null = null
  for (const start of starts) {
    // A model that cannot be built at the start is the caller's; one that cannot be built on the way turns a step back.
    const { length } = residuals(start)
    const fit = nonlinearLeastSquares((trial) => {
      try {
        return residuals(trial)
      } catch (error) {
        if (isIsolationError(error)) return new Float64Array(length).fill(Infinity)
        throw error
      }
    }, start)
    if (fit !== null && !(best !== null && fit.squares >= best.squares)) best = fit
  }
  return best
}

function fitRecord(
  form: IsolatorForm | null,
  names: readonly string[],
  { parameters, covariance, squares }: NonlinearFit,
  residuals: Float64Array,
  level: number,
  estimate: TransferEstimate,
  lines: readonly number[],
): IsolatorFit {
  const scatter = Math.sqrt(squares / (residuals.length - names.length))
  const widening = Math.sqrt(lineCorrelation(estimate)) * Math.max(1, scatter)
  const deviate = Math.sqrt(chiSquaredQuantile(level, 1))
  const confidence: Record<string, FittedParameter> = {}
  names.forEach((name, k) => {
    const value = Math.exp(parameters[k])
    const relativeError = widening * Math.sqrt(covariance.data[k * (names.length + 1)])
    const factor = Math.exp(Math.min(700, deviate * relativeError))
    confidence[name] = { value, relativeError, from: value / factor, to: value * factor }
  })
  const fitted = (name: string): number | null => confidence[name]?.value ?? null
  const frequency = Float64Array.from(lines, (k) => estimate.frequency[k])
  return {
    kind: 'IsolatorFit',
    model: form ?? 'custom',
    naturalFrequency: fitted('naturalFrequency'),
    dampingRatio: fitted('dampingRatio'),
    stiffnessRatio: fitted('stiffnessRatio'),
    activeDampingRatio: fitted('activeDampingRatio'),
    confidence,
    confidenceLevel: level,
    residuals: {
      kind: 'ComplexSeries',
      frequency,
      re: residuals.filter((_, i) => i % 2 === 0),
      im: residuals.filter((_, i) => i % 2 === 1),
    },
    scatter,
    judged: [frequency[0], frequency[frequency.length - 1]],
  }
}
