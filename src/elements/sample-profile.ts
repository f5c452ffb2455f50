import { checkNumber, checkOptions, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkProfile, motionAt, motionPhases } from './motion-phases.js'
import type { MotionProfile } from './motion-profile.js'

/** Options of {@link sampleProfile}. */
export interface SampleProfileOptions {
  /** [s], above 0, at least a millionth of the move */
  readonly sampleTime: number
}

/** A move over time; made by {@link sampleProfile}. */
export interface SampledMotion {
  readonly kind: 'SampledMotion'
  /** [s], the first at 0, the last at or just after the end of the move */
  readonly time: Float64Array
  /** [m] */
  readonly position: Float64Array
  /** [m/s] */
  readonly velocity: Float64Array
  /** [m/s²]; where it steps, the value after the step */
  readonly acceleration: Float64Array
  /** [m/s³]; where it steps, the value after the step; 0 where the acceleration steps */
  readonly jerk: Float64Array
}

/** Position, velocity, acceleration and jerk of a move, exact at each sample.
 *
 * @param profile - a {@link motionProfile}
 * @param options - see {@link SampleProfileOptions}
 * @returns one sample per sample time, the last one at rest
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source P. Lambrechts, M. Boerlage, M. Steinbuch, Control Engineering Practice 13 (2005) 145
 * @example
 * import { motionProfile, sampleProfile } from 'restmass'
 * const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
 * sampleProfile(profile, { sampleTime: 0.01 }).position[21] // 0.15000
 */
export function sampleProfile(profile: MotionProfile, options: SampleProfileOptions): SampledMotion {
  const scope = scopeOf('sampleProfile')
  const { duration } = checkProfile(within(scope, 'profile'), profile)
  checkOptions(scope, options, ['sampleTime'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, {
    unit: 's',
    above: 0,
    atLeast: 1e-6 * duration,
  })
  const phases = motionPhases(profile)
  // A sample that rounding has put just before the start of a piece belongs to it.
  const slack = 1e-12 * duration
  const count = Math.ceil((duration / sampleTime) * (1 - 1e-12)) + 1
  const time = Float64Array.from({ length: count }, (_, k) => k * sampleTime)
  const [position, velocity, acceleration, jerk] = [1, 2, 3, 4].map(() => new Float64Array(count))
  let current = 0
  time.forEach((t, k) => {
    while (current + 1 < phases.length && phases[current + 1].start <= t + slack) current += 1
    const motion = motionAt(phases[current], t)
    position[k] = motion.position
    velocity[k] = motion.velocity
    acceleration[k] = motion.acceleration
    jerk[k] = motion.jerk
  })
  for (const values of [position, velocity, acceleration, jerk]) {
    finiteResult(
      scope,
      'motion',
      values.reduce((most, value) => Math.max(most, Math.abs(value)), 0),
    )
  }
  return { kind: 'SampledMotion', time, position, velocity, acceleration, jerk }
}
