import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  checkRecord,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { leastOf } from '../internal/extremes.js'
import { fourDigits } from '../internal/four-digits.js'
import { activeBand } from '../isolation/active-band.js'
import { loopMargins } from '../isolation/loop-margins.js'
import type { IsolationModel } from '../isolation/model.js'
import {
  type ActiveStageOptions,
  type SeriesActiveIsolationOptions,
  seriesActiveIsolation,
} from '../isolation/series-active-isolation.js'
import { openLoop } from '../systems/open-loop.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { gainAtMargin } from './gain-at-margin.js'
import { drivesOf } from './predict-payload.js'
import type { Drive } from './predicted-density.js'
import { type Corners, controllerOf, searched, start } from './series-stage-search.js'
import { stageTrials } from './series-stage-trials.js'
import { checkRange, payloadRms, type Tuning, type TuningTrial } from './tuning.js'

/** A series stage whose controller is to be found. */
export interface SeriesStageDesign extends Omit<SeriesActiveIsolationOptions, 'activeStage'> {
  /** The stage, without its controller and with its sensor on it */
  readonly activeStage: Omit<ActiveStageOptions, 'controller' | 'sensorLocation'>
}

/** Options of {@link tuneSeriesStage}. */
export interface TuneSeriesStageOptions {
  /** Modulus margin to keep, above 0 and below 1. @defaultValue 0.5 */
  readonly modulusMargin?: number
  /** How many times smaller |T| is to be than without control, above 1. @defaultValue 2 */
  readonly improvement?: number
  /** Where the active band counts, lowest and highest frequency [Hz], above 0; corners stay within a decade of it.
   * @defaultValue [0.3, 1000] */
  readonly band?: readonly [number, number]
  /** Relative tolerance of payload mass, mount stiffness and actuator stiffness, each way, at least 0 and below 1; the gain is
   * lowered until every corner of it keeps the margin. @defaultValue 0 */
  readonly tolerance?: number
  /** `'band'`: the widest active band; `'rms'`: the least rms velocity of the payload, which needs `floor`.
   * @defaultValue 'band' */
  readonly objective?: 'band' | 'rms'
  /** Motion of the floor: acceleration, velocity or displacement; the rms of the payload is that under the floor and the noise of
   * sensor and actuators, as far as it is known. @defaultValue none */
  readonly floor?: Spectrum | SpectrumLiteral
  /** Largest rms velocity of the payload [m/s], above 0; needs `floor`. @defaultValue none */
  readonly maxRms?: number
}

/** Controller of a series stage, from velocity to expansion, with the widest active band at a given margin:
 * gain · 1/(s + ω_h) · ω_l/(s + ω_l) · (1 + s/ω_lead)/(1 + s/ω_lag).
 *
 * For each set of corners the gain is the largest that keeps the margin, or less of it where the rms of the payload asks for that;
 * the widest band in octaves wins, or the least rms, first on a coarse grid, then by steps of each knob up and down. It leads where
 * `leadCorner` is below `lagCorner`. The search finds a good design, not provably the best one. Without `floor` it knows nothing of
 * sensor noise, which high gain at low frequency amplifies. Piezo drives carry high voltage: follow local electrical-safety codes.
 * @param design - see {@link SeriesStageDesign}
 * @param options - see {@link TuneSeriesStageOptions}
 * @returns parameters `gain`, `highPass`, `lowPass`, `leadCorner`, `lagCorner` [Hz]; outcome `nominalGain` (without
 * tolerance), `modulusMargin`, `activeFrom` and `activeTo` [Hz] as designed, `worstModulusMargin`, `worstActiveFrom` and
 * `worstActiveTo` [Hz] at the worst corner of the tolerance; with a floor also `rms` as designed, `worstRms` and `uncontrolledRms`
 * [m/s]; null where no design keeps `maxRms`. The objective of what was tried is minus the octaves, or the rms
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `no-convergence` with a delay of a second or more, and those of
 * `seriesActiveIsolation`
 * @source common practice, no source: loop shaping at a modulus margin
 * @example
 * import { tuneSeriesStage } from 'restmass'
 * const activeStage = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }, delay: 1e-4 }
 * const tuned = tuneSeriesStage({ payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4, activeStage })
 * tuned.limitedBy // 'modulusMargin'
 */
