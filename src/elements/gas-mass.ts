import { checkNumber, checkOptions, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkAirSpring } from './check-mount.js'
import { type GasOptions, gasKeys, pressurePerDensity } from './gas-state.js'
import type { AirSpring } from './types.js'

/** Options of {@link levellingConsumption}. */
export interface LevellingConsumptionOptions extends GasOptions {
  /** What the spring carries at the other end of the cycle [N], above 0 */
  readonly load: number
}

/** Gas that height control uses up in one cycle of the load; made by {@link levellingConsumption}. */
export interface LevellingConsumption {
  readonly kind: 'LevellingConsumption'
  /** Gas let in, and later vented, per cycle and spring [kg] */
  readonly gasMass: number
  /** The same as volume at ambient pressure and the temperature of the gas [m³]; null in a vacuum */
  readonly freeVolume: number | null
}

/** Mass of the gas in an air spring, both chambers [kg].
 *
 * m = p_abs·V/(R·T).
 * @param spring - made by {@link airSpring}
 * @param options - temperature [K] and specific gas constant [J/(kg·K)]. @defaultValue 293.15 K, dry air
 * @returns the mass [kg]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: ideal gas
 * @example
 * import { airSpring, gasMass } from 'restmass'
 * gasMass(airSpring({ area: 0.01, volume: 0.001, gaugePressure: 298675 })) // 0.0047535
 */
export function gasMass(spring: AirSpring, options: GasOptions = {}): number {
  const scope = scopeOf('gasMass')
  checkOptions(scope, options, gasKeys)
  const air = checkAirSpring(within(scope, 'spring'), spring)
  return finiteResult(scope, 'mass', (air.absolutePressure * volumeOf(air)) / pressurePerDensity(scope, options))
}

/** Gas that levelling uses when the load of one spring goes to another value and back, at constant height.
 *
 * Δm = |Δload|/A·V/(R·T): let in as the load grows, vented as it falls. Leakage and hunting of the valve come on top.
 * @param spring - made by {@link airSpring}
 * @param options - see {@link LevellingConsumptionOptions}
 * @returns the mass and its free volume, per cycle and spring
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: ideal gas, temperature equalised at both ends
 * @example
 * import { airSpring, levellingConsumption } from 'restmass'
 * const spring = airSpring({ area: 0.01, volume: 0.001, load: 2000 })
 * levellingConsumption(spring, { load: 3013.25 }).freeVolume // 0.001
 */
export function levellingConsumption(spring: AirSpring, options: LevellingConsumptionOptions): LevellingConsumption {
  const scope = scopeOf('levellingConsumption')
  checkOptions(scope, options, ['load', ...gasKeys])
  const air = checkAirSpring(within(scope, 'spring'), spring)
  const load = checkNumber(scope, 'load', options.load, { unit: 'N', above: 0 })
  const energy = (Math.abs(load - air.load) / air.area) * volumeOf(air)
  const free = energy / air.ambientPressure
  return {
    kind: 'LevellingConsumption',
    gasMass: finiteResult(scope, 'mass', energy / pressurePerDensity(scope, options)),
    freeVolume: air.ambientPressure === 0 ? null : finiteResult(scope, 'free volume', free),
  }
}

function volumeOf({ volume, dampingChamber }: AirSpring): number {
  return volume + (dampingChamber?.volume ?? 0)
}
