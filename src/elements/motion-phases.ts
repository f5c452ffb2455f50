import { checkNumber, checkOneOf, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { MotionProfile } from './motion-profile.js'

/** A piece of constant jerk, its values at its start. */
export interface MotionPhase {
  /** [s] */
  readonly start: number
  readonly position: number
  readonly velocity: number
  readonly acceleration: number
  readonly jerk: number
}

const times = ['jerkTime', 'accelerationTime', 'velocityTime'] as const
const peaks = ['peakVelocity', 'peakAcceleration', 'duration'] as const

/** Checks the record of a move. */
export function checkProfile(scope: Scope, profile: MotionProfile): MotionProfile {
  checkOptions(scope, profile, ['kind', 'distance', ...times, ...peaks])
  checkOneOf(scope, 'kind', profile.kind, ['MotionProfile'])
  checkNumber(scope, 'distance', profile.distance, { unit: 'm' })
  for (const key of times) checkNumber(scope, key, profile[key], { atLeast: 0 })
  for (const key of peaks) checkNumber(scope, key, profile[key], { above: 0 })
  const whole = 4 * profile.jerkTime + 2 * profile.accelerationTime + profile.velocityTime
  if (!(Math.abs(profile.duration - whole) <= 1e-6 * whole)) {
    const says = `must be ${whole} s like its pieces together, got ${profile.duration}`
    fail('invalid-option', within(scope, 'duration'), says, { value: profile.duration, unit: 's' })
  }
  return profile
}

/** The pieces of a move that take time, and the rest after it. */
export function motionPhases(profile: MotionProfile): MotionPhase[] {
  const { jerkTime, accelerationTime, velocityTime, distance, duration } = profile
  const A = Math.sign(distance) * profile.peakAcceleration
  const j = jerkTime > 0 ? A / jerkTime : 0
  const pieces: readonly (readonly [length: number, acceleration: number, jerk: number])[] = [
    [jerkTime, 0, j],
    [accelerationTime, A, 0],
    [jerkTime, A, -j],
    [velocityTime, 0, 0],
    [jerkTime, 0, -j],
    [accelerationTime, -A, 0],
    [jerkTime, -A, j],
  ]
  const phases: MotionPhase[] = []
  let [start, position, velocity] = [0, 0, 0]
  for (const [length, acceleration, jerk] of pieces) {
    if (length === 0) continue
    const phase = { start, position, velocity, acceleration, jerk }
    phases.push(phase)
    ;({ position, velocity } = motionAt(phase, start + length))
    start += length
  }
  phases.push({ start: duration, position: distance, velocity: 0, acceleration: 0, jerk: 0 })
  return phases
}

/** Motion at a time within a piece. */
export function motionAt(
  { start, position, velocity, acceleration, jerk }: MotionPhase,
  time: number,
): Omit<MotionPhase, 'start'> {
  const t = time - start
  return {
    position: position + t * (velocity + (t / 2) * (acceleration + (t / 3) * jerk)),
    velocity: velocity + t * (acceleration + (t / 2) * jerk),
    acceleration: acceleration + t * jerk,
    jerk,
  }
}
