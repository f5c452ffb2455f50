import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'

/** Options of {@link tiltCrossover}. */
export interface TiltCrossoverOptions {
  /** Rotation about a horizontal axis per horizontal displacement of the sensor [rad/m], either sign, not 0 */
  readonly rotationPerDisplacement: number
}

/** Frequency [Hz] below which a horizontal inertial sensor on a body that rocks as it moves reads more tilt than motion.
 *
 * √(g·|α|)/2π with α = θ/x; apparent over true motion is 1 − g·α/ω², θ positive where the end towards +x is raised, so that
 * the share of tilt is (crossover/f)². An inertial loop works well above it only: below, use a relative sensor, or measure the
 * tilt and subtract it. With α > 0 the reading vanishes there and is reversed below.
 * @param options - see {@link TiltCrossoverOptions}
 * @returns the frequency [Hz]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source E. Wielandt, Seismic Sensors and their Calibration, New Manual of Seismological Observatory Practice, chapter 5,
 * section 5.3.3
 * @example
 * import { tiltCrossover } from 'restmass'
 * tiltCrossover({ rotationPerDisplacement: 0.05 }) // 0.11145
 */
export function tiltCrossover(options: TiltCrossoverOptions): number {
  const scope = scopeOf('tiltCrossover')
  checkOptions(scope, options, ['rotationPerDisplacement'])
  const { rotationPerDisplacement: given } = options
  const size = typeof given === 'number' ? Math.abs(given) : given
  const alpha = checkNumber(scope, 'rotationPerDisplacement', size, { unit: 'rad/m', above: 0, atMost: 1e300 })
  return Math.sqrt(standardGravity * alpha) / (2 * Math.PI)
}
