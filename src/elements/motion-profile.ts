import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link motionProfile}. */
export interface MotionProfileOptions {
  /** Where the stage goes, either sign, not 0 [m] */
  readonly distance: number
  /** [m/s], above 0 */
  readonly maxVelocity: number
  /** [m/s²], above 0 */
  readonly maxAcceleration: number
  /** [m/s³], above 0. @defaultValue none, the acceleration steps */
  readonly maxJerk?: number
}

/** A move of a stage from rest to rest in seven pieces of constant jerk; made by {@link motionProfile}. */
export interface MotionProfile {
  readonly kind: 'MotionProfile'
  /** [m], with its sign */
  readonly distance: number
  /** Length of each of the four pieces with jerk [s]; 0 where the acceleration steps */
  readonly jerkTime: number
  /** Length of each of the two pieces at constant acceleration [s] */
  readonly accelerationTime: number
  /** Length of the piece at constant velocity [s] */
  readonly velocityTime: number
  /** Reached velocity, a modulus [m/s] */
  readonly peakVelocity: number
  /** Reached acceleration, a modulus [m/s²] */
  readonly peakAcceleration: number
  /** Whole time, 4·jerkTime + 2·accelerationTime + velocityTime [s] */
  readonly duration: number
}

/** The fastest symmetric move from rest to rest within bounds on velocity, acceleration and jerk.
 *
 * Limits that the distance does not let it reach are lowered. The whole time is h/V + V/A + A/j with the values reached.
 * Moving stages can crush: guard them as local machine-safety codes demand.
 * @param options - see {@link MotionProfileOptions}
 * @returns the lengths of the pieces and the values reached
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source P. Lambrechts, M. Boerlage, M. Steinbuch, Control Engineering Practice 13 (2005) 145
 * @example
 * import { motionProfile } from 'restmass'
 * motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 }).duration // 0.42000
 */
export function motionProfile(options: MotionProfileOptions): MotionProfile {
  const scope = scopeOf('motionProfile')
  checkOptions(scope, options, ['distance', 'maxVelocity', 'maxAcceleration', 'maxJerk'])
  const distance = checkNumber(scope, 'distance', options.distance, { unit: 'm' })
  if (distance === 0) fail('out-of-range', within(scope, 'distance'), 'must not be 0 [m]', { value: 0, unit: 'm' })
  const h = Math.abs(distance)
  const v = checkNumber(scope, 'maxVelocity', options.maxVelocity, { unit: 'm/s', above: 0 })
  const a = checkNumber(scope, 'maxAcceleration', options.maxAcceleration, { unit: 'm/s²', above: 0 })
  const j = checkOptional(scope, 'maxJerk', options.maxJerk, { unit: 'm/s³', above: 0 }, Infinity)
  const jerkTime = Math.min(Math.cbrt(h / (2 * j)), a / j, Math.sqrt(v / j))
  const peakAcceleration = j === Infinity ? a : j * jerkTime
  // h = A (t_j + t_a)(2 t_j + t_a) without a piece at constant velocity.
  const free = Math.max(0, (Math.sqrt(jerkTime ** 2 + (4 * h) / peakAcceleration) - 3 * jerkTime) / 2)
  const bounded = peakAcceleration * (jerkTime + free) > v
  const accelerationTime = bounded ? Math.max(0, v / peakAcceleration - jerkTime) : free
  const peakVelocity = bounded ? v : peakAcceleration * (jerkTime + accelerationTime)
  const velocityTime = Math.max(0, h / peakVelocity - 2 * jerkTime - accelerationTime)
  const duration = finiteResult(scope, 'duration', 4 * jerkTime + 2 * accelerationTime + velocityTime)
  return {
    kind: 'MotionProfile',
    distance,
    jerkTime,
    accelerationTime,
    // What rounding leaves of a piece that is not there.
    velocityTime: velocityTime > 1e-13 * duration ? velocityTime : 0,
    peakVelocity,
    peakAcceleration,
    duration,
  }
}
