import { checkNumber, checkOptions, fail, must, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkModel } from '../isolation/check-model.js'
import type { IsolationModel } from '../isolation/model.js'
import { rowTimes } from '../linear/dense.js'
import { lastExit } from '../linear/last-exit.js'
import { settlingTime } from '../systems/settling-time.js'
import type { StateSpace } from '../systems/types.js'
import { type CheckedMove, checkMove, type Move } from './check-move.js'
import { type Extent, extentOf } from './effort.js'
import {
  moveRecord,
  type PushedSystem,
  periodicStart,
  pushedSystem,
  restAfterMove,
  stateAfterMove,
} from './move-response.js'
import { refuseUnstable } from './predict-payload.js'
import { undelayed } from './undelayed.js'

/** When a payload counts as settled after a move, and how it is computed. */
export interface SettlingOptions {
  /** Largest displacement from where the payload comes to rest, either sign, that counts as settled [m], above 0 */
  readonly band: number
  /** In six axes: name of the point of the model that has to settle. @defaultValue the reference of the payload */
  readonly point?: string
  /** Order of the Padé approximation of delays, 1 to 20. @defaultValue 6 */
  readonly padeOrder?: number
}

/** Options of {@link moveAndSettle}. */
export interface MoveAndSettleOptions extends SettlingOptions {
  readonly move: Move
  /** Of the record [s], above 0 */
  readonly sampleTime: number
}

/** A payload during and after a stage move. */
export interface MoveSettling {
  readonly kind: 'MoveSettling'
  /** Last exit from the band, counted from the end of the move [s]; 0 if it is inside from there on; null if it has not
   * settled when the next move begins */
  readonly settlingTime: number | null
  /** The same, counted from the start of the move [s] */
  readonly settlingTimeFromStart: number | null
  /** [s] */
  readonly moveTime: number
  /** [m] */
  readonly band: number
  /** Order of the approximation of delays; null for a model without */
  readonly padeOrder: number | null
  /** In six axes the one that settles last; null for a model of one */
  readonly axis: 'x' | 'y' | 'z' | null
  /** Where the payload comes to rest, from where it was [m]; not 0 only where the weight of the stage has tilted it */
  readonly restsAt: number
  /** Largest displacement of the payload from where it was [m]; in six axes the largest of the three, as all peaks */
  readonly peakDisplacement: number
  /** Largest stretch of the mounts [m] */
  readonly peakStretch: number
  /** Largest force of the actuators on the payload [N]; null without */
  readonly peakForce: number | null
  /** Largest expansion of the actuators [m]; null without */
  readonly peakExpansion: number | null
  /** Largest force on the floor [N] */
  readonly peakFloorForce: number
  /** From the start of the move [s] */
  readonly time: Float64Array
  /** Of the payload [m], along `axis` */
  readonly displacement: Float64Array
  /** Of the mounts [m], along `axis` */
  readonly stretch: Float64Array
}

const mostSamples = 5e6

/** Motion of a payload under the reaction −m·a of a stage that moves on it, and the time until it is still.
 *
 * The reaction enters at `reactionForce`, where feedforward sees it. The response is exact for the pieces of the move; the
 * last exit is found on the free motion after it, so no slow mode is cut off. Peaks are those of the samples and of the ends
 * of the pieces. Delays become Padé approximations of the order stated.
 *
 * In six axes the force acts along `direction` at `position`, and the weight of the stage goes along: it leans the payload,
 * and levelling, if there is any, brings that back. Inertia is that of the start. On one axis the weight is left out.
 * Moving stages can crush: guard them as local machine-safety codes demand.
 * @param model - of any concept; stable
 * @param options - see {@link MoveAndSettleOptions}
 * @returns see {@link MoveSettling}
 * @throws {@link IsolationError} `unstable` for a model that is not stable, or whose delays are too long for the order;
 * `unsupported` for a direction, position or point on one axis; `unknown-port`, `invalid-option`, `out-of-range`, `ill-conditioned`, `no-convergence`
 * @source derived: m_s·a on the payload, m_s·g × way about its reference; last exit as for `settlingTime`
 * @example
 * import { motionProfile, moveAndSettle, passiveIsolation, springMount } from 'restmass'
 * const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
 * const mount = springMount({ mass: 625, naturalFrequency: 1.8, dampingRatio: 0.07 })
 * const model = passiveIsolation({ payload: { mass: 625 }, mount })
 * moveAndSettle(model, { move: { profile, movingMass: 25 }, band: 1e-6, sampleTime: 0.01 }).settlingTime // 9.122
 */
