import { type MotionPhase, motionAt, motionPhases } from '../elements/motion-phases.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import { must, type Scope, within } from '../internal/check.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { type Dense, identity, multiply, rowsOf, rowTimes, sum, times, transpose } from '../linear/dense.js'
import { matrixExponential } from '../linear/matrix-exponential.js'
import { solve } from '../linear/solve.js'
import { denseSystem } from '../systems/dense-system.js'
import { heldStep } from '../systems/discretize.js'
import type { StateSpace } from '../systems/types.js'

/** Where a move acts on a system, and what is looked at. */
export interface PushPorts {
  /** Inputs that take the reaction, with their share of it */
  readonly force: readonly Share[]
  /** Inputs that take the moment of the shifted weight [N·m], with the moment per metre of the way; none on one axis */
  readonly weight: readonly Share[]
  /** Outputs to follow */
  readonly outputs: readonly string[]
  /** Velocities whose integrals are followed too, as the last of all */
  readonly velocities: readonly string[]
}

type Share = readonly [input: string, share: number]

/** A stable system that a stage pushes, in coordinates of one magnitude. */
export interface PushedSystem {
  readonly A: Dense
  /** One column, for the reaction force */
  readonly B: Dense
  /** One column, for the way of the stage; null where its weight does not act */
  readonly weight: Dense | null
  /** One row per output; the last ones are displacements */
  readonly C: Dense
  readonly D: Dense
  readonly outputs: readonly string[]
}

/** The system from a move to some outputs and displacements.
 *
 * A displacement is C_v A⁻¹ x: its rate is C_v x + C_v A⁻¹ B u, and C_v A⁻¹ B, the steady velocity under a steady force,
 * is 0.
 */
export function pushedSystem(
  scope: Scope,
  system: StateSpace,
  { force, weight, outputs, velocities }: PushPorts,
): PushedSystem {
  const rows = [...velocities, ...outputs].map((name) => system.outputs.indexOf(name))
  const inputs = [...force, ...weight].map(([name]) => system.inputs.indexOf(name))
  const { A, B, C, D } = balancedSystem(denseSystem(system, inputs, rows))
  const n = A.rows
  const moving = velocities.length
  const velocity = { rows: moving, columns: n, data: C.data.slice(0, moving * n) }
  const says = 'has no displacement that can be computed'
  const position = must(solve(transpose(A), transpose(velocity)), 'ill-conditioned', within(scope, 'model'), says)
  const data = new Float64Array(rows.length * n)
  data.set(C.data.subarray(moving * n))
  data.set(transpose(position).data, outputs.length * n)
  const direct = new Float64Array(rows.length)
  direct.set(mixed(D, force, 0).data.subarray(moving))
  return {
    A,
    B: mixed(B, force, 0),
    weight: weight.length === 0 ? null : mixed(B, weight, force.length),
    C: { rows: rows.length, columns: n, data },
    D: { rows: rows.length, columns: 1, data: direct },
    outputs: [...outputs, ...velocities],
  }
}

/** Columns from `first` on, added up by their shares. */
function mixed({ rows, columns, data }: Dense, shares: readonly Share[], first: number): Dense {
  const sums = Float64Array.from({ length: rows }, (_, i) =>
    shares.reduce((sum, [, share], k) => sum + share * data[i * columns + first + k], 0),
  )
  return { rows, columns: 1, data: sums }
}

/** State after a move, exact: the force is a straight line within each piece. */
export function stateAfterMove(scope: Scope, pushed: PushedSystem, push: Push, start: Float64Array): Float64Array {
  const phases = motionPhases(push.profile)
  let state = start
  for (let k = 0; k + 1 < phases.length; k++) {
    state = stepper(scope, pushed, push, phases[k + 1].start - phases[k].start)(state, phases[k], phases[k].start)
  }
  return state
}

/** A move and the force per acceleration that it exerts. */
export interface Push {
  readonly profile: MotionProfile
  /** [kg] */
  readonly movingMass: number
}

/** Samples of every output from the start of the move on, exact at each; the largest modulus of each and of its rate, the ends of
 * the pieces included. A rate is Infinity where an output follows a jump of the acceleration. */
export function moveRecord(
  scope: Scope,
  pushed: PushedSystem,
  push: Push,
  start: Float64Array,
  sampleTime: number,
  count: number,
): { series: Float64Array[]; peaks: number[]; rates: number[] } {
  const phases = motionPhases(push.profile)
  const slack = 1e-9 * sampleTime
  const series = pushed.outputs.map(() => new Float64Array(count))
  const advance = stepper(scope, pushed, push, sampleTime)
  const { seen, peaks, rates } = peaksOf(pushed, push, phases)
  const put = (state: Float64Array, phase: MotionPhase, time: number, k: number) => {
    const values = seen(state, phase, time)
    for (let o = 0; o < series.length; o++) series[o][k] = values[o]
  }
  let state = start
  let k = 0
  phases.forEach((phase, p) => {
    const end = p + 1 < phases.length ? phases[p + 1].start : Number.POSITIVE_INFINITY
    seen(state, phase, phase.start)
    let time = phase.start
    let inner = state
    for (; k < count && k * sampleTime < end - slack; k++) {
      const next = Math.max(k * sampleTime, phase.start)
      const whole = time > phase.start || next - time > sampleTime - slack
      const step = whole ? advance : stepper(scope, pushed, push, next - time)
      if (next > time) inner = step(inner, phase, time)
      time = next
      put(inner, phase, time, k)
    }
    if (end === Number.POSITIVE_INFINITY) return
    state = stepper(scope, pushed, push, end - phase.start)(state, phase, phase.start)
    seen(state, phase, end)
  })
  return { series, peaks, rates }
}

