import { fail, type Scope } from '../internal/check.js'
import { rowTimes } from '../linear/dense.js'
import { type LimitMode, type ModeSystem, modeSystems } from './limit-modes.js'
import type { LimitedPlant } from './limited-plant.js'
import { nextMode } from './next-mode.js'
import type { LimitedInterval } from './simulate-with-limits.js'

/** The present state and modes of a plant with limits, and what has been seen of it. The one record that changes. */
export interface Motion {
  readonly scope: Scope
  readonly plant: LimitedPlant
  readonly sampleTime: number
  readonly modeOf: (modes: readonly LimitMode[]) => ModeSystem
  readonly peaks: number[]
  readonly limited: LimitedInterval[]
  /** Since when each mode has been what it is [s] */
  readonly since: number[]
  modes: readonly LimitMode[]
  /** The system of these modes */
  mode: ModeSystem
  state: Float64Array
  /** Inputs at both ends of the present interval, and its start [s] */
  from: Float64Array
  to: Float64Array
  began: number
}

/** Places of an event within a sample. */
const ticks = 2 ** 28
const mostEvents = 1000
const mostRounds = 50

export function atRest(scope: Scope, plant: LimitedPlant, sampleTime: number): Motion {
  const modeOf = modeSystems(scope, plant, sampleTime)
  const modes = plant.bounds.map(() => 'free' as const)
  const mode = modeOf(modes)
  const none = new Float64Array(0)
  return {
    scope,
    plant,
    sampleTime,
    modeOf,
    peaks: new Array<number>(plant.outputs).fill(0),
    limited: [],
    since: modes.map(() => 0),
    modes,
    mode,
    state: new Float64Array(mode.A.rows),
    from: none,
    to: none,
    began: 0,
  }
}

/** Outputs of the model, what is wanted of each bounded one, what it is, and what enters the converters. */
export function valuesOf({ mode: { C, D } }: Motion, x: Float64Array, v: Float64Array): Float64Array {
  return Float64Array.from({ length: C.rows }, (_, o) => rowTimes(C, o, x, 0) + rowTimes(D, o, v, 0))
}

/** The interval that begins at a sample; after a jump of the inputs, what is bounded in rate goes on from where it was. */
export function begin(motion: Motion, from: Float64Array, to: Float64Array, time: number, jumps: boolean): void {
  const before = jumps ? valuesOf(motion, motion.state, motion.to) : null
  Object.assign(motion, { from, to, began: time })
  if (before !== null) {
    const now = valuesOf(motion, motion.state, from)
    motion.plant.bounds.forEach(({ value, rate }, i) => {
      if (rate === Number.POSITIVE_INFINITY) return
      const [wanted, actual] = columnsOf(motion, i)
      const way = Math.max(-value, Math.min(value, now[wanted])) - before[actual]
      if (!(Math.abs(way) > 1e-9 * rate * motion.sampleTime)) return
      const mode = way > 0 ? 'rising' : 'falling'
      // What is on its way already goes on in the same interval.
      if (motion.modes[i] !== mode) change(motion, i, mode, before[actual], time)
    })
  }
  settle(motion, from, time)
}

/** Moves to the next sample, from event to event. Each is found by halving, and stepped over by one tick. */
export function advance(motion: Motion): void {
  const { from, to, began, sampleTime } = motion
  let [at, longest, events] = [0, ticks, 0]
  const inputs = (tick: number) => from.map((value, i) => value + (to[i] - value) * (tick / ticks))
  while (at < ticks) {
    let size = longest
    while (size > ticks - at) size /= 2
    const end = inputs(at + size)
    const step = motion.mode.step(Math.log2(ticks / size))
    const trial = stepped(step, motion.state, inputs(at), end)
    const stays = following(motion, trial, end) === motion.modes
    if (!stays && size > 1) {
      longest = size / 2
      continue
    }
    motion.state = trial
    at += size
    if (stays) continue
    if (++events > mostEvents) fail('no-convergence', motion.scope, `has limits that chatter at ${began} s`)
    settle(motion, end, began + (at / ticks) * sampleTime)
    longest = ticks
  }
  note(motion, to)
}

