import type { AirSpring } from '../elements/types.js'
import { checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import type { PayloadOptions } from './bodies.js'
import type { FloorOptions } from './floor-mobility.js'
import type { LevellingOptions } from './levelling.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'
import { suspendedStorey } from './passive-isolation.js'

/** Options of {@link pneumaticIsolation}. */
export interface PneumaticIsolationOptions {
  readonly payload: PayloadOptions
  /** One air spring; `count` of them must carry what stands on them within 1 % */
  readonly mount: AirSpring
  /** Number of air springs in parallel, above 0. @defaultValue 1 */
  readonly count?: number
  /** Height control. @defaultValue none */
  readonly levelling?: LevellingOptions
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions
}

/** Model of a payload on air springs, with or without height control, vertical axis.
 *
 * T = K/(m s² + K); levelling multiplies the gas part of K by 1 + κ/s with κ = flowGain/area. Levelling alone is not
 * active isolation: it has no inertial sensor. Compressed gas: follow local pressure-vessel codes and licensed practice.
 * @param options - see {@link PneumaticIsolationOptions}
 * @returns the diagram and the closed model; with levelling one loop, `levelling`
 * @throws {@link IsolationError} `invalid-option` where the springs do not carry the load; `out-of-range`, `not-finite`
 * @source derived: ideal gas of constant mass, polytropic; gas flow in proportion to the height error
 * @example
 * import { airSpring, loopMargins, pneumaticIsolation } from 'restmass'
 * const mount = airSpring({ area: 0.01, volume: 0.002, load: 2451.6625, diaphragmDamping: 800 })
 * const model = pneumaticIsolation({ payload: { mass: 1000 }, mount, count: 4, levelling: { flowGain: 0.005 } })
 * loopMargins(model)[0].margins.closedLoop // 'stable'
 */
export function pneumaticIsolation(options: PneumaticIsolationOptions): IsolationModel {
  return closeStorey(pneumaticStorey(scopeOf('pneumaticIsolation'), options, 0))
}

export function pneumaticStorey(scope: Scope, options: PneumaticIsolationOptions, above: number): Storey {
  checkOptions(scope, options, ['payload', 'mount', 'count', 'levelling', 'floor'])
  if ((options.mount as { kind?: unknown } | undefined)?.kind !== 'AirSpring') {
    fail('invalid-option', within(scope, 'mount'), 'must be an air spring, made by airSpring({ … })')
  }
  return suspendedStorey('pneumatic', scope, options, above)
}
