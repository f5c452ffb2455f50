import { checkNumber, checkOptions, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkProfile } from './motion-phases.js'
import type { MotionProfile } from './motion-profile.js'

/** Options of {@link residualAmplitude}. */
export interface ResidualAmplitudeOptions {
  /** Of the payload with the stage on its isolation [Hz], at least 0 */
  readonly naturalFrequency: number
  /** Mass that the stage moves [kg], above 0 */
  readonly movingMass: number
  /** Whole suspended mass, the stage included [kg], at least that of the stage */
  readonly totalMass: number
}

/** Amplitude with which an undamped payload swings on after a stage on it has moved.
 *
 * (m_s/M)·h·|sinc(f₀T₁)·sinc(f₀T₂)·sinc(f₀T₃)| with sinc x = sin(πx)/(πx), T₁ = h/V, T₂ = V/A, T₃ = A/j; none of it where
 * one of the f₀Tᵢ is a whole number. Of the reaction force alone, without the tilt from the shifted mass.
 * @param profile - a {@link motionProfile}
 * @param options - see {@link ResidualAmplitudeOptions}
 * @returns amplitude [m]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: the velocity of the move is the convolution of three boxes
 * @example
 * import { motionProfile, residualAmplitude } from 'restmass'
 * const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
 * residualAmplitude(profile, { naturalFrequency: 1.5, movingMass: 20, totalMass: 1000 }) // 4.03247e-3
 */
export function residualAmplitude(profile: MotionProfile, options: ResidualAmplitudeOptions): number {
  const scope = scopeOf('residualAmplitude')
  checkProfile(within(scope, 'profile'), profile)
  checkOptions(scope, options, ['naturalFrequency', 'movingMass', 'totalMass'])
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', atLeast: 0 })
  const moving = checkNumber(scope, 'movingMass', options.movingMass, { unit: 'kg', above: 0 })
  const total = checkNumber(scope, 'totalMass', options.totalMass, { unit: 'kg', atLeast: moving })
  const { jerkTime, accelerationTime, velocityTime } = profile
  const boxes = [2 * jerkTime + accelerationTime + velocityTime, jerkTime + accelerationTime, jerkTime]
  const shares = boxes.map((length) => sinc(frequency * length))
  const residual = (moving / total) * Math.abs(profile.distance * shares[0] * shares[1] * shares[2])
  return finiteResult(scope, 'residual amplitude', residual)
}

/** sin(πx)/(πx), exactly 0 at whole numbers, as all large ones are. */
function sinc(x: number): number {
  if (x === 0) return 1
  if (x > Number.MAX_SAFE_INTEGER) return 0
  const rest = x - Math.round(x)
  return ((Math.round(x) % 2 === 0 ? 1 : -1) * Math.sin(Math.PI * rest)) / (Math.PI * x)
}
