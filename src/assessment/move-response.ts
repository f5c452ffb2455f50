import { motionAt, motionPhases } from '../elements/motion-phases.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import { fail, type Scope, within } from '../internal/check.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { type Dense, identity, multiply, rowsOf, rowTimes, sum, times, transpose } from '../linear/dense.js'
import { matrixExponential } from '../linear/matrix-exponential.js'
import { solve } from '../linear/solve.js'
import { denseSystem } from '../systems/dense-system.js'
import { heldStep } from '../systems/discretize.js'
import type { StateSpace } from '../systems/types.js'

/** A stable system that a stage pushes, in coordinates of one magnitude. */
export interface PushedSystem {
  readonly A: Dense
  /** One column, for the reaction force */
  readonly B: Dense
  /** One row per output; the last one is the displacement of the payload */
  readonly C: Dense
  readonly D: Dense
  readonly outputs: readonly string[]
}

export const displacement = 'displacement'

/** The system from `reactionForce` to some outputs and the displacement of the payload.
 *
 * The displacement is C_v A⁻¹ x: its rate is C_v x + C_v A⁻¹ B u, and C_v A⁻¹ B, the steady velocity under a steady force,
 * is 0.
 */
export function pushedSystem(scope: Scope, system: StateSpace, outputs: readonly string[]): PushedSystem {
  const rows = ['payloadVelocity', ...outputs].map((name) => system.outputs.indexOf(name))
  const { A, B, C, D } = balancedSystem(denseSystem(system, [system.inputs.indexOf('reactionForce')], rows))
  const n = A.rows
  const velocity: Dense = { rows: n, columns: 1, data: C.data.slice(0, n) }
  const position = solve(transpose(A), velocity)
  if (position === null) fail('ill-conditioned', within(scope, 'model'), 'has no displacement that can be computed')
  const data = new Float64Array(rows.length * n)
  data.set(C.data.subarray(n))
  data.set(position.data, (rows.length - 1) * n)
  const direct = new Float64Array(rows.length)
  direct.set(D.data.subarray(1))
  return {
    A,
    B,
    C: { rows: rows.length, columns: n, data },
    D: { rows: rows.length, columns: 1, data: direct },
    outputs: [...outputs, displacement],
  }
}

/** State after a move, exact: the force is a straight line within each piece. */
export function stateAfterMove(scope: Scope, pushed: PushedSystem, push: Push, start: Float64Array): Float64Array {
  const phases = motionPhases(push.profile)
  let state = start
  for (let k = 0; k + 1 < phases.length; k++) {
    state = stepper(scope, pushed, phases[k + 1].start - phases[k].start)(state, forces(push, phases, k))
  }
  return state
}

/** A move and the force per acceleration that it exerts. */
export interface Push {
  readonly profile: MotionProfile
  /** [kg] */
  readonly movingMass: number
}

/** Samples of every output from the start of the move on, exact at each, and the largest modulus of each, the ends of the
 * pieces included. */
export function moveRecord(
  scope: Scope,
  pushed: PushedSystem,
  push: Push,
  start: Float64Array,
  sampleTime: number,
  count: number,
): { series: Float64Array[]; peaks: number[] } {
  const phases = motionPhases(push.profile)
  const slack = 1e-9 * sampleTime
  const series = pushed.outputs.map(() => new Float64Array(count))
  const peaks = pushed.outputs.map(() => 0)
  const advance = stepper(scope, pushed, sampleTime)
  const put = (state: Float64Array, force: number, k: number | null) => {
    for (let o = 0; o < series.length; o++) {
      const value = rowTimes(pushed.C, o, state, 0) + pushed.D.data[o] * force
      if (k !== null) series[o][k] = value
      peaks[o] = Math.max(peaks[o], Math.abs(value))
    }
  }
  let state = start
  let k = 0
  phases.forEach((phase, p) => {
    const end = p + 1 < phases.length ? phases[p + 1].start : Number.POSITIVE_INFINITY
    const force = (time: number) => -push.movingMass * motionAt(phase, time).acceleration
    put(state, force(phase.start), null)
    let time = phase.start
    let inner = state
    for (; k < count && k * sampleTime < end - slack; k++) {
      const next = Math.max(k * sampleTime, phase.start)
      const whole = time > phase.start || next - time > sampleTime - slack
      const step = whole ? advance : stepper(scope, pushed, next - time)
      if (next > time) inner = step(inner, [force(time), force(next)])
      time = next
      put(inner, force(time), k)
    }
    if (end === Number.POSITIVE_INFINITY) return
    state = stepper(scope, pushed, end - phase.start)(state, forces(push, phases, p))
    put(state, force(end), null)
  })
  return { series, peaks }
}

/** exp(A·seconds) x */
export function freeState({ A }: PushedSystem, seconds: number): Dense | null {
  return matrixExponential(times(A, seconds))
}

/** The state at the start of every move of an endless row, one every `period`: x = Φ(period) x + what one move leaves. */
export function periodicStart(scope: Scope, pushed: PushedSystem, push: Push, period: number): Float64Array {
  const n = pushed.A.rows
  const left = stateAfterMove(scope, pushed, push, new Float64Array(n))
  const whole = freeState(pushed, period)
  const rest = freeState(pushed, period - push.profile.duration)
  const start =
    whole === null || rest === null
      ? null
      : solve(sum(identity(n), times(whole, -1)), multiply(rest, { rows: n, columns: 1, data: left }))
  if (start === null)
    fail('ill-conditioned', within(scope, 'move.repeatEvery'), 'is too short for a steady row of moves')
  return start.data
}

function forces({ movingMass }: Push, phases: ReturnType<typeof motionPhases>, k: number): [number, number] {
  const last = motionAt(phases[k], phases[k + 1].start)
  return [-movingMass * phases[k].acceleration, -movingMass * last.acceleration]
}

/** One step of given length under a force that is a straight line. */
function stepper(scope: Scope, { A, B }: PushedSystem, seconds: number) {
  const system = { A: rowsOf(A), B: rowsOf(B), C: [], D: [], inputs: ['force'], outputs: [] }
  const step = heldStep(scope, { kind: 'StateSpace', ...system, states: [], delays: null }, seconds)
  return (x: Float64Array, [from, to]: readonly [number, number]): Float64Array =>
    x.map((_, i) => rowTimes(step.A, i, x, 0) + step.now.data[i] * from + step.next.data[i] * to)
}
