import { checkFunction, checkNumber, checkOneOf, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { randomNumbers } from '../internal/random-numbers.js'
import { type RobustStability, robustStabilityOf } from '../systems/robust-stability.js'
import type { LinearSystem } from '../systems/types.js'
import { type Spread, spreadOf, type Tolerance } from './tolerance.js'
import {
  type Envelope,
  envelopeOf,
  type Influence,
  influenceOf,
  type ValueSpread,
  valueSpreads,
  type Yield,
  yieldOf,
} from './tolerance-summary.js'
import { type ToleranceOutcome, type Trial, trialOf } from './tolerance-trial.js'

/** Options of {@link toleranceStudy}. */
export interface ToleranceStudyOptions<P extends string> {
  /** Parameters with their widths, at least one */
  readonly tolerances: { readonly [K in P]: Tolerance }
  /** Number of random samples, 1 to 1 000 000 */
  readonly samples: number
  /** Start of the random row, a whole number from 0 below 2³²; the same seed gives the same study */
  readonly seed: number
  /** What one set of parameters comes to: passed or not, or more; an error of this package counts as not passed */
  readonly evaluate: (parameters: { readonly [K in P]: number }) => ToleranceOutcome | boolean
  /** Also every combination of ends (up to 12 parameters), each end alone, or none.
   * @defaultValue 'all' up to six parameters, 'one-at-a-time' beyond */
  readonly corners?: 'all' | 'one-at-a-time' | 'none'
  /** The closed system of one set of parameters, such as `closed` of a model: asks for what `robustStability` can prove over the
   * whole box, for up to six parameters. @defaultValue nothing is proved */
  readonly system?: (parameters: { readonly [K in P]: number }) => LinearSystem
}

/** What a design keeps of its promise over the tolerances of its parameters. */
export interface ToleranceStudy {
  readonly kind: 'ToleranceStudy'
  readonly nominal: Trial
  /** Share of the random samples that pass */
  readonly yield: Yield
  /** Combinations of ends: how many were tried, and those that do not pass */
  readonly corners: { readonly tried: number; readonly failing: readonly Trial[] }
  /** Spread of every value over samples and corners */
  readonly values: { readonly [name: string]: ValueSpread }
  /** Lowest and highest |T| of everything tried; null without a transmissibility */
  readonly envelope: Envelope | null
  /** Parameters by their rank correlation with each value, the strongest first; `pass` counts as 1 and 0 */
  readonly influence: { readonly [value: string]: readonly Influence[] }
  /** Up to ten random samples that do not pass */
  readonly failures: readonly Trial[]
  /** Whether every system of the box is stable, the ends of all tolerances included; null without a `system` */
  readonly stability: RobustStability | null
}

/** Yield, worst corners, envelope and the parameters that matter, when parameters stray within their tolerances.
 *
 * Random samples are independent, so that the yield has a confidence interval (Wilson score, 95 %); corners are worst
 * cases, not samples, and do not count in it. Between what was tried nothing is proved, a corner that passes does not
 * show that the whole box does; but for stability, given the `system`, see {@link robustStability}.
 * @param options - see {@link ToleranceStudyOptions}
 * @returns see {@link ToleranceStudy}
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`; what `evaluate` throws other than errors of this package;
 * `invalid-option` where its outcomes do not match each other
 * @source E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212 (interval); C. Spearman, Am. J. Psychol. 15 (1904) 72-101
 * @example
 * import { naturalFrequency, toleranceStudy } from 'restmass'
 * const study = toleranceStudy({
 *   tolerances: { mass: { nominal: 100, relative: 0.2 }, stiffness: { nominal: 1e4, relative: 0.1 } },
 *   samples: 500,
 *   seed: 1,
 *   evaluate: (point) => ({ pass: naturalFrequency(point) < 1.7, values: { frequency: naturalFrequency(point) } }),
 * })
 * study.influence.frequency[0].parameter // 'mass'
 */
export function toleranceStudy<P extends string>(options: ToleranceStudyOptions<P>): ToleranceStudy {
  const scope = scopeOf('toleranceStudy')
  checkOptions(scope, options, ['tolerances', 'samples', 'seed', 'evaluate', 'corners', 'system'])
  const inner = within(scope, 'tolerances')
  checkOptions(inner, options.tolerances, Object.keys(options.tolerances ?? {}))
  const spreads = Object.entries<Tolerance>(options.tolerances).map(([name, tolerance]) =>
    spreadOf(within(inner, name), name, tolerance),
  )
  if (spreads.length === 0) fail('invalid-option', inner, 'must name at least one parameter')
  const samples = checkNumber(scope, 'samples', options.samples, { integer: true, atLeast: 1, atMost: 1e6 })
  const random = randomNumbers(checkNumber(scope, 'seed', options.seed, { integer: true, atLeast: 0, below: 2 ** 32 }))
  checkFunction(scope, 'evaluate', options.evaluate)
  const which = checkOneOf(scope, 'corners', options.corners ?? (spreads.length > 6 ? 'one-at-a-time' : 'all'), [
    'all',
    'one-at-a-time',
    'none',
  ])
  if (which === 'all' && spreads.length > 12) {
    fail('out-of-range', within(scope, 'corners'), `are more than 4096 for ${spreads.length} parameters`)
  }
  const { system } = options
  if (system !== undefined) checkFunction(scope, 'system', system)
  if (system !== undefined && spreads.length > 6) {
    fail('out-of-range', within(scope, 'system'), `can be proven for up to 6 parameters, got ${spreads.length}`)
  }
  const at = (positions: readonly number[]) => trialOf(scope, spreads, positions, options.evaluate)
  const nominal = at(spreads.map(() => 0))
  const drawn = Array.from({ length: samples }, () => at(spreads.map(({ draw }) => draw(random))))
  const ends = cornersOf(spreads, which).map(at)
  const everything = [nominal, ...drawn, ...ends]
  return {
    kind: 'ToleranceStudy',
    nominal: nominal.trial,
    yield: yieldOf(drawn),
    corners: { tried: ends.length, failing: ends.filter(({ trial }) => !trial.pass).map(({ trial }) => trial) },
    values: valueSpreads(scope, everything),
    envelope: envelopeOf(scope, everything),
    influence: influenceOf(spreads, drawn),
    failures: drawn
      .filter(({ trial }) => !trial.pass)
      .slice(0, 10)
      .map(({ trial }) => trial),
    stability:
      system === undefined
        ? null
        : robustStabilityOf<string>(scope, { box: boxOf(spreads), system: system as (point: object) => LinearSystem }),
  }
}

function boxOf(spreads: readonly Spread[]): { [name: string]: [number, number] } {
  return Object.fromEntries(
    spreads.map(({ name, at }) => [name, [Math.min(at(-1), at(1)), Math.max(at(-1), at(1))] as [number, number]]),
  )
}

function cornersOf(spreads: readonly Spread[], which: 'all' | 'one-at-a-time' | 'none'): number[][] {
  if (which === 'none') return []
  if (which === 'one-at-a-time') {
    return spreads.flatMap((_, k) => [-1, 1].map((end) => spreads.map((__, other) => (other === k ? end : 0))))
  }
  return Array.from({ length: 2 ** spreads.length }, (_, bits) => spreads.map((__, k) => ((bits >> k) & 1 ? 1 : -1)))
}
