import { checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { finiteResult } from '../internal/finite-result.js'
import { dampingChamberOf, gasOf } from './air-spring-gas.js'
import { type AirSpringOptions, type CheckedAirSpring, checkAirSpringOptions } from './air-spring-options.js'
import { checkAirSpring, checkMount, mountRecord } from './check-mount.js'
import { naturalFrequency } from './natural-frequency.js'
import type { AirSpring } from './types.js'

/** An air spring, with or without a damping chamber, linearised about its working height.
 *
 * Gas: n·p_abs·A²/V, V the spring chamber V₁ at high and V₁ + V₂ at low frequency, joined by one relaxing branch of
 * stiffness k₀·V₂/V₁ and time R·V₁·V₂/(n·p_abs·(V₁ + V₂)), k₀ = n·p_abs·A²/(V₁ + V₂). Beside it stand
 * gaugePressure·areaGradient and the diaphragm. 'optimal' is the best elastically supported damper on the spring's own load
 * for the ratio (K(∞) − K(0))/K(0) of all springs side by side; the diaphragm's dashpot and heat exchange are left out of it.
 *
 * With `heatExchange` the gas passes from isothermal to exponent n as 1 + (n − 1)·s·τ/(1 + s·τ), in each chamber, so that
 * K(0), `stiffness` and `naturalFrequency` are isothermal. Measured gas springs are broader in frequency than one time.
 *
 * The gas obeys absolute pressure, the load gauge pressure. A model of motion, not of strength: chambers under pressure are
 * subject to local codes for pressure vessels and to licensed practice.
 * @param options - see {@link AirSpringOptions}
 * @returns the mount with its pressures and its gas part; `stiffness` is K(0), with exponent n unless heat is exchanged
 * @throws {@link IsolationError} `invalid-option`; `out-of-range`, also where a negative areaGradient leaves no stiffness
 * @source Harris' Shock and Vibration Handbook, chapter on air suspension; T. Erin, B. Wilson, J. Zapfe, An improved model
 * of a pneumatic vibration isolator, J. Sound Vib. 218, 1998; chamber equations derived from mass balance and p·Vⁿ, heat
 * exchange from the energy balance m·c_v·T' = −p·V' − G·(T − T_wall)
 * @example
 * import { airSpring } from 'restmass'
 * const spring = airSpring({ area: 0.0125, volume: 0.0065, load: 4412.9925 })
 * spring.naturalFrequency // 0.9278
 */
export function airSpring(options: AirSpringOptions): AirSpring {
  return makeAirSpring(scopeOf('airSpring'), options)
}

/** The same air spring under another load, brought back to its height by a change of pressure.
 *
 * The stiffness of the gas follows absolute pressure, so that the frequency changes much less than that of a metal spring
 * and never falls below √(n·g·A/V)/2π where nothing stands beside the gas. A resistance that was 'optimal' stays what it
 * was, as a laminar restriction does; the lateral mount is kept.
 * @param spring - made by {@link airSpring}
 * @param options - `load`: what one spring carries now [N], above 0
 * @returns the spring with the new pressures
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter on air suspension
 * @example
 * import { airSpring, airSpringAtLoad } from 'restmass'
 * const light = airSpring({ area: 0.0125, volume: 0.0065, load: 1716.16375 })
 * airSpringAtLoad(light, { load: 3432.3275 }).naturalFrequency // 0.9569
 */
export function airSpringAtLoad(spring: AirSpring, options: { readonly load: number }): AirSpring {
  const scope = scopeOf('airSpringAtLoad')
  const { load } = checkOptions(scope, options, ['load'])
  const { area, volume, ambientPressure, polytropicExponent, areaGradient, diaphragmStiffness, damping, ...rest } =
    checkAirSpring(within(scope, 'spring'), spring)
  return makeAirSpring(scope, {
    ...{ area, volume, load, ambientPressure, polytropicExponent, areaGradient, diaphragmStiffness },
    diaphragmDamping: damping,
    ...(rest.dampingChamber === null ? {} : { dampingChamber: rest.dampingChamber }),
    ...(rest.heatExchange === null ? {} : { heatExchange: rest.heatExchange }),
    ...(rest.ratedGaugePressure === null ? {} : { ratedGaugePressure: rest.ratedGaugePressure }),
    ...(rest.lateral === undefined ? {} : { lateral: rest.lateral }),
  })
}

function makeAirSpring(scope: Scope, options: AirSpringOptions): AirSpring {
  const checked = checkAirSpringOptions(scope, options)
  const { chamber, diaphragmDamping, ...kept } = checked
  const { area, gaugePressure, polytropicExponent } = checked
  const load = gaugePressure * area
  const vibrating =
    (polytropicExponent * checked.absolutePressure * area ** 2) / (checked.volume + (chamber?.volume ?? 0))
  const beside = gaugePressure * checked.areaGradient + checked.diaphragmStiffness
  const staticStiffness = finiteResult(scope, 'static stiffness', vibrating / polytropicExponent + beside)
  if (!(staticStiffness > 0)) {
    const what = 'must leave a static stiffness above 0 [N/m]'
    fail('out-of-range', within(scope, 'areaGradient'), what, { value: checked.areaGradient, unit: 'm²/m' })
  }
  const damper = dampingChamberOf(
    within(scope, 'dampingChamber'),
    checked,
    vibrating,
    vibrating + beside,
    load / standardGravity,
  )
  const gas = gasOf(checked, damper?.flowResistance ?? null, damper === null ? [] : [damper.relaxation])
  const stiffness = gas.stiffness + beside
  const lateral =
    options.lateral === undefined ? {} : { lateral: checkMount(within(scope, 'lateral'), options.lateral) }
  return {
    ...mountRecord(scope, { stiffness, damping: diaphragmDamping, relaxations: gas.relaxations, ...lateral }),
    ...kept,
    kind: 'AirSpring',
    load,
    dampingChamber: damper === null ? null : { volume: damper.volume, flowResistance: damper.flowResistance },
    gas,
    staticStiffness,
    naturalFrequency: naturalFrequency({ mass: load / standardGravity, stiffness }),
    cautions: cautionsOf(checked),
  }
}

function cautionsOf({ gaugePressure, ratedGaugePressure }: CheckedAirSpring): string[] {
  if (ratedGaugePressure === null || gaugePressure <= ratedGaugePressure) return []
  const rated = `the rated ${ratedGaugePressure} Pa`
  return [
    `The gauge pressure of ${gaugePressure} Pa is above ${rated}: do not pressurise; follow local pressure-equipment codes.`,
  ]
}
