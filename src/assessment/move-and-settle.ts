import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { checkModel } from '../isolation/transmissibility.js'
import { lastExit } from '../linear/last-exit.js'
import { pade } from '../systems/pade.js'
import { settlingTime } from '../systems/settling-time.js'
import { stability } from '../systems/stability.js'
import { type CheckedMove, checkMove, type Move } from './check-move.js'
import { moveRecord, type PushedSystem, periodicStart, pushedSystem, stateAfterMove } from './move-response.js'
import { refuseUnstable } from './predict-payload.js'

/** Options of {@link moveAndSettle}. */
export interface MoveAndSettleOptions {
  readonly move: Move
  /** Largest displacement of the payload, either sign, that counts as settled [m], above 0 */
  readonly band: number
  /** Of the record [s], above 0 */
  readonly sampleTime: number
  /** Order of the Padé approximation of delays, 1 to 20. @defaultValue 6 */
  readonly padeOrder?: number
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
  /** Largest displacement of the payload [m] */
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
  /** Of the payload [m] */
  readonly displacement: Float64Array
  /** Of the mounts [m] */
  readonly stretch: Float64Array
}

const mostSamples = 5e6

/** Motion of a payload under the reaction −m·a of a stage that moves on it, and the time until it is still.
 *
 * The reaction enters at `reactionForce`, where feedforward sees it. The response is exact for the pieces of the move; the
 * last exit is found on the free motion after it, so no slow mode is cut off. Peaks are those of the samples and of the ends
 * of the pieces. Delays become Padé approximations of the order stated. The shifted weight of the stage is left out.
 * Moving stages can crush: guard them as local machine-safety codes demand.
 * @param model - of any concept; stable
 * @param options - see {@link MoveAndSettleOptions}
 * @returns see {@link MoveSettling}
 * @throws {@link IsolationError} `unstable` for a model that is not stable, or whose delays are too long for the order;
 * `unsupported` for a direction or position; `invalid-option`, `out-of-range`, `ill-conditioned`, `no-convergence`
 * @source derived: m_s·a on the payload; last exit as for `settlingTime`
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
  checkOptions(scope, options, ['move', 'band', 'sampleTime', 'padeOrder'])
  const move = checkMove(within(scope, 'move'), options.move)
  const band = checkNumber(scope, 'band', options.band, { unit: 'm', above: 0 })
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const order = checkOptional(scope, 'padeOrder', options.padeOrder, { integer: true, atLeast: 1, atMost: 20 }, 6)
  refuseUnstable(scope, model)
  const { closed } = model
  const delayed = closed.delays !== null
  const system = delayed ? pade(closed, { order }) : closed
  if (delayed && stability(system).verdict !== 'stable') {
    fail('unstable', within(scope, 'padeOrder'), `of ${order} does not keep the model stable; raise it`)
  }
  const effort = ['actuatorForce', 'actuatorExpansion'].filter((name) => closed.outputs.includes(name))
  const pushed = pushedSystem(scope, system, ['stretch', 'floorForce', ...effort])
  const { start, fromEnd } = settling(scope, pushed, move, band)
  const { duration } = move.profile
  const until = move.repeatEvery ?? duration + 1.1 * (fromEnd ?? 0)
  const count = Math.ceil((until / sampleTime) * (1 - 1e-9)) + 1
  if (count > mostSamples) {
    fail('out-of-range', within(scope, 'sampleTime'), `needs ${count} samples until it has settled; take a longer one`)
  }
  const { series, peaks } = moveRecord(scope, pushed, move, start, sampleTime, count)
  const time = Float64Array.from({ length: count }, (_, k) => k * sampleTime)
  const of = (name: string) => pushed.outputs.indexOf(name)
  const displacement = series[series.length - 1]
  return {
    kind: 'MoveSettling',
    settlingTime: fromEnd,
    settlingTimeFromStart:
      fromEnd === null
        ? null
        : fromEnd > 0
          ? duration + fromEnd
          : settlingTime({ time, values: displacement }, { band, final: 0 }),
    moveTime: duration,
    band,
    padeOrder: delayed ? order : null,
    peakDisplacement: peaks[peaks.length - 1],
    peakStretch: peaks[of('stretch')],
    peakForce: peaks[of('actuatorForce')] ?? null,
    peakExpansion: peaks[of('actuatorExpansion')] ?? null,
    peakFloorForce: peaks[of('floorForce')],
    time,
    displacement,
    stretch: series[of('stretch')],
  }
}

/** State at the start of the move, and the last exit after its end; null where the next move comes first. */
function settling(
  scope: Scope,
  pushed: PushedSystem,
  move: CheckedMove,
  band: number,
): { start: Float64Array; fromEnd: number | null } {
  const start =
    move.repeatEvery === null ? new Float64Array(pushed.A.rows) : periodicStart(scope, pushed, move, move.repeatEvery)
  const { A, C } = pushed
  const row = { rows: 1, columns: A.rows, data: C.data.slice((C.rows - 1) * A.rows) }
  const exit = lastExit(A, row, stateAfterMove(scope, pushed, move, start), -band, band)
  if (typeof exit === 'string') fail(exit, within(scope, 'model'), 'has a settling time that cannot be proved')
  const free = (move.repeatEvery ?? Number.POSITIVE_INFINITY) - move.profile.duration
  return { start, fromEnd: exit > free ? null : exit }
}
