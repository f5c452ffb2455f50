import { checkOptional, checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { checkModel } from '../isolation/check-model.js'
import { type LoopMargins, loopMarginsOf } from '../isolation/loop-margins.js'
import type { Concept, IsolationModel } from '../isolation/model.js'
import { simultaneousLoopMargin } from '../isolation/simultaneous-loop-margin.js'
import { gainLimits } from '../systems/gain-limits.js'
import { openLoop } from '../systems/open-loop.js'
import type { SimultaneousMargin } from '../systems/simultaneous-margin.js'
import { stability } from '../systems/stability.js'
import type { Stability } from '../systems/types.js'
import { checkedCriterion, checkVelocityBands } from '../vibration/compare-to-criterion.js'
import { evidenceOf } from '../vibration/level-evidence.js'
import type { Averaging } from '../vibration/types.js'
import { cautionsOf } from './cautions.js'
import { type Effort, effortOf } from './effort.js'
import { type AxisAssessment, judgeAxis, type SiteConditions } from './judge-axis.js'
import { checkMoves, judgeMoves, type SettledMove } from './judge-moves.js'
import { type MotionFinding, motionOf } from './motion-tolerance.js'
import { noiseDrives } from './noise-budget.js'
import { checkedVelocity } from './predict-payload.js'
import { reasonsOf } from './reasons.js'
import { type JudgedAxis, type Site, siteAxes, siteKeys } from './site.js'

/** Common practice, no source */
const leastModulusMargin = 0.5

/** Verdict on one model at one site, with all it rests on: along the axis that decides, and beside it the others. */
export interface Assessment extends AxisAssessment {
  readonly kind: 'Assessment'
  readonly concept: Concept
  /** `'pass'` if the model is stable, no judged band is above the criterion, every loop keeps the least modulus margin, no
   * actuator needs more than its bound, and moves and tool tolerance are kept; `'undecided'` where only bands are open that
   * the length of the record or the noise of its sensor leaves open */
  readonly verdict: 'pass' | 'fail' | 'undecided'
  /** Why, in sentences; what fails first */
  readonly reasons: readonly string[]
  readonly stability: Stability
  /** The other axes of a model of six, the nearest to its limit first; empty for a model of one */
  readonly otherAxes: readonly AxisAssessment[]
  readonly loops: readonly LoopMargins[]
  /** What all loops bear at once, with delay without the proof that `simultaneousLoopMargin` gives; null without loops */
  readonly allLoops: SimultaneousMargin | null
  /** Actuators held against their bounds; empty without a steady state */
  readonly effort: readonly Effort[]
  /** Settling after each move; empty without moves or a steady state */
  readonly settling: readonly SettledMove[]
  /** Motion held against what the tool bears; null where nothing is asked, or without a steady state */
  readonly tolerance: MotionFinding | null
  readonly cautions: readonly string[]
}

/** Whether a model keeps its payload within a criterion on a given floor, at what margin, and why.
 *
 * The payload spectrum is predicted with the resonances resolved, cut into one-third-octave bands and held against the
 * criterion band by band, with the noise of sensors and actuators as far as it is known; every loop is opened for its margins;
 * actuators are held against their bounds at three times their rms and what the moves need on top; every move must settle,
 * and the tool keep within its tolerance. Bands that the floor record does not cover are named, not guessed.
 * @param model - of any concept; an unstable one fails
 * @param site - see {@link Site}
 * @returns see {@link Assessment}
 * @throws {@link IsolationError} `invalid-option`, `out-of-range` for a site that makes no sense or whose floor covers no
 * band of the criterion; `unsupported`, `unknown-port` for moves and tools of another model
 * @source H. Amick, M. Gendreau, T. Busch, C. Gordon, Proc. SPIE 5933 (2005) (criteria); common practice, no source, for
 * the least margin
 * @example
 * import { assess, passiveIsolation, spectrum, springMount } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [2e-6, 2e-6] })
 * const mount = springMount({ mass: 500, naturalFrequency: 3, dampingRatio: 0.1 })
 * assess(passiveIsolation({ payload: { mass: 500 }, mount }), { floor, criterion: 'VC-C' }).verdict // 'pass'
 */
export function assess(model: IsolationModel, site: Site): Assessment {
  return assessed(scopeOf('assess'), model, site).assessment
}

/** What a site is to one model. */
export interface ModelAtSite {
  readonly axes: readonly JudgedAxis[]
  readonly conditions: SiteConditions
  /** Least modulus margin */
  readonly least: number
}

/** The same for another function, with what the site is to the model. */
export function assessed(
  scope: Scope,
  model: IsolationModel,
  site: Site,
): { readonly assessment: Assessment; readonly atSite: ModelAtSite } {
  checkModel(scope, model)
  checkOptions(scope, site, siteKeys)
  checkMoves(scope, site.moves, site.settling)
  const range = { atLeast: 0, atMost: 1 }
  const least = checkOptional(scope, 'minimumModulusMargin', site.minimumModulusMargin, range, leastModulusMargin)
  const { axes, conditions, verdict } = conditionsOf(scope, model, site)
  const { steady, drives, noise } = conditions
  const judged = axes.map((axis) => judgeAxis(scope, model, axis, conditions)).sort((a, b) => nearness(b) - nearness(a))
  const moves = steady ? judgeMoves(scope, model, site.moves, site.settling) : { settled: [], extents: null }
  const findings = {
    stability: verdict,
    axes: judged,
    loops: loopMarginsOf(model, verdict.verdict),
    least,
    effort: steady ? effortOf(scope, model, [...drives, ...noise], moves.extents) : [],
    settling: moves.settled,
    tolerance:
      steady && site.tolerance !== undefined
        ? motionOf(within(scope, 'tolerance'), model, site.tolerance, [...drives, ...noise])
        : null,
  }
  const [deciding, ...otherAxes] = judged
  const { axes: _axes, least: _least, ...carried } = findings
  const assessment: Assessment = {
    kind: 'Assessment',
    concept: model.concept,
    ...reasonsOf(findings, (port) => diagnosisOf(model, port)),
    ...deciding,
    ...carried,
    otherAxes,
    allLoops: model.loops.length === 0 ? null : simultaneousLoopMargin(model, { proof: 'without-delay' }),
    cautions: cautionsOf(model, site.moves !== undefined),
  }
  return { assessment, atSite: { axes, conditions, least } }
}

/** At which gains a loop would be stable, the other loops as they are. */
function diagnosisOf({ diagram, loops }: IsolationModel, port: string): string {
  const { diagnosis } = gainLimits(openLoop(diagram, port))
  return loops.length > 1 ? `${diagnosis}; the other loops left as they are` : diagnosis
}

/** The site checked, as it acts on a model. */
function conditionsOf(
  scope: Scope,
  model: IsolationModel,
  site: Site,
): { readonly axes: readonly JudgedAxis[]; readonly conditions: SiteConditions; readonly verdict: Stability } {
  const { axes, drives } = siteAxes(scope, model, site)
  const verdict = stability(model.closed)
  const { duration, confidence, sensorNoise } = site
  const criterion = checkedCriterion(scope, site.criterion, {})
  const statistic = site.statistic ?? statisticOf(axes[0].floor.average)
  const evidence = {
    ...(duration === undefined ? {} : { duration }),
    ...(confidence === undefined ? {} : { confidence }),
  }
  evidenceOf(scope, { ...evidence, statistic }, criterion, checkVelocityBands)
  return {
    axes,
    verdict,
    conditions: {
      criterion,
      statistic,
      evidence,
      sensorNoise: sensorNoise === undefined ? null : checkedVelocity(within(scope, 'sensorNoise'), sensorNoise),
      drives,
      noise: noiseDrives(model.noiseSources, 'nothing'),
      steady: verdict.verdict === 'stable',
    },
  }
}

function statisticOf(average: Averaging | undefined): SiteConditions['statistic'] {
  return average === 'maximum' || average === 'percentile' ? average : 'average'
}

/** How near an axis is to its limit; that of the floor where there is no steady state. */
function nearness({ payload, floor }: AxisAssessment): number {
  return (payload ?? floor).worst.ratio
}