/** When each limit held, up to an end. */
export function intervalsUntil(motion: Motion, end: number): LimitedInterval[] {
  motion.modes.forEach((_, i) => {
    close(motion, i, end)
  })
  return motion.limited.sort((a, b) => a.from - b.from)
}

/** Changes modes until each follows from the state. */
function settle(motion: Motion, v: Float64Array, time: number): void {
  for (let round = 0; round < mostRounds; round++) {
    const next = following(motion, motion.state, v)
    if (next === motion.modes) {
      note(motion, v)
      return
    }
    const now = valuesOf(motion, motion.state, v)
    const old = motion.modes
    next.forEach((mode, i) => {
      if (mode !== old[i]) change(motion, i, mode, now[columnsOf(motion, i)[1]], time)
    })
  }
  fail('no-convergence', motion.scope, `has limits that chatter at ${time} s`)
}

/** Modes that follow from a state; the same list where all stay. */
function following(motion: Motion, x: Float64Array, v: Float64Array): readonly LimitMode[] {
  const now = valuesOf(motion, x, v)
  const { bounds } = motion.plant
  const next = motion.modes.map((mode, i) => {
    const [wanted, actual] = columnsOf(motion, i)
    const slope = bounds[i].rate < Number.POSITIVE_INFINITY ? slopeOf(motion, wanted, x, v) : 0
    return nextMode(mode, bounds[i], now[wanted], now[actual], slope)
  })
  return next.every((mode, i) => mode === motion.modes[i]) ? motion.modes : next
}

function change(motion: Motion, i: number, mode: LimitMode, actual: number, time: number): void {
  close(motion, i, time)
  motion.since[i] = time
  motion.modes = motion.modes.map((old, k) => (k === i ? mode : old))
  motion.mode = motion.modeOf(motion.modes)
  if (mode !== 'rising' && mode !== 'falling') return
  // The states behind those of the plant are the levels of the outputs bounded in rate, in their order.
  const before = motion.plant.bounds.slice(0, i).filter(({ rate }) => rate < Number.POSITIVE_INFINITY)
  motion.state[motion.plant.system.A.length + before.length] = actual
}

function close({ modes, since, limited, plant }: Motion, i: number, to: number): void {
  if (modes[i] === 'free' || !(to > since[i])) return
  const bound = modes[i] === 'high' || modes[i] === 'low' ? 'value' : 'rate'
  limited.push({ output: plant.bounds[i].output, bound, from: since[i], to })
}

function note(motion: Motion, v: Float64Array): void {
  const now = valuesOf(motion, motion.state, v)
  for (let o = 0; o < motion.peaks.length; o++) motion.peaks[o] = Math.max(motion.peaks[o], Math.abs(now[o]))
}

/** Where the wanted and the actual value of a bounded output stand. */
function columnsOf({ plant: { outputs, bounds } }: Motion, i: number): [wanted: number, actual: number] {
  return [outputs + i, outputs + bounds.length + i]
}

/** Rate of one output: C (A x + B v) + D v'. */
function slopeOf({ mode, from, to, sampleTime }: Motion, o: number, x: Float64Array, v: Float64Array): number {
  const { A, B, C, D } = mode
  let slope = 0
  for (let i = 0; i < A.rows; i++) {
    const c = C.data[o * A.rows + i]
    if (c !== 0) slope += c * (rowTimes(A, i, x, 0) + rowTimes(B, i, v, 0))
  }
  for (let i = 0; i < v.length; i++) slope += (D.data[o * v.length + i] * (to[i] - from[i])) / sampleTime
  return slope
}

function stepped(
  { A, now, next }: ReturnType<ModeSystem['step']>,
  x: Float64Array,
  from: Float64Array,
  to: Float64Array,
): Float64Array {
  return Float64Array.from(x, (_, i) => rowTimes(A, i, x, 0) + rowTimes(now, i, from, 0) + rowTimes(next, i, to, 0))
}
