import { checkNumber, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkAirSpring } from './check-mount.js'
import { relaxationAt, stiffnessAt } from './dynamic-stiffness.js'
import type { AirSpring } from './types.js'

/** Options of {@link restrictionFlow}. */
export interface RestrictionFlowOptions {
  /** [Hz], above 0 */
  readonly frequency: number
  /** Amplitude of the motion across the spring [m], above 0 */
  readonly stretch: number
}

/** Amplitude of the volume flow through the restriction of a damping chamber while the spring moves [m³/s].
 *
 * Feeds `flow` of {@link laminarFlowResistance} and {@link orificeFlowResistance}; times the resistance of the chamber it is
 * the pressure drop. Q = s·K_gas·Z/A / (s·R + n·p_abs/V₂).
 * @param spring - made by {@link airSpring}, with a damping chamber
 * @param options - see {@link RestrictionFlowOptions}
 * @returns the amplitude, at the pressure of the chambers
 * @throws {@link IsolationError} `invalid-option` without a damping chamber, `out-of-range`, `not-finite`
 * @source derived: mass balance of both chambers, as in {@link airSpring}
 * @example
 * import { airSpring, restrictionFlow } from 'restmass'
 * const dampingChamber = { volume: 0.003, flowResistance: 'optimal' } as const
 * const spring = airSpring({ area: 0.01, volume: 0.001, load: 2941.995, dampingChamber })
 * restrictionFlow(spring, { frequency: 2, stretch: 1e-4 }) // 7.60778e-6
 */
export function restrictionFlow(spring: AirSpring, options: RestrictionFlowOptions): number {
  const scope = scopeOf('restrictionFlow')
  const air = checkAirSpring(within(scope, 'spring'), spring)
  checkOptions(scope, options, ['frequency', 'stretch'])
  const omega = 2 * Math.PI * checkNumber(scope, 'frequency', options.frequency, { unit: 'Hz', above: 0 })
  const stretch = checkNumber(scope, 'stretch', options.stretch, { unit: 'm', above: 0 })
  const { dampingChamber: chamber, heatExchange, polytropicExponent } = air
  if (chamber === null) fail('invalid-option', within(scope, 'spring.dampingChamber'), 'must be there')
  const pressure = stiffnessAt({ ...air.gas, damping: 0 }, omega)
  const heat = heatExchange === null ? { re: 1, im: 0 } : relaxationAt(omega * heatExchange.time)
  const exponent = { re: 1 + (polytropicExponent - 1) * heat.re, im: (polytropicExponent - 1) * heat.im }
  const perVolume = air.absolutePressure / chamber.volume
  const opposed = Math.hypot(exponent.re * perVolume, exponent.im * perVolume + omega * chamber.flowResistance)
  const driven = (omega * Math.hypot(pressure.re, pressure.im) * stretch) / air.area
  return finiteResult(scope, 'flow', driven / opposed)
}