/** Gives the outputs at a time within a piece, and keeps the largest of them and of their rates C (A x + B f + W s) + D f'. */
function peaksOf(pushed: PushedSystem, { movingMass }: Push, phases: readonly MotionPhase[]) {
  const { A, B, weight, C, D, outputs } = pushed
  const [slopes, driven] = [multiply(C, A), multiply(C, B)]
  const leaned = weight === null ? null : multiply(C, weight)
  const peaks = outputs.map(() => 0)
  const rates = outputs.map(() => 0)
  const largest = movingMass * Math.max(...phases.map(({ acceleration }) => Math.abs(acceleration)))
  let before = 0
  const seen = (state: Float64Array, phase: MotionPhase, time: number): Float64Array => {
    const { position, acceleration, jerk } = motionAt(phase, time)
    const force = -movingMass * acceleration
    const jumps = time === phase.start && Math.abs(force - before) > 1e-9 * largest
    before = force
    return Float64Array.from(outputs, (_, o) => {
      const value = rowTimes(C, o, state, 0) + D.data[o] * force
      peaks[o] = Math.max(peaks[o], Math.abs(value))
      const way = leaned === null ? 0 : leaned.data[o] * position
      const slope = rowTimes(slopes, o, state, 0) + driven.data[o] * force + way - D.data[o] * movingMass * jerk
      rates[o] = jumps && D.data[o] !== 0 ? Number.POSITIVE_INFINITY : Math.max(rates[o], Math.abs(slope))
      return value
    })
  }
  return { seen, peaks, rates }
}

/** exp(A·seconds) x */
export function freeState({ A }: PushedSystem, seconds: number): Dense | null {
  return matrixExponential(times(A, seconds))
}

/** The state at the start of every move of an endless row, one every `period`: x = Φ(period) x + what one move leaves. */
export function periodicStart(scope: Scope, pushed: PushedSystem, push: Push, period: number): Float64Array {
  const n = pushed.A.rows
  const left = stateAfterMove(scope, pushed, push, new Float64Array(n))
  const found = (value: Dense | null) =>
    must(value, 'ill-conditioned', within(scope, 'move.repeatEvery'), 'is too short for a steady row of moves')
  const whole = found(freeState(pushed, period))
  const rest = found(freeState(pushed, period - push.profile.duration))
  return found(solve(sum(identity(n), times(whole, -1)), multiply(rest, { rows: n, columns: 1, data: left }))).data
}

type Step = (x: Float64Array, phase: MotionPhase, time: number) => Float64Array

/** One step of given length from a time within a piece of the move. */
function stepper(scope: Scope, pushed: PushedSystem, push: Push, seconds: number): Step {
  const { weight } = pushed
  return weight === null ? forceStep(scope, pushed, push, seconds) : weightStep(scope, pushed, weight, push, seconds)
}

/** Under a force that is a straight line. */
function forceStep(scope: Scope, { A, B }: PushedSystem, { movingMass }: Push, seconds: number): Step {
  const system = { A: rowsOf(A), B: rowsOf(B), C: [], D: [], inputs: ['force'], outputs: [] }
  const step = heldStep(scope, { kind: 'StateSpace', ...system, states: [], delays: null }, seconds)
  return (x, phase, time) => {
    const [from, to] = [time, time + seconds].map((place) => -movingMass * motionAt(phase, place).acceleration)
    return x.map((_, i) => rowTimes(step.A, i, x, 0) + step.now.data[i] * from + step.next.data[i] * to)
  }
}

/** Under force and shifted weight: way, velocity, acceleration and jerk of the stage become states of their own. */
function weightStep(scope: Scope, { A, B }: PushedSystem, weight: Dense, { movingMass }: Push, seconds: number): Step {
  const n = A.rows
  const all: Dense = { rows: n + 4, columns: n + 4, data: new Float64Array((n + 4) ** 2) }
  for (let i = 0; i < n; i++) {
    all.data.set(A.data.subarray(i * n, (i + 1) * n), i * (n + 4))
    all.data[i * (n + 4) + n] = weight.data[i]
    all.data[i * (n + 4) + n + 2] = -movingMass * B.data[i]
  }
  for (let k = 0; k < 3; k++) all.data[(n + k) * (n + 4) + n + k + 1] = 1
  const says = 'is too stiff to be followed over one step'
  const step = must(matrixExponential(times(all, seconds)), 'no-convergence', within(scope, 'model'), says)
  return (x, phase, time) => {
    const { position, velocity, acceleration, jerk } = motionAt(phase, time)
    const start = Float64Array.of(...x, position, velocity, acceleration, jerk)
    return x.map((_, i) => rowTimes(step, i, start, 0))
  }
}

/** The state in which a system comes to rest after a move: −A⁻¹ times what the shifted weight exerts. */
export function restAfterMove(scope: Scope, { A, weight }: PushedSystem, { profile }: Push): Float64Array {
  if (weight === null) return new Float64Array(A.rows)
  const says = 'has no rest after the move that can be computed'
  return must(solve(A, times(weight, -profile.distance)), 'ill-conditioned', within(scope, 'model'), says).data
}
