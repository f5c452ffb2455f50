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
import { activeBandAlong } from '../isolation/active-band.js'
import { controlElements } from '../isolation/control-elements.js'
import { type Concept, concepts, type IsolationModel } from '../isolation/model.js'
import { type Assessment, assessed } from './assess.js'
import { digits } from './reasons.js'
import { portEnd, type Site } from './site.js'
import { type Change, whatWouldHaveToChange } from './what-would-have-to-change.js'

/** Options of {@link compareConcepts}. */
export interface CompareConceptsOptions {
  /** Cost of each candidate by name, in any unit of your own, at least 0; then what costs less ranks first among what passes.
   * @defaultValue cost is not judged */
  readonly cost?: Readonly<Record<string, number>>
  /** Margin to the criterion that counts as passing with margin [dB], at least 0. @defaultValue 3 (common practice, no source) */
  readonly marginDecibels?: number
  /** Where |T| is at least this many times smaller with the controllers than without, they help; at least 1.
   * @defaultValue 2 */
  readonly improvement?: number
  /** Whether to search, for each candidate that does not pass, what would have to change. @defaultValue 'search' */
  readonly changes?: 'search' | 'none'
}

/** One candidate with its assessment and what a table shows of it. */
export interface ConceptRow {
  readonly name: string
  readonly concept: Concept
  readonly verdict: 'pass' | 'fail' | 'undecided'
  /** Largest ratio of payload velocity to the criterion, of all axes; null without a steady state */
  readonly worstRatio: number | null
  /** Nominal band of that ratio [Hz] */
  readonly worstBand: number | null
  /** The same as a margin [dB], negative above the criterion; Infinity for silence */
  readonly marginDecibels: number | null
  /** Largest |T| */
  readonly peak: number
  /** Frequency above which |T| stays below 1 [Hz] */
  readonly isolationFrom: number | null
  /** Least modulus margin of all loops; null without loops */
  readonly modulusMargin: number | null
  /** Whether it is active control: an inertial sensor drives an actuator */
  readonly active: boolean
  /** Where its controllers help, intervals [from, to] in Hz */
  readonly activeBand: readonly (readonly [number, number])[]
  /** Of the user; null without */
  readonly cost: number | null
  /** What, changed by itself, would make it pass; empty for what passes or where it was not searched */
  readonly changes: readonly Change[]
  /** Why it ranks where it does */
  readonly reason: string
  readonly assessment: Assessment
}

/** Candidates compared at one site. */
export interface ConceptComparison {
  readonly kind: 'ConceptComparison'
  /** Names: what passes, then what is undecided, then what fails; then lower cost, if given; then fewer kinds of hardware;
   * then the smaller worst ratio */
  readonly ranking: readonly string[]
  /** The one of fewest kinds of hardware that passes; null where nothing passes */
  readonly simplestThatPasses: string | null
  /** The same among those that keep `marginDecibels` to the criterion */
  readonly simplestWithMargin: string | null
  /** One row per candidate, in the order given */
  readonly table: readonly ConceptRow[]
}

const verdicts = ['pass', 'undecided', 'fail'] as const

/** Several models assessed at one site, ranked, with the simplest one that passes and what would help the others.
 *
 * Simple means fewer kinds of hardware: passive, pneumatic, actively damped, parallel active, series active, stacked; six axes
 * count as what they contain. Cost is yours to give. For what does not pass, stiffness and damping of the mounts, their
 * dashpots (neither of these in six axes, where they are one block with gravity), the gain of each controller and the motion
 * of the floor are changed one at a time, each by the factor nearest to 1 with which the changed model passes all that the
 * site asks; a window of factors narrower than a third can be missed.
 * @param models - a list, named by concept and number, or a record of named models
 * @param site - see {@link Site}
 * @param options - see {@link CompareConceptsOptions}
 * @returns see {@link ConceptComparison}
 * @throws {@link IsolationError} `invalid-option` without any model, and the errors of `assess`
 * @source common practice, no source
 * @example
 * import { compareConcepts, passiveIsolation, spectrum } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [2e-6, 2e-6] })
 * const on = (stiffness: number) => passiveIsolation({ payload: { mass: 100 }, mount: { stiffness, damping: 300 } })
 * compareConcepts({ soft: on(1e4), stiff: on(1e6) }, { floor, criterion: 'VC-C' }).simplestThatPasses // 'soft'
 */