export function moveAndSettle(model: IsolationModel, options: MoveAndSettleOptions): MoveSettling {
  const scope = scopeOf('moveAndSettle')
  checkModel(scope, model)
  checkOptions(scope, options, ['move', 'band', 'point', 'sampleTime', 'padeOrder'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  refuseUnstable(scope, model)
  return settledMove(scope, within(scope, 'move'), model, options.move, options, () => sampleTime).settling
}

/** The same with options that are still to be checked, samples whose distance may depend on the length of the record, and
 * what the outputs in `follow` come to. */
export function settledMove(
  scope: Scope,
  at: Scope,
  { closed }: IsolationModel,
  given: Move,
  options: SettlingOptions,
  sampling: (until: number) => number,
  follow: readonly string[] = [],
): { settling: MoveSettling; extents: ReadonlyMap<string, Extent> } {
  const axes = closed.inputs.includes('reactionForce') ? 'one' : 'six'
  const move = checkMove(at, given, axes)
  const band = checkNumber(scope, 'band', options.band, { unit: 'm', above: 0 })
  const velocities = velocitiesOf(scope, closed, axes, options.point)
  const { system, padeOrder } = undelayed(scope, closed, options.padeOrder)
  const outputs = closed.outputs.filter(
    (name) => /^(stretch|floorForce)([XYZ]|$)|^actuator(Force|Expansion)\d*$/.test(name) || follow.includes(name),
  )
  const pushed = pushedSystem(scope, system, { ...move, outputs, velocities })
  const { start, last, fromEnd, rest } = lastOut(scope, pushed, move, band, velocities.length)
  const { duration } = move.profile
  // Without a next move it settles, for nothing comes first.
  const until = move.repeatEvery ?? duration + 1.1 * (fromEnd as number)
  const sampleTime = sampling(until)
  const count = Math.ceil((until / sampleTime) * (1 - 1e-9)) + 1
  if (count > mostSamples) {
    fail('out-of-range', within(scope, 'sampleTime'), `needs ${count} samples until it has settled; take a longer one`)
  }
  const { series, peaks, rates } = moveRecord(scope, pushed, move, start, sampleTime, count)
  const time = Float64Array.from({ length: count }, (_, k) => k * sampleTime)
  const displacement = series[outputs.length + last]
  const largest = (name: string) => {
    const found = pushed.outputs.flatMap((output, k) => (output.startsWith(name) ? [peaks[k]] : []))
    return found.length === 0 ? null : Math.max(...found)
  }
  const end = axes === 'one' ? '' : 'XYZ'[last]
  const settling: MoveSettling = {
    kind: 'MoveSettling',
    settlingTime: fromEnd,
    settlingTimeFromStart:
      fromEnd === null
        ? null
        : fromEnd > 0
          ? duration + fromEnd
          : settlingTime({ time, values: displacement }, { band, final: rest }),
    moveTime: duration,
    band,
    padeOrder,
    axis: axes === 'one' ? null : (['x', 'y', 'z'] as const)[last],
    restsAt: rest,
    peakDisplacement: Math.max(...peaks.slice(outputs.length)),
    peakStretch: must(largest('stretch'), 'unknown-port', within(scope, 'model'), 'has no output stretch'),
    peakForce: largest('actuatorForce'),
    peakExpansion: largest('actuatorExpansion'),
    peakFloorForce: must(largest('floorForce'), 'unknown-port', within(scope, 'model'), 'has no output floorForce'),
    time,
    displacement,
    stretch: series[pushed.outputs.indexOf(`stretch${end}`)],
  }
  const over = move.repeatEvery ?? duration
  const extents = follow.map((name): [string, Extent] => {
    const k = pushed.outputs.indexOf(name)
    return [name, extentOf(series[k], { value: peaks[k], rate: rates[k], sampleTime, over })]
  })
  return { settling, extents: new Map(extents) }
}

/** The velocities of what has to settle. */
function velocitiesOf(scope: Scope, { outputs }: StateSpace, axes: 'one' | 'six', point?: string): string[] {
  if (axes === 'one') {
    if (point !== undefined) fail('unsupported', within(scope, 'point'), 'has no meaning for a model of one axis')
    return ['payloadVelocity']
  }
  const names = ['X', 'Y', 'Z'].map((axis) => `${point ?? 'payload'}Velocity${axis}`)
  if (names.every((name) => outputs.includes(name))) return names
  fail('unknown-port', within(scope, 'point'), `must be a point of the model, got ${show(point)}`)
}

/** State at the start of the move; which displacement leaves the band last, when, counted from the end of the move, and where
 * it comes to rest; null where the next move comes first. */
function lastOut(
  scope: Scope,
  pushed: PushedSystem,
  move: CheckedMove,
  band: number,
  count: number,
): { start: Float64Array; last: number; fromEnd: number | null; rest: number } {
  const start =
    move.repeatEvery === null ? new Float64Array(pushed.A.rows) : periodicStart(scope, pushed, move, move.repeatEvery)
  const { A, C } = pushed
  const end = stateAfterMove(scope, pushed, move, start)
  const rest = restAfterMove(scope, pushed, move)
  const away = end.map((value, i) => value - rest[i])
  const all = Array.from({ length: count }, (_, k) => {
    const row = { rows: 1, columns: A.rows, data: C.data.slice((C.rows - count + k) * A.rows).subarray(0, A.rows) }
    const exit = lastExit(A, row, away, -band, band)
    if (typeof exit === 'string') fail(exit, within(scope, 'model'), 'has a settling time that cannot be proved')
    return { exit, rest: rowTimes(row, 0, rest, 0), still: Math.abs(rowTimes(row, 0, end, 0)) }
  })
  const last = all.reduce(
    (best, { exit, still }, k) =>
      exit > all[best].exit || (exit === all[best].exit && still > all[best].still) ? k : best,
    0,
  )
  const free = (move.repeatEvery ?? Number.POSITIVE_INFINITY) - move.profile.duration
  return { start, last, fromEnd: all[last].exit > free ? null : all[last].exit, rest: all[last].rest }
}
