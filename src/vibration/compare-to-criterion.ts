import {
  checkGrid,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { checkBands, checkSameLength } from './check.js'
import { type CriterionOptions, conventions, criterionKeys, namedCriterion } from './criterion.js'
import type {
  BandDoubt,
  BandRatio,
  Criterion,
  CriterionComparison,
  CriterionConvention,
  CriterionEdition,
  CriterionName,
} from './criterion-types.js'
import { type Evidence, evidenceOf, faceValue, stateOf } from './level-evidence.js'
import { checkedBandIndex, nearestBandIndex } from './nominal-bands.js'
import type { BandsLiteral, LevelStatistic } from './types.js'

/** Options of {@link compareToCriterion}. */
export interface CompareToCriterionOptions {
  /** Form of a criterion given by name. @defaultValue `'2005'` */
  readonly edition?: CriterionEdition
  /** Round numbers of a criterion given by name; `'either'` passes below both, fails above both and leaves open what lies
   * between. @defaultValue `'metric'` */
  readonly convention?: CriterionConvention | 'either'
  /** Velocity bands of the sensor's own noise: what the reading may owe to it does not count against the floor.
   * @defaultValue none */
  readonly sensorNoise?: BandsLiteral
  /** Length of the record [s], above 0: the levels of a stationary random floor scatter about the true ones with
   * 2·bandwidth·duration degrees of freedom. @defaultValue levels are taken as exact */
  readonly duration?: number
  /** Probability with which each bound of a level holds, 0.5 to below 1; with `duration`. @defaultValue 0.95 */
  readonly confidence?: number
  /** How the levels were taken over time; stated in the result. @defaultValue what the bands say, else `'average'` */
  readonly statistic?: LevelStatistic
}

/** Verdict on band levels against a criterion, band by band.
 *
 * Each band stands alone: the verdict is `'pass'` if no rms velocity is above its limit. Only bands that both have are
 * judged; those that the criterion limits and the bands do not hold are listed as missing.
 *
 * Levels are taken at face value unless it is said what is not known about them. Then the true level of a band lies
 * between √(rms²·ν/χ²(confidence, ν) − noise²) and rms·√(ν/χ²(1 − confidence, ν)), ν = 2·bandwidth·duration: independent
 * noise of the sensor only ever adds, and a short record scatters both ways. A band whose limit lies between is a doubt,
 * and without a clear failure elsewhere the verdict is `'undecided'`.
 * @param bands - one-third-octave bands of velocity
 * @param criterion - a record or a name
 * @param options - see {@link CompareToCriterionOptions}
 * @returns verdict, worst band, margin, all ratios of rms to limit, and the bands in doubt with the cause
 * @throws {@link IsolationError} `unsupported` for bands of another quantity than velocity; `invalid-option` if no band is
 * common to both, for an unknown name, and for malformed bands; `out-of-range`
 * @source C. G. Gordon, Proc. SPIE 1619 (1991) 71-85; scatter: J. S. Bendat, A. G. Piersol, Random Data, chapter 8
 * @example
 * import { compareToCriterion } from 'restmass'
 * const bands = [{ nominal: 8, rms: 5e-6 }, { nominal: 10, rms: 7.5e-6 }]
 * const { worst } = compareToCriterion({ quantity: 'velocity', bands }, 'VC-D')
 * worst.ratio // 1.2
 */
export function compareToCriterion(
  bands: BandsLiteral,
  criterion: Criterion | CriterionName,
  options: CompareToCriterionOptions = {},
): CriterionComparison {
  const scope = scopeOf('compareToCriterion')
  checkOptions(scope, options, [...criterionKeys, 'sensorNoise', 'duration', 'confidence', 'statistic'])
  const levels = checkVelocityBands(within(scope, 'bands'), bands)
  const { convention } = options
  if (convention !== undefined) checkOneOf(scope, 'convention', convention, [...conventions, 'either'])
  const either = convention === 'either'
  const form = pick(options.edition, either ? 'metric' : convention)
  const limits = checkedCriterion(scope, criterion, form)
  const upper = either ? checkedCriterion(scope, criterion, { ...form, convention: 'inch' }) : limits
  const { statistic = bands.statistic } = options
  const known = { ...options, statistic, exceeded: bands.exceeded }
  const comparison = comparisonOf(levels, limits, evidenceOf(scope, known, upper, checkVelocityBands))
  if (comparison === null) {
    fail('invalid-option', within(scope, 'bands'), `must hold a band that ${limits.name} limits, and hold none`)
  }
  return comparison
}

function pick(edition?: CriterionEdition, convention?: CriterionConvention): CriterionOptions {
  return { ...(edition === undefined ? {} : { edition }), ...(convention === undefined ? {} : { convention }) }
}

/** Checks bands and that they are of velocity; returns the level of each by its band index. */
export function checkVelocityBands(scope: Scope, bands: BandsLiteral): Map<number, number> {
  const levels = checkBands(scope, bands)
  if (bands.quantity === 'velocity') return levels
  const says = `must be 'velocity', got '${bands.quantity}'; use convertSpectrum before oneThirdOctaveBands`
  fail('unsupported', within(scope, 'quantity'), says)
}

/** Levels held against limits, or null if they have no band in common. */
export function comparisonOf(
  levels: Map<number, number>,
  limits: Criterion,
  evidence: Evidence = faceValue(limits),
): CriterionComparison | null {
  const ratios: BandRatio[] = []
  const doubts: BandDoubt[] = []
  const missing: number[] = []
  let failed = false
  limits.frequency.forEach((nominal, k) => {
    const index = nearestBandIndex(nominal)
    const rms = levels.get(index)
    if (rms === undefined) {
      missing.push(nominal)
      return
    }
    const limit = limits.velocity[k]
    ratios.push({ nominal, rms, limit, ratio: rms / limit })
    const state = stateOf(index, rms, [limit, evidence.upper.velocity[k]], evidence)
    if (state === 'fail') failed = true
    else if (state !== 'pass') doubts.push({ nominal, ...state })
  })
  if (ratios.length === 0) return null
  const worst = ratios.reduce((most, entry) => (entry.ratio > most.ratio ? entry : most))
  return {
    kind: 'CriterionComparison',
    criterion: limits.name,
    edition: limits.edition,
    verdict: failed ? 'fail' : doubts.length > 0 ? 'undecided' : 'pass',
    worst,
    marginDecibels: -20 * Math.log10(worst.ratio),
    ratios,
    doubts,
    judged: [ratios[0].nominal, ratios[ratios.length - 1].nominal],
    statistic: evidence.statistic,
    ...(evidence.exceeded === undefined ? {} : { exceeded: evidence.exceeded }),
    missing,
  }
}

export function checkedCriterion(scope: Scope, value: Criterion | CriterionName, options: CriterionOptions): Criterion {
  if (typeof value === 'string') return namedCriterion(scope, 'criterion', value, options)
  const checked = checkCriterion(within(scope, 'criterion'), value)
  for (const key of criterionKeys) {
    if (options[key] === undefined) continue
    fail('invalid-option', within(scope, key), 'must be left out unless the criterion is given by name')
  }
  return checked
}

/** Checks limits that a user may have written and returns them in full, as a copy. */
export function checkCriterion(at: Scope, value: Criterion): Criterion {
  checkOptions(at, value, ['kind', 'name', 'edition', 'convention', 'frequency', 'velocity'])
  checkOneOf(at, 'kind', value.kind, ['Criterion'])
  if (typeof value.name !== 'string')
    fail('invalid-option', within(at, 'name'), `must be a text, got ${show(value.name)}`)
  if (value.edition !== null) checkOneOf(at, 'edition', value.edition, ['2005', '1991'])
  if (value.convention !== undefined) checkOneOf(at, 'convention', value.convention, conventions)
  const frequency = checkGrid(at, 'frequency', value.frequency, { unit: 'Hz', above: 0 })
  frequency.forEach((nominal, k) => {
    checkedBandIndex(within(at, 'frequency'), k, nominal)
  })
  const velocity = Float64Array.from(checkNumbers(at, 'velocity', value.velocity, { unit: 'm/s', above: 0 }))
  checkSameLength(at, 'velocity', velocity, frequency)
  return { ...value, frequency, velocity }
}
