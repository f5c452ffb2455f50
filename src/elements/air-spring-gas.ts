import type { Scope } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { CheckedAirSpring } from './air-spring-options.js'
import { mountsInSeries } from './mounts-in-series.js'
import { optimalDamping } from './optimal-relaxation.js'
import type { AirSpring, Relaxation } from './types.js'

/** The gas of an air spring as springs and dashpots.
 *
 * The chamber equations are those of two springs in series, one of them with a dashpot across it: A/p₁' adds to A/p₂' as
 * compliances do, the restriction is R·A². Heat exchange makes each spring relax from n = 1 to the exponent n.
 * @source derived: p' / p = −[1 + (n − 1)·s·τ/(1 + s·τ)]·V'/V from the energy balance m·c_v·T' = −p·V' − G·(T − T_wall),
 * τ = m·c_v/G; confirmed by a direct solution of the chamber equations
 */
export function gasOf(
  spring: CheckedAirSpring,
  flowResistance: number | null,
  adiabatic: readonly Relaxation[],
): AirSpring['gas'] {
  const { area, volume, absolutePressure, polytropicExponent, heatExchange, chamber } = spring
  const isothermal = (absolutePressure * area ** 2) / (volume + (chamber?.volume ?? 0))
  if (heatExchange === null) return { stiffness: polytropicExponent * isothermal, relaxations: adiabatic }
  const part = (size: number) => {
    const stiffness = (absolutePressure * area ** 2) / size
    return { stiffness, relaxations: [{ stiffness: (polytropicExponent - 1) * stiffness, time: heatExchange.time }] }
  }
  if (chamber === null || flowResistance === null) return part(volume)
  const behind = { ...part(chamber.volume), damping: flowResistance * area ** 2 }
  return { stiffness: isothermal, relaxations: mountsInSeries(part(volume), behind).relaxations }
}

/** Damping chamber with its resistance worked out, and the branch it makes with exponent n; null without one. */
export function dampingChamberOf(
  scope: Scope,
  spring: CheckedAirSpring,
  gasStiffness: number,
  stiffness: number,
  mass: number,
): (NonNullable<AirSpring['dampingChamber']> & { readonly relaxation: Relaxation }) | null {
  const { chamber } = spring
  if (chamber === null) return null
  const branch = (gasStiffness * chamber.volume) / spring.volume
  const series = spring.volume / (1 + spring.volume / chamber.volume)
  const timePerResistance = series / (spring.polytropicExponent * spring.absolutePressure)
  const time =
    chamber.flowResistance === 'optimal'
      ? optimalDamping(branch / stiffness, stiffness, mass) / branch
      : chamber.flowResistance * timePerResistance
  const relaxation: Relaxation = { stiffness: branch, time }
  const flowResistance = chamber.flowResistance === 'optimal' ? time / timePerResistance : chamber.flowResistance
  return { volume: chamber.volume, flowResistance: finiteResult(scope, 'flow resistance', flowResistance), relaxation }
}