export function tuneSeriesStage(design: SeriesStageDesign, options: TuneSeriesStageOptions = {}): Tuning {
  const scope = scopeOf('tuneSeriesStage')
  checkRecord(within(scope, 'design'), design)
  checkOptions(scope, options, ['modulusMargin', 'improvement', 'band', 'tolerance', 'objective', 'floor', 'maxRms'])
  const margin = checkOptional(scope, 'modulusMargin', options.modulusMargin, { above: 0, below: 1 }, 0.5)
  const improvement = checkOptional(scope, 'improvement', options.improvement, { above: 1 }, 2)
  const [from, to] = checkRange(scope, 'band', options.band ?? [0.3, 1000], 'Hz')
  const tolerance = checkOptional(scope, 'tolerance', options.tolerance, { atLeast: 0, below: 1 }, 0)
  const objective = checkOneOf(scope, 'objective', options.objective ?? 'band', ['band', 'rms'])
  const drives = options.floor === undefined ? null : drivesOf(scope, { floor: options.floor })
  const maxRms = checkOptional(scope, 'maxRms', options.maxRms, { unit: 'm/s', above: 0 }, null)
  if (drives === null && (maxRms !== null || objective === 'rms'))
    fail('invalid-option', within(scope, 'floor'), "is needed with maxRms and with the objective 'rms'")
  const stage: Partial<ActiveStageOptions> = checkRecord(within(scope, 'design.activeStage'), design.activeStage)
  if (stage.controller !== undefined || stage.sensorLocation !== undefined) {
    fail(
      'invalid-option',
      within(scope, 'activeStage'),
      'must be without controller and sensorLocation, which are found',
    )
  }
  const all = tolerance === 0 ? [] : toleranceCorners(scope, design, tolerance)
  const limit = (each: SeriesStageDesign, corners: Corners) =>
    gainAtMargin(scope, openLoop(modelOf(each, corners, 1).diagram, 'actuator.expansion'), margin)
  const tried: TuningTrial[] = []
  const trial = stageTrials(scope, modelOf(design, start, 1), { margin, improvement, band: [from, to], drives })
  const excess = (rms: number | null) => Math.max(0, (rms ?? 0) / (maxRms ?? Number.POSITIVE_INFINITY) - 1)
  const best = searched(
    ({ share, ...corners }) => {
      const found = trial(corners, share)
      if (found === null) return Number.POSITIVE_INFINITY
      const { gain, modulusMargin, octaves, rms } = found
      const value = objective === 'rms' ? (rms as number) : -octaves
      tried.push({ parameters: { gain, ...corners }, objective: value, modulusMargin, feasible: excess(rms) === 0 })
      // Beyond the bound the way back to it counts alone.
      return excess(rms) > 0 ? 1e3 * (1 + excess(rms)) : value
    },
    [from / 10, to * 10],
    drives === null || (objective === 'band' && maxRms === null) ? 1 : leastShare,
  )
  const { share, ...corners } = best
  const nominal = limit(design, corners)
  const tightest = [nominal, ...all.map((each) => limit(each, corners))].reduce((a, b) => (b.factor < a.factor ? b : a))
  const gain = share * tightest.factor
  const judge = (each: SeriesStageDesign) => judged(scope, modelOf(each, corners, gain), improvement, drives)
  const designed = judge(design)
  const { rms = 0 } = designed
  if (maxRms !== null && rms > maxRms) {
    const least = `at ${fourDigits(rms)} m/s the least rms found is above ${fourDigits(maxRms)} m/s`
    return { kind: 'Tuning', parameters: null, outcome: null, limitedBy: 'maxRms', reason: least, tried }
  }
  const worst = all.map(judge).reduce(worse, designed)
  return {
    kind: 'Tuning',
    parameters: { gain, ...corners },
    outcome: {
      nominalGain: share * nominal.factor,
      ...designed,
      worstModulusMargin: worst.modulusMargin,
      worstActiveFrom: worst.activeFrom,
      worstActiveTo: worst.activeTo,
      ...(drives === null
        ? {}
        : { worstRms: worst.rms as number, uncontrolledRms: payloadRms(scope, modelOf(design, start, 0), drives) }),
    },
    ...limitOf(objective, share, tried, tightest.frequency),
    tried,
  }
}

