import { checkNumbers, checkOneOf, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkAirSpring } from './check-mount.js'
import type { AirSpring } from './types.js'

/** Options of {@link airSpringForce}. */
export interface AirSpringForceOptions {
  /** Compression from working height, extension negative [m]; where the spring chamber and the area stay above 0 */
  readonly travel: readonly number[] | Float64Array
  /** Exponent n of p·Vⁿ = constant, 1 (slow) to 1.7. @defaultValue that of the spring */
  readonly polytropicExponent?: number
  /** Whether the damping chamber takes part: 'both' in slow, 'spring' in fast motion. @defaultValue 'both' */
  readonly chambers?: 'both' | 'spring'
}

/** Force of an air spring against its travel, not linearised; made by {@link airSpringForce}. */
export interface AirSpringForce {
  readonly kind: 'AirSpringForce'
  /** Compression from working height [m], in the order asked */
  readonly travel: Float64Array
  /** What the spring pushes back beyond its load [N], positive in compression */
  readonly force: Float64Array
  /** Slope of that force [N/m] */
  readonly stiffness: Float64Array
}

/** Force of an air spring over its travel, with the gas compressed as p·Vⁿ = constant and the height valve shut.
 *
 * F(z) = (p(z) − p_ambient)·(A + A'·z) + k_d·z − load, p = p_abs·(V/(V − A·z − A'·z²/2))ⁿ, z the compression, k_d the
 * diaphragm; at z = 0 the slope is the stiffness of {@link airSpring}. The pressure belongs to the travel: a stop reached
 * fast can exceed the rating, for which local pressure-equipment codes stand.
 * @param spring - made by {@link airSpring}
 * @param options - see {@link AirSpringForceOptions}
 * @returns travel, force and slope side by side
 * @throws {@link IsolationError} `invalid-option`, `not-finite`; `out-of-range` where no volume or no area is left
 * @source derived: p·Vⁿ = constant, effective area as the change of volume with height; Harris' Shock and Vibration
 * Handbook, chapter on air suspension
 * @example
 * import { airSpring, airSpringForce } from 'restmass'
 * const spring = airSpring({ area: 0.02, volume: 0.004, gaugePressure: 2.5e5 })
 * airSpringForce(spring, { travel: [0.01] }).force[0] // 523.1358
 */
export function airSpringForce(spring: AirSpring, options: AirSpringForceOptions): AirSpringForce {
  const scope = scopeOf('airSpringForce')
  const { area, volume, load, ...air } = checkAirSpring(within(scope, 'spring'), spring)
  checkOptions(scope, options, ['travel', 'polytropicExponent', 'chambers'])
  const chambers = checkOneOf(scope, 'chambers', options.chambers ?? 'both', ['both', 'spring'])
  const range = { atLeast: 1, atMost: 1.7 }
  const exponent = checkOptional(scope, 'polytropicExponent', options.polytropicExponent, range, air.polytropicExponent)
  const behind = chambers === 'both' ? (air.dampingChamber?.volume ?? 0) : 0
  const travel = Float64Array.from(checkNumbers(scope, 'travel', options.travel, { unit: 'm' }))
  const at = (z: number, i: number) => {
    const effective = area + air.areaGradient * z
    const swept = area * z + (air.areaGradient * z * z) / 2
    if (!(swept < volume && effective > 0)) {
      const what = `sweeps ${swept} m³ of ${volume} m³ and leaves an area of ${effective} m²; both must be left`
      fail('out-of-range', within(within(scope, 'travel'), i), what, { value: z, unit: 'm' })
    }
    const left = volume + behind - swept
    // exp and log1p keep the digits of small travels.
    const rise = air.absolutePressure * Math.expm1(-exponent * Math.log1p(-swept / (volume + behind)))
    const pressure = air.absolutePressure + rise
    const gauge = air.gaugePressure + rise
    return {
      force: rise * area + gauge * air.areaGradient * z + air.diaphragmStiffness * z,
      stiffness: (exponent * pressure * effective ** 2) / left + gauge * air.areaGradient + air.diaphragmStiffness,
    }
  }
  const points = Array.from(travel, at)
  const series = (key: 'force' | 'stiffness') =>
    Float64Array.from(points, (point) => finiteResult(scope, key, point[key]))
  return { kind: 'AirSpringForce', travel, force: series('force'), stiffness: series('stiffness') }
}