export function compareConcepts(
  models: readonly IsolationModel[] | Readonly<Record<string, IsolationModel>>,
  site: Site,
  options: CompareConceptsOptions = {},
): ConceptComparison {
  const scope = scopeOf('compareConcepts')
  if (typeof models !== 'object' || models === null) fail('invalid-option', scope, `needs models, got ${show(models)}`)
  const named = Array.isArray(models)
    ? Array.from(models as readonly IsolationModel[], (model, k): [string, IsolationModel] => [
        `${model?.concept} ${k + 1}`,
        model,
      ])
    : Object.entries(models as Readonly<Record<string, IsolationModel>>)
  if (named.length === 0) fail('invalid-option', scope, 'needs at least one model')
  const asked = checkedOptions(
    scope,
    options,
    named.map(([name]) => name),
  )
  const rows = named.map(([name, model]) => ({ row: rowOf(scope, name, model, site, asked), kinds: kindsOf(model) }))
  const simplest = (list: readonly ConceptRow[]) =>
    [...rows]
      .filter(({ row }) => list.includes(row))
      .sort((a, b) => a.kinds - b.kinds || ratio(a.row) - ratio(b.row))[0]?.row.name ?? null
  const passing = rows.map(({ row }) => row).filter(({ verdict }) => verdict === 'pass')
  const ranked = [...rows].sort(
    (a, b) =>
      verdicts.indexOf(a.row.verdict) - verdicts.indexOf(b.row.verdict) ||
      (a.row.cost ?? 0) - (b.row.cost ?? 0) ||
      a.kinds - b.kinds ||
      ratio(a.row) - ratio(b.row),
  )
  return {
    kind: 'ConceptComparison',
    ranking: ranked.map(({ row }) => row.name),
    simplestThatPasses: simplest(passing),
    simplestWithMargin: simplest(passing.filter((row) => (row.marginDecibels as number) >= asked.marginDecibels)),
    table: rows.map(({ row }) => row),
  }
}

interface Asked {
  readonly cost: Readonly<Record<string, number>>
  readonly marginDecibels: number
  readonly improvement: number
  readonly search: boolean
}

function checkedOptions(scope: Scope, options: CompareConceptsOptions, names: readonly string[]): Asked {
  checkOptions(scope, options, ['cost', 'marginDecibels', 'improvement', 'changes'])
  const at = within(scope, 'cost')
  const { cost } = options
  if (cost !== undefined) {
    checkOptions(at, cost, names)
    for (const name of names) checkNumber(at, name, cost[name], { atLeast: 0 })
  }
  return {
    cost: cost ?? {},
    marginDecibels: checkOptional(scope, 'marginDecibels', options.marginDecibels, { unit: 'dB', atLeast: 0 }, 3),
    improvement: checkOptional(scope, 'improvement', options.improvement, { atLeast: 1 }, 2),
    search: checkOneOf(scope, 'changes', options.changes ?? 'search', ['search', 'none']) === 'search',
  }
}

/** Number of kinds of hardware. */
function kindsOf({ concept, diagram }: IsolationModel): number {
  if (concept !== 'sixAxis') return concepts.indexOf(concept)
  const roles = Object.values(diagram.blocks).map(({ role }) => role)
  return roles.includes('controller') ? 2 : roles.includes('valve') ? 1 : 0
}

function ratio({ worstRatio }: ConceptRow): number {
  return worstRatio ?? Number.MAX_VALUE
}

function rowOf(scope: Scope, name: string, model: IsolationModel, site: Site, asked: Asked): ConceptRow {
  const { assessment, atSite } = assessed(scope, model, site)
  const { concept, verdict, payload, transmissibility, loops, axis, reasons } = assessment
  const moduli = loops.map(({ margins }) => margins.modulusMargin)
  const cost = asked.cost[name] ?? null
  const changes = verdict === 'pass' || !asked.search ? [] : whatWouldHaveToChange(scope, model, site, axis, atSite)
  return {
    name,
    concept,
    verdict,
    worstRatio: payload?.worst.ratio ?? null,
    worstBand: payload?.worst.nominal ?? null,
    marginDecibels: payload?.marginDecibels ?? null,
    peak: transmissibility.peak,
    isolationFrom: transmissibility.isolationFrom,
    modulusMargin: moduli.length === 0 ? null : Math.min(...moduli),
    active: controlElements(model).active,
    activeBand: activeBandAlong(scope, model, portEnd(model, axis), asked.improvement),
    cost,
    changes,
    reason: `${{ pass: 'passes', fail: 'fails', undecided: 'undecided' }[verdict]}: ${reasons[0]}${cost === null ? '' : `; cost ${digits(cost)}`}`,
    assessment,
  }
}
