import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { standardAtmosphere, standardGravity } from '../internal/constants.js'
import { checkMount, mountRecord } from './check-mount.js'
import { naturalFrequency } from './natural-frequency.js'
import { optimalDamping } from './optimal-relaxation.js'
import type { AirSpring, Mount, Relaxation } from './types.js'

/** Options of {@link airSpring}, for one spring. */
export interface AirSpringOptions {
  /** Effective area [m²], above 0 */
  readonly area: number
  /** Volume of the spring chamber at working height [m³], above 0 */
  readonly volume: number
  /** What one spring carries [N], above 0; give this or `gaugePressure` */
  readonly load?: number
  /** Pressure above ambient [Pa], above 0; give this or `load` */
  readonly gaugePressure?: number
  /** Ambient pressure [Pa], at least 0. @defaultValue 101 325 */
  readonly ambientPressure?: number
  /** Exponent n of p·Vⁿ = constant in vibration, 1 (isothermal) to 1.7. @defaultValue 1.4 */
  readonly polytropicExponent?: number
  /** Growth of the effective area with compression [m²/m], negative for a rolling lobe on a taper. @defaultValue 0 */
  readonly areaGradient?: number
  /** Stiffness of the diaphragm beside the gas [N/m], at least 0. @defaultValue 0 */
  readonly diaphragmStiffness?: number
  /** Dashpot of the diaphragm beside the gas [N·s/m], at least 0. @defaultValue 0 */
  readonly diaphragmDamping?: number
  /** A second chamber behind a laminar restriction. @defaultValue none */
  readonly dampingChamber?: DampingChamberOptions
  /** The same spring sideways. @defaultValue not known */
  readonly lateral?: Mount
}

/** Damping chamber of {@link airSpring}. */
export interface DampingChamberOptions {
  /** Volume [m³], above 0 */
  readonly volume: number
  /** Pressure drop per volume flow [Pa·s/m³], above 0, or 'optimal' for the lowest peak of absolute transmissibility */
  readonly flowResistance: number | 'optimal'
}

/** An air spring, with or without a damping chamber, linearised about its working height.
 *
 * Gas: n·p_abs·A²/V, V the spring chamber V₁ at high and V₁ + V₂ at low frequency, joined by one relaxing branch of
 * stiffness k₀·V₂/V₁ and time R·V₁·V₂/(n·p_abs·(V₁ + V₂)), k₀ = n·p_abs·A²/(V₁ + V₂). Beside it stand
 * gaugePressure·areaGradient and the diaphragm. 'optimal' is the best elastically supported damper on the spring's own load
 * for the ratio (K(∞) − K(0))/K(0) of all springs side by side; the diaphragm's dashpot is left out of that ratio.
 *
 * The gas obeys absolute pressure, the load gauge pressure. A model of motion, not of strength: chambers under pressure are
 * subject to local codes for pressure vessels and to licensed practice.
 * @param options - see {@link AirSpringOptions}
 * @returns the mount with its pressures and its gas part; `stiffness` is K(0) with exponent n
 * @throws {@link IsolationError} `invalid-option`; `out-of-range`, also where a negative areaGradient leaves no stiffness
 * @source Harris' Shock and Vibration Handbook, chapter on air suspension; T. Erin, B. Wilson, J. Zapfe, An improved model
 * of a pneumatic vibration isolator, J. Sound Vib. 218, 1998; chamber equations derived from mass balance and p·Vⁿ
 * @example
 * import { airSpring } from 'restmass'
 * const spring = airSpring({ area: 0.0125, volume: 0.0065, load: 4412.9925 })
 * spring.naturalFrequency // 0.9278
 */