/** What keeps the best of all that was tried from being better, where that took a share of the gain at the margin.
 * @param frequency - where the margin is met [Hz] */
function limitOf(
  objective: 'band' | 'rms',
  share: number,
  tried: readonly TuningTrial[],
  frequency: number,
): Pick<Tuning, 'limitedBy' | 'reason'> {
  const least = (feasible: boolean) =>
    leastOf(tried.filter((each) => each.feasible === feasible).map((each) => each.objective as number))
  if (least(false) < least(true)) return { limitedBy: 'maxRms', reason: 'the rms of the payload allows no wider band' }
  if (share === 1)
    return { limitedBy: 'modulusMargin', reason: `the loop at ${fourDigits(frequency)} Hz allows no more gain` }
  const best =
    objective === 'rms'
      ? 'the rms of the payload is least here: more gain adds more noise than it takes from the floor'
      : 'the band is widest here: more gain makes it no wider'
  return { limitedBy: null, reason: best }
}

/** Share of the gain at the margin that is tried at least. */
const leastShare = 1e-3

function modelOf(design: SeriesStageDesign, corners: Corners, gain: number): IsolationModel {
  const controller = controllerOf(corners, gain)
  return seriesActiveIsolation({
    ...design,
    activeStage: { ...design.activeStage, sensorLocation: 'activeStage', controller },
  })
}

interface Judged {
  readonly modulusMargin: number
  readonly activeFrom: number
  readonly activeTo: number
  /** Only with a floor */
  readonly rms?: number
}

function judged(scope: Scope, model: IsolationModel, improvement: number, drives: readonly Drive[] | null): Judged {
  const bands = activeBand(model, { improvement })
  const [activeFrom, activeTo] = bands.reduce(
    (widest, band) => (band[1] / band[0] > widest[1] / widest[0] ? band : widest),
    bands[0] ?? [0, 0],
  )
  const { modulusMargin } = loopMargins(model)[0].margins
  return { modulusMargin, activeFrom, activeTo, ...(drives === null ? {} : { rms: payloadRms(scope, model, drives) }) }
}

function worse(a: Judged, b: Judged): Judged {
  return {
    modulusMargin: Math.min(a.modulusMargin, b.modulusMargin),
    activeFrom: Math.max(a.activeFrom, b.activeFrom),
    activeTo: Math.min(a.activeTo, b.activeTo),
    ...(a.rms === undefined ? {} : { rms: Math.max(a.rms, b.rms as number) }),
  }
}

/** The design with payload mass, mount stiffness and actuator stiffness each at both ends of their tolerance. */
function toleranceCorners(scope: Scope, design: SeriesStageDesign, tolerance: number): SeriesStageDesign[] {
  const { payload, mount, activeStage } = design
  if (mount.kind === 'AirSpring') {
    fail('unsupported', within(scope, 'tolerance'), 'is not for air springs, whose stiffness follows their load')
  }
  const actuator = activeStage.actuator
  checkNumber(within(scope, 'activeStage.actuator'), 'stiffness', actuator?.stiffness, { unit: 'N/m', above: 0 })
  const ends = [1 - tolerance, 1 + tolerance]
  return ends.flatMap((mass) =>
    ends.flatMap((spring) =>
      ends.map((stiff) => ({
        ...design,
        payload: { ...payload, mass: payload.mass * mass },
        mount: { ...mount, stiffness: mount.stiffness * spring },
        activeStage: { ...activeStage, actuator: { ...actuator, stiffness: actuator.stiffness * stiff } },
      })),
    ),
  )
}
