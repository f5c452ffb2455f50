import { checkNumber, checkOneOf, fail, type Scope, show, within } from '../internal/check.js'
import { fourDigits } from '../internal/four-digits.js'
import { isolationSummary } from '../isolation/isolation-summary.js'
import type { IsolationModel } from '../isolation/model.js'
import { localMinimum } from '../linear/scalar-search.js'
import { rms } from '../vibration/rms.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { noiseDrives, velocitySpectrum } from './noise-budget.js'
import { drivesOf } from './predict-payload.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** One set of parameters that was tried. */
export interface TuningTrial {
  readonly parameters: Readonly<Record<string, number>>
  /** What was to be made small; null where the model is not stable */
  readonly objective: number | null
  /** Modulus margin of the main loop; null without a loop */
  readonly modulusMargin: number | null
  /** Whether all constraints are kept */
  readonly feasible: boolean
}

/** The best parameters found, why not better, and the trade-off they were taken from. */
export interface Tuning {
  readonly kind: 'Tuning'
  /** The choice, by name; null where nothing is feasible */
  readonly parameters: Readonly<Record<string, number>> | null
  /** What the choice comes to, by name: the objective and what else it was judged by; null with `parameters` */
  readonly outcome: Readonly<Record<string, number>> | null
  /** The constraint that keeps it from being better: `modulusMargin`, a path such as `payload.appendages[0]`, the name of a
   * parameter at the end of its range; null for an optimum inside */
  readonly limitedBy: string | null
  /** The same in a sentence */
  readonly reason: string
  /** Everything that was tried, in order of the trade-off */
  readonly tried: readonly TuningTrial[]
}

/** What is to be made small: the peak of |T|, or the rms velocity of the payload on a given floor, with the noise of sensors and
 * actuators as far as it is known. */
export interface TuningObjective {
  /** `'rms'` needs `floor`. @defaultValue 'rms' where there is a floor, else 'peak' */
  readonly objective?: 'peak' | 'rms'
  /** Motion of the floor: acceleration, velocity or displacement. @defaultValue none */
  readonly floor?: Spectrum | SpectrumLiteral
}

/** The objective as a function of a stable model. */
export function objectiveOf(scope: Scope, options: TuningObjective): (model: IsolationModel) => number {
  const { floor } = options
  const objective = options.objective ?? (floor === undefined ? 'peak' : 'rms')
  checkOneOf(scope, 'objective', objective, ['peak', 'rms'])
  if (objective === 'peak') return (model) => isolationSummary(model).peak
  if (floor === undefined) fail('invalid-option', within(scope, 'floor'), "is needed where the objective is 'rms'")
  const drives = drivesOf(scope, { floor })
  return (model) => payloadRms(scope, model, drives)
}

/** Root mean square velocity of a payload [m/s], with the noise of sensors and actuators as far as it is known. */
export function payloadRms(scope: Scope, { closed, noiseSources }: IsolationModel, drives: readonly Drive[]): number {
  const all = [...drives, ...noiseDrives(noiseSources, 'nothing')]
  return rms(velocitySpectrum(predictedDensity(scope, closed, 'payloadVelocity', all)))
}

/** What a trial of one value comes to. */
export interface Trial {
  /** null where the model is not stable */
  readonly objective: (() => number) | null
  readonly modulusMargin: number | null
  /** The constraint that is not kept, in a word and in a sentence; null where all are */
  readonly violates: { readonly name: string; readonly says: string } | null
}

/** One positive parameter tuned: a logarithmic grid for the trade-off, then a search between the neighbours of its best
 * point, up to the edge of what is feasible. Where larger values gain less than a part in a thousand, a lower one is taken. */
export function tunedValue(
  name: string,
  range: readonly [number, number],
  count: number,
  evaluate: (value: number) => Trial,
): Tuning {
  const at = (k: number) => range[0] * (range[1] / range[0]) ** (k / (count - 1))
  const trials = Array.from({ length: count }, (_, k) => ({ value: at(k), trial: evaluate(at(k)) }))
  const cost = ({ objective, violates }: Trial) =>
    objective === null || violates !== null ? Number.POSITIVE_INFINITY : objective()
  const tried = trials.map(({ value, trial }) => ({
    parameters: { [name]: value },
    objective: trial.objective?.() ?? null,
    modulusMargin: trial.modulusMargin,
    feasible: trial.violates === null && trial.objective !== null,
  }))
  const costs = tried.map(({ objective, feasible }) => (feasible ? (objective as number) : Number.POSITIVE_INFINITY))
  const least = Math.min(...costs)
  if (least === Number.POSITIVE_INFINITY) {
    const violated = trials[0].trial.violates ?? { name: 'stability', says: 'the model is not stable' }
    const reason = `no ${name} between ${fourDigits(range[0])} and ${fourDigits(range[1])} keeps all constraints: ${violated.says}`
    return { kind: 'Tuning', parameters: null, outcome: null, limitedBy: violated.name, reason, tried }
  }
  const best = costs.findIndex((value) => value <= least * (1 + 1e-3))
  // Searched by number of the grid point, from 1 on, so that the tolerance is a share of a step.
  const place = localMinimum(
    (k) => cost(evaluate(at(k - 1))),
    Math.max(0, best - 1) + 1,
    Math.min(count - 1, best + 1) + 1,
    1e-6,
  )
  const value = place.value < costs[best] ? at(place.x - 1) : at(best)
  const found = evaluate(value)
  const beyond = [1.002, 1 / 1.002].map((factor) => evaluate(value * factor).violates).find((each) => each !== null)
  const ended = [range[0], range[1]].find((end) => Math.abs(Math.log(value / end)) < 2e-3)
  return {
    kind: 'Tuning',
    parameters: { [name]: value },
    outcome: {
      objective: cost(found),
      ...(found.modulusMargin === null ? {} : { modulusMargin: found.modulusMargin }),
    },
    limitedBy: beyond?.name ?? (ended === undefined ? null : name),
    reason:
      beyond?.says ??
      (ended === undefined
        ? 'the objective is least here'
        : `${name} ends at ${fourDigits(ended)}, the range searched`),
    tried,
  }
}

/** Checks a range [from, to] of positive numbers. */
export function checkRange(scope: Scope, key: string, range: readonly number[], unit?: string): [number, number] {
  const at = within(scope, key)
  if (!Array.isArray(range) || range.length !== 2) fail('invalid-option', at, `must be [from, to], got ${show(range)}`)
  const from = checkNumber(at, 0, range[0], { above: 0, ...(unit === undefined ? {} : { unit }) })
  return [from, checkNumber(at, 1, range[1], { above: from, ...(unit === undefined ? {} : { unit }) })]
}
