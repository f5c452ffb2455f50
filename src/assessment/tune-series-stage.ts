import {
  checkNumber,
  checkOptional,
  checkOptions,
  checkRecord,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { fourDigits } from '../internal/four-digits.js'
import { activeBand } from '../isolation/active-band.js'
import { loopMargins } from '../isolation/loop-margins.js'
import type { IsolationModel } from '../isolation/model.js'
import {
  type ActiveStageOptions,
  type SeriesActiveIsolationOptions,
  seriesActiveIsolation,
} from '../isolation/series-active-isolation.js'
import { transmissibility } from '../isolation/transmissibility.js'
import { leadLag } from '../systems/lead-lag.js'
import { logFrequencies } from '../systems/log-frequencies.js'
import { openLoop } from '../systems/open-loop.js'
import { series } from '../systems/series.js'
import { magnitude } from '../systems/series-values.js'
import { transferFunction } from '../systems/transfer-function.js'
import type { StateSpace } from '../systems/types.js'
import { gainAtMargin } from './gain-at-margin.js'
import { checkRange, type Tuning, type TuningTrial } from './tuning.js'

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
}

interface Corners {
  readonly highPass: number
  readonly lowPass: number
  readonly leadCorner: number
  readonly lagCorner: number
}

type Name = keyof Corners

const names: readonly Name[] = ['highPass', 'lowPass', 'leadCorner', 'lagCorner']

/** Controller of a series stage, from velocity to expansion, with the widest active band at a given margin:
 * gain · 1/(s + ω_h) · ω_l/(s + ω_l) · (1 + s/ω_lead)/(1 + s/ω_lag).
 *
 * For each set of corners the gain is the largest that keeps the margin; the widest band in octaves wins, first on a coarse
 * grid, then by steps of each corner up and down. It leads where `leadCorner` is below `lagCorner`. The search finds a good
 * design, not provably the best one, and knows nothing of sensor noise, which high gain at low frequency amplifies: read
 * the noise of the model before building it. Piezo drives carry high voltage: follow local electrical-safety codes.
 * @param design - see {@link SeriesStageDesign}
 * @param options - see {@link TuneSeriesStageOptions}
 * @returns parameters `gain`, `highPass`, `lowPass`, `leadCorner`, `lagCorner` [Hz]; outcome `nominalGain` (without
 * tolerance), `modulusMargin`, `activeFrom` and `activeTo` [Hz] as designed, `worstModulusMargin`, `worstActiveFrom` and
 * `worstActiveTo` [Hz] at the worst corner of the tolerance; the objective of what was tried is minus the octaves
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, and those of `seriesActiveIsolation`
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
  checkOptions(scope, options, ['modulusMargin', 'improvement', 'band', 'tolerance'])
  const margin = checkOptional(scope, 'modulusMargin', options.modulusMargin, { above: 0, below: 1 }, 0.5)
  const improvement = checkOptional(scope, 'improvement', options.improvement, { above: 1 }, 2)
  const [from, to] = checkRange(scope, 'band', options.band ?? [0.3, 1000], 'Hz')
  const tolerance = checkOptional(scope, 'tolerance', options.tolerance, { atLeast: 0, below: 1 }, 0)
  checkOptions(within(scope, 'design'), design, Object.keys(design ?? {}))
  checkOptions(within(scope, 'design.activeStage'), design.activeStage, Object.keys(design.activeStage ?? {}))
  const stage = design.activeStage as Partial<ActiveStageOptions> | undefined
  if (stage?.controller !== undefined || stage?.sensorLocation !== undefined) {
    fail(
      'invalid-option',
      within(scope, 'activeStage'),
      'must be without controller and sensorLocation, which are found',
    )
  }
  const limit = (each: SeriesStageDesign, corners: Corners) =>
    gainAtMargin(scope, openLoop(modelOf(each, corners, 1).diagram, 'actuator.expansion'), margin)
  const grid = logFrequencies({ from, to, count: 241 })
  const still = magnitude(transmissibility(modelOf(design, start, 0), grid))
  const tried: TuningTrial[] = []
  const judge = (corners: Corners): number => {
    const gain = limit(design, corners).factor
    const moved = magnitude(transmissibility(modelOf(design, corners, gain), grid))
    const objective = -widest(
      grid,
      still.map((value, k) => Math.log(value / moved[k] / improvement)),
    )
    tried.push({ parameters: { gain, ...corners }, objective, modulusMargin: margin, feasible: true })
    return objective
  }
  const best = searched(judge, [from / 10, to * 10])
  const nominal = limit(design, best)
  const all = tolerance === 0 ? [] : toleranceCorners(scope, design, tolerance)
  const limits = [nominal, ...all.map((each) => limit(each, best))]
  const tightest = limits.reduce((a, b) => (b.factor < a.factor ? b : a))
  const gain = tightest.factor
  const designed = judged(modelOf(design, best, gain), improvement)
  const worst = all.map((each) => judged(modelOf(each, best, gain), improvement)).reduce(worse, designed)
  return {
    kind: 'Tuning',
    parameters: { gain, ...best },
    outcome: {
      nominalGain: nominal.factor,
      ...designed,
      worstModulusMargin: worst.modulusMargin,
      worstActiveFrom: worst.activeFrom,
      worstActiveTo: worst.activeTo,
    },
    limitedBy: 'modulusMargin',
    reason: `the loop at ${fourDigits(tightest.frequency)} Hz allows no more gain`,
    tried,
  }
}

const start: Corners = { highPass: 0.05, lowPass: 100, leadCorner: 100, lagCorner: 100 }

function modelOf(design: SeriesStageDesign, corners: Corners, gain: number): IsolationModel {
  const [high, low] = [corners.highPass, corners.lowPass].map((corner) => 2 * Math.PI * corner)
  const base = transferFunction({ numerator: [gain * low], denominator: [1, high + low, high * low] })
  const { leadCorner, lagCorner } = corners
  const controller: StateSpace =
    leadCorner === lagCorner ? base : (series(base, leadLag({ leadCorner, lagCorner })) as StateSpace)
  return seriesActiveIsolation({
    ...design,
    activeStage: { ...design.activeStage, sensorLocation: 'activeStage', controller },
  })
}

/** The best corners: a coarse grid, then each corner stepped up and down, the steps shrinking. */
function searched(judge: (corners: Corners) => number, [lowest, highest]: readonly [number, number]): Corners {
  const inside = (corner: number) => Math.min(highest, Math.max(lowest, corner))
  let best: Corners = { ...start, highPass: inside(start.highPass), lowPass: inside(start.lowPass) }
  let least = judge(best)
  const consider = (corners: Corners) => {
    if (names.some((name) => !(corners[name] >= lowest && corners[name] <= highest))) return
    const value = judge(corners)
    if (value < least) [best, least] = [corners, value]
  }
  for (const lowPass of [10, 30, 300, 1000]) consider({ ...start, lowPass })
  for (const ratio of [1 / 4, 4]) {
    for (const place of [0.3, 30, 200]) {
      consider({ ...best, leadCorner: place / Math.sqrt(ratio), lagCorner: place * Math.sqrt(ratio) })
    }
  }
  for (const step of [2, 1.5, 1.2, 1.1]) {
    for (let round = 0; round < 3; round++) {
      const before = least
      for (const name of names)
        for (const factor of [step, 1 / step]) consider({ ...best, [name]: best[name] * factor })
      if (least === before) break
    }
  }
  return best
}