export function airSpring(options: AirSpringOptions): AirSpring {
  const scope = scopeOf('airSpring')
  const checked = checkAirSpringOptions(scope, options)
  const { area, gaugePressure, absolutePressure, volume, polytropicExponent, diaphragmDamping } = checked
  const load = gaugePressure * area
  const totalVolume = volume + (checked.chamber?.volume ?? 0)
  const gasStiffness = (polytropicExponent * absolutePressure * area ** 2) / totalVolume
  const beside = gaugePressure * checked.areaGradient + checked.diaphragmStiffness
  const stiffness = gasStiffness + beside
  const staticStiffness = gasStiffness / polytropicExponent + beside
  if (!(staticStiffness > 0)) {
    const what = `leaves a static stiffness of ${staticStiffness} N/m, must leave one above 0 [N/m]`
    fail('out-of-range', within(scope, 'areaGradient'), what, { value: checked.areaGradient, unit: 'm²/m' })
  }
  const damper = dampingChamber(checked, gasStiffness, stiffness, load / standardGravity)
  const relaxations = damper === null ? [] : [damper.relaxation]
  const lateral =
    options.lateral === undefined ? {} : { lateral: checkMount(within(scope, 'lateral'), options.lateral) }
  return {
    ...mountRecord(scope, { stiffness, damping: diaphragmDamping, relaxations, ...lateral }),
    kind: 'AirSpring',
    area,
    volume,
    gaugePressure,
    ambientPressure: checked.ambientPressure,
    absolutePressure,
    load,
    polytropicExponent,
    dampingChamber: damper === null ? null : { volume: damper.volume, flowResistance: damper.flowResistance },
    gas: { stiffness: gasStiffness, relaxations },
    staticStiffness,
    naturalFrequency: naturalFrequency({ mass: load / standardGravity, stiffness }),
  }
}

type Checked = ReturnType<typeof checkAirSpringOptions>

function dampingChamber({ chamber, ...spring }: Checked, gasStiffness: number, stiffness: number, mass: number) {
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
  return { volume: chamber.volume, flowResistance, relaxation }
}

function checkAirSpringOptions(scope: Scope, options: AirSpringOptions) {
  const geometry = ['area', 'volume', 'areaGradient', 'diaphragmStiffness', 'diaphragmDamping', 'dampingChamber']
  const state = ['load', 'gaugePressure', 'ambientPressure', 'polytropicExponent', 'lateral']
  checkOptions(scope, options, [...geometry, ...state])
  const area = checkNumber(scope, 'area', options.area, { unit: 'm²', above: 0 })
  const ambient = options.ambientPressure
  const ambientPressure = checkOptional(
    scope,
    'ambientPressure',
    ambient,
    { unit: 'Pa', atLeast: 0 },
    standardAtmosphere,
  )
  const gaugePressure = checkPressure(scope, options, area)
  const exponent = options.polytropicExponent
  return {
    area,
    volume: checkNumber(scope, 'volume', options.volume, { unit: 'm³', above: 0 }),
    gaugePressure,
    ambientPressure,
    absolutePressure: gaugePressure + ambientPressure,
    polytropicExponent: checkOptional(scope, 'polytropicExponent', exponent, { atLeast: 1, atMost: 1.7 }, 1.4),
    areaGradient: checkOptional(scope, 'areaGradient', options.areaGradient, { unit: 'm²/m' }, 0),
    diaphragmStiffness: checkBeside(scope, 'diaphragmStiffness', options.diaphragmStiffness, 'N/m'),
    diaphragmDamping: checkBeside(scope, 'diaphragmDamping', options.diaphragmDamping, 'N·s/m'),
    chamber: options.dampingChamber === undefined ? null : checkChamber(scope, options.dampingChamber),
  }
}

function checkPressure(scope: Scope, options: AirSpringOptions, area: number): number {
  if ((options.load === undefined) === (options.gaugePressure === undefined)) {
    const given = options.load === undefined ? 'neither' : 'both'
    fail('invalid-option', scope, `must have either load [N] or gaugePressure [Pa], got ${given}`)
  }
  if (options.load !== undefined) return checkNumber(scope, 'load', options.load, { unit: 'N', above: 0 }) / area
  return checkNumber(scope, 'gaugePressure', options.gaugePressure, { unit: 'Pa', above: 0 })
}

function checkBeside(scope: Scope, key: string, value: unknown, unit: string): number {
  return checkOptional(scope, key, value, { unit, atLeast: 0 }, 0)
}

function checkChamber(scope: Scope, options: DampingChamberOptions): DampingChamberOptions {
  const at = within(scope, 'dampingChamber')
  checkOptions(at, options, ['volume', 'flowResistance'])
  const volume = checkNumber(at, 'volume', options.volume, { unit: 'm³', above: 0 })
  const given: unknown = options.flowResistance
  if (given === 'optimal') return { volume, flowResistance: given }
  if (typeof given === 'string') {
    fail('invalid-option', within(at, 'flowResistance'), `must be a number [Pa·s/m³] or 'optimal', got '${given}'`)
  }
  return { volume, flowResistance: checkNumber(at, 'flowResistance', given, { unit: 'Pa·s/m³', above: 0 }) }
}
