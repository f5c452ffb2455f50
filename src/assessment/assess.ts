import { checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { compliance } from '../isolation/compliance.js'
import { type IsolationSummary, isolationSummary } from '../isolation/isolation-summary.js'
import { type LoopMargins, loopMargins } from '../isolation/loop-margins.js'
import type { Concept, IsolationModel } from '../isolation/model.js'
import { checkModel } from '../isolation/transmissibility.js'
import { stability } from '../systems/stability.js'
import type { Stability } from '../systems/types.js'
import { checkedCriterion, compareToCriterion } from '../vibration/compare-to-criterion.js'
import type { Criterion, CriterionComparison, CriterionName } from '../vibration/criterion-types.js'
import type { Bands } from '../vibration/types.js'
import { cautionsOf } from './cautions.js'
import { coveredBands } from './covered-bands.js'
import { type Effort, effortOf } from './effort.js'
import { drivesOf, type PredictPayloadOptions } from './predict-payload.js'
import { type Drive, predictedDensity } from './predicted-density.js'
import { reasonsOf } from './reasons.js'

/** Where an isolation has to work and what is asked of it. */
export interface Site extends PredictPayloadOptions {
  /** Limit on the payload's rms velocity in one-third-octave bands */
  readonly criterion: Criterion | CriterionName
  /** Least modulus margin of every loop, from 0 to 1. @defaultValue 0.5 (common practice, no source) */
  readonly minimumModulusMargin?: number
}

/** Verdict on one model at one site, with all it rests on. */
export interface Assessment {
  readonly kind: 'Assessment'
  readonly concept: Concept
  /** `'pass'` if the model is stable, no judged band is above the criterion, every loop keeps the least modulus margin and
   * no actuator needs more than its bound */
  readonly verdict: 'pass' | 'fail'
  /** Why, in sentences; what fails first */
  readonly reasons: readonly string[]
  readonly stability: Stability
  /** One-third-octave velocities of the floor [m/s] */
  readonly floorBands: Bands
  /** The floor held against the criterion */
  readonly floor: CriterionComparison
  /** One-third-octave velocities of the payload [m/s]; null without a steady state */
  readonly bands: Bands | null
  /** The payload held against the criterion; null without a steady state */
  readonly payload: CriterionComparison | null
  readonly transmissibility: IsolationSummary
  /** Static deflection of the payload per force [m/N]; null for a model that is not stable */
  readonly staticCompliance: number | null
  readonly loops: readonly LoopMargins[]
  /** Actuators held against their bounds; empty without a steady state */
  readonly effort: readonly Effort[]
  /** Settling after stage moves; null, since this site has none */
  readonly settling: null
  readonly cautions: readonly string[]
}

/** Whether a model keeps its payload within a criterion on a given floor, at what margin, and why.
 *
 * The payload spectrum is predicted with the resonances resolved, cut into one-third-octave bands and held against the
 * criterion band by band; every loop is opened for its margins; actuators are held against their bounds at three times
 * their rms. Bands that the floor record does not cover are named, not guessed.
 * @param model - of any concept; an unstable one fails
 * @param site - see {@link Site}
 * @returns see {@link Assessment}
 * @throws {@link IsolationError} `invalid-option`, `out-of-range` for a site that makes no sense or whose floor covers no
 * band of the criterion
 * @source H. Amick, M. Gendreau, T. Busch, C. Gordon, Proc. SPIE 5933 (2005) (criteria); common practice, no source, for
 * the least margin
 * @example
 * import { assess, passiveIsolation, spectrum, springMount } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [2e-6, 2e-6] })
 * const mount = springMount({ mass: 500, naturalFrequency: 3, dampingRatio: 0.1 })
 * assess(passiveIsolation({ payload: { mass: 500 }, mount }), { floor, criterion: 'VC-C' }).verdict // 'pass'
 */
export function assess(model: IsolationModel, site: Site): Assessment {
  const scope = scopeOf('assess')
  checkModel(scope, model)
  checkOptions(scope, site, ['floor', 'payloadForce', 'criterion', 'minimumModulusMargin', 'moves', 'tolerance'])
  refuseUnbuilt(scope, site)
  const least = checkOptional(scope, 'minimumModulusMargin', site.minimumModulusMargin, { atLeast: 0, atMost: 1 }, 0.5)
  const criterion = checkedCriterion(scope, site.criterion, {})
  const drives = drivesOf(scope, site)
  const floorBands = coveredBands(scope, drives[0].spectrum, criterion)
  const verdict = stability(model.closed)
  const steady = verdict.verdict === 'stable'
  const bands = steady ? payloadBands(scope, model, drives, criterion) : null
  const payload = bands === null ? null : compareToCriterion(bands, criterion)
  const loops = loopMargins(model)
  const effort = steady ? effortOf(scope, model, drives) : []
  const { failures, reasons } = reasonsOf({ stability: verdict, payload, loops, least, effort })
  return {
    kind: 'Assessment',
    concept: model.concept,
    verdict: failures === 0 ? 'pass' : 'fail',
    reasons,
    stability: verdict,
    floorBands,
    floor: compareToCriterion(floorBands, criterion),
    bands,
    payload,
    transmissibility: isolationSummary(model),
    staticCompliance: steady ? compliance(model, [0]).re[0] : null,
    loops,
    effort,
    settling: null,
    cautions: cautionsOf(model),
  }
}

/** What a site may hold but this version does not judge is refused, never passed over. */
function refuseUnbuilt(scope: Scope, site: object): void {
  for (const key of ['moves', 'tolerance']) {
    if (key in site) fail('unsupported', within(scope, key), 'is not judged by this version')
  }
}

function payloadBands(scope: Scope, model: IsolationModel, drives: readonly Drive[], criterion: Criterion): Bands {
  const { frequency, density } = predictedDensity(scope, model.closed, 'payloadVelocity', drives)
  return coveredBands(
    scope,
    { kind: 'Spectrum', quantity: 'velocity', frequency, density, support: 'points' },
    criterion,
  )
}