/** Octaves of the widest interval in which the excess is positive, its ends by straight lines over log frequency. */
function widest(frequency: Float64Array, excess: Float64Array): number {
  const octaves = (k: number, share: number) =>
    Math.log2(frequency[k]) + share * Math.log2(frequency[k + 1] / frequency[k])
  let from = excess[0] > 0 ? octaves(0, 0) : null
  let most = 0
  for (let k = 0; k + 1 < frequency.length; k++) {
    if (excess[k] > 0 === excess[k + 1] > 0) continue
    const place = octaves(k, excess[k] / (excess[k] - excess[k + 1]))
    if (from !== null) most = Math.max(most, place - from)
    from = from === null ? place : null
  }
  return from === null ? most : Math.max(most, Math.log2(frequency[frequency.length - 1]) - from)
}

interface Judged {
  readonly [name: string]: number
  readonly modulusMargin: number
  readonly activeFrom: number
  readonly activeTo: number
}

function judged(model: IsolationModel, improvement: number): Judged {
  const bands = activeBand(model, { improvement })
  const [activeFrom, activeTo] = bands.reduce(
    (widest, band) => (band[1] / band[0] > widest[1] / widest[0] ? band : widest),
    bands[0] ?? [0, 0],
  )
  return { modulusMargin: loopMargins(model)[0].margins.modulusMargin, activeFrom, activeTo }
}

function worse(a: Judged, b: Judged): Judged {
  return {
    modulusMargin: Math.min(a.modulusMargin, b.modulusMargin),
    activeFrom: Math.max(a.activeFrom, b.activeFrom),
    activeTo: Math.min(a.activeTo, b.activeTo),
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
