import { fail, scopeOf, show } from '../internal/check.js'
import type { Concept, IsolationModel } from '../isolation/model.js'
import { type Assessment, assess } from './assess.js'
import type { Site } from './site.js'

/** One candidate with its assessment and what a table shows of it. */
export interface ConceptRow {
  readonly name: string
  readonly concept: Concept
  readonly verdict: 'pass' | 'fail' | 'undecided'
  /** Largest ratio of payload velocity to the criterion; null without a steady state */
  readonly worstRatio: number | null
  /** Nominal band of that ratio [Hz] */
  readonly worstBand: number | null
  /** Largest |T| */
  readonly peak: number
  /** Frequency above which |T| stays below 1 [Hz] */
  readonly isolationFrom: number | null
  /** Least modulus margin of all loops; null without loops */
  readonly modulusMargin: number | null
  readonly assessment: Assessment
}

/** Candidates compared at one site. */
export interface ConceptComparison {
  readonly kind: 'ConceptComparison'
  /** Names: what passes before what fails, then fewer kinds of hardware, then the smaller worst ratio */
  readonly ranking: readonly string[]
  /** First of the ranking if it passes; null where nothing passes */
  readonly simplestThatPasses: string | null
  /** One row per candidate, in the order given */
  readonly table: readonly ConceptRow[]
}

/** Concepts by the number of kinds of hardware they need, fewest first. */
const simplicity: readonly Concept[] = [
  'passive',
  'pneumatic',
  'activelyDamped',
  'parallelActive',
  'seriesActive',
  'stacked',
]

/** Several models assessed at one site, ranked, with the simplest one that passes.
 *
 * Simple means fewer kinds of hardware: passive, pneumatic, actively damped, parallel active, series active, stacked. Cost
 * is not judged.
 * @param models - a list, named by concept and number, or a record of named models
 * @param site - see {@link Site}
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
): ConceptComparison {
  const scope = scopeOf('compareConcepts')
  if (typeof models !== 'object' || models === null) fail('invalid-option', scope, `needs models, got ${show(models)}`)
  const named = Array.isArray(models)
    ? (models as readonly IsolationModel[]).map((model, k): [string, IsolationModel] => [
        `${model?.concept} ${k + 1}`,
        model,
      ])
    : Object.entries(models as Readonly<Record<string, IsolationModel>>)
  if (named.length === 0) fail('invalid-option', scope, 'needs at least one model')
  const table = named.map(([name, model]) => rowOf(name, assess(model, site)))
  const ranked = [...table].sort(
    (a, b) =>
      Number(a.verdict === 'fail') - Number(b.verdict === 'fail') ||
      simplicity.indexOf(a.concept) - simplicity.indexOf(b.concept) ||
      (a.worstRatio ?? Number.MAX_VALUE) - (b.worstRatio ?? Number.MAX_VALUE),
  )
  return {
    kind: 'ConceptComparison',
    ranking: ranked.map(({ name }) => name),
    simplestThatPasses: ranked[0].verdict === 'pass' ? ranked[0].name : null,
    table,
  }
}

function rowOf(name: string, assessment: Assessment): ConceptRow {
  const { concept, verdict, payload, transmissibility, loops } = assessment
  const moduli = loops.map(({ margins }) => margins.modulusMargin)
  return {
    name,
    concept,
    verdict,
    worstRatio: payload?.worst.ratio ?? null,
    worstBand: payload?.worst.nominal ?? null,
    peak: transmissibility.peak,
    isolationFrom: transmissibility.isolationFrom,
    modulusMargin: moduli.length === 0 ? null : Math.min(...moduli),
    assessment,
  }
}
