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
import { namedCriterion } from './criterion.js'
import { checkedBandIndex } from './nominal-bands.js'
import type {
  BandRatio,
  BandsLiteral,
  Criterion,
  CriterionComparison,
  CriterionEdition,
  CriterionName,
} from './types.js'

/** Options of {@link compareToCriterion}. */
export interface CompareToCriterionOptions {
  /** Form of a criterion given by name. @defaultValue `'2005'` */
  readonly edition?: CriterionEdition
}

/** Verdict on band levels against a criterion, band by band.
 *
 * Each band stands alone: the verdict is `'pass'` if no rms velocity is above its limit. Only bands that both have are
 * judged; those that the criterion limits and the bands do not hold are listed as missing.
 * @param bands - one-third-octave bands of velocity
 * @param criterion - a record or a name
 * @param options - see {@link CompareToCriterionOptions}
 * @returns verdict, worst band and all ratios of rms to limit
 * @throws {@link IsolationError} `unsupported` for bands of another quantity than velocity; `invalid-option` if no band is
 * common to both, for an unknown name, and for malformed bands
 * @source C. G. Gordon, Proc. SPIE 1619 (1991) 71-85
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
  const levels = checkVelocityBands(within(scope, 'bands'), bands)
  const limits = checkedCriterion(scope, criterion, options)
  const comparison = comparisonOf(levels, limits)
  if (comparison === null) {
    fail('invalid-option', within(scope, 'bands'), `must hold a band that ${limits.name} limits, and hold none`)
  }
  return comparison
}

/** Checks bands and that they are of velocity; returns the level of each by its band index. */
export function checkVelocityBands(scope: Scope, bands: BandsLiteral): Map<number, number> {
  const levels = checkBands(scope, bands)
  if (bands.quantity === 'velocity') return levels
  const says = `must be 'velocity', got '${bands.quantity}'; use convertSpectrum before oneThirdOctaveBands`
  fail('unsupported', within(scope, 'quantity'), says)
}

/** Levels held against limits, or null if they have no band in common. */
export function comparisonOf(levels: Map<number, number>, limits: Criterion): CriterionComparison | null {
  const ratios: BandRatio[] = []
  const missing: number[] = []
  limits.frequency.forEach((nominal, k) => {
    const rms = levels.get(Math.round(10 * Math.log10(nominal)))
    const limit = limits.velocity[k]
    if (rms === undefined) missing.push(nominal)
    else ratios.push({ nominal, rms, limit, ratio: rms / limit })
  })
  if (ratios.length === 0) return null
  const worst = ratios.reduce((most, entry) => (entry.ratio > most.ratio ? entry : most))
  return {
    kind: 'CriterionComparison',
    criterion: limits.name,
    edition: limits.edition,
    verdict: worst.rms <= worst.limit ? 'pass' : 'fail',
    worst,
    ratios,
    judged: [ratios[0].nominal, ratios[ratios.length - 1].nominal],
    missing,
  }
}

export function checkedCriterion(
  scope: Scope,
  value: Criterion | CriterionName,
  options: CompareToCriterionOptions,
): Criterion {
  checkOptions(scope, options, ['edition'])
  if (typeof value === 'string') return namedCriterion(scope, 'criterion', value, options)
  const at = within(scope, 'criterion')
  checkOptions(at, value, ['kind', 'name', 'edition', 'frequency', 'velocity'])
  checkOneOf(at, 'kind', value.kind, ['Criterion'])
  if (options.edition !== undefined) {
    fail('invalid-option', within(scope, 'edition'), 'must be left out unless the criterion is given by name')
  }
  if (typeof value.name !== 'string')
    fail('invalid-option', within(at, 'name'), `must be a text, got ${show(value.name)}`)
  if (value.edition !== null) checkOneOf(at, 'edition', value.edition, ['2005', '1991'])
  const frequency = checkGrid(at, 'frequency', value.frequency, { unit: 'Hz', above: 0 })
  frequency.forEach((nominal, k) => {
    checkedBandIndex(within(at, 'frequency'), k, nominal)
  })
  const velocity = Float64Array.from(checkNumbers(at, 'velocity', value.velocity, { unit: 'm/s', above: 0 }))
  checkSameLength(at, 'velocity', velocity, frequency)
  return { ...value, frequency, velocity }
}
