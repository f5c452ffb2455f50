import { checkNumber, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import { standardAtmosphere } from '../internal/constants.js'
import type { AirSpring, Mount } from './types.js'

/** Options of {@link airSpring}, for one spring. */
export interface AirSpringOptions {
  /** Effective area [m²], above 0 */
  readonly area: number
  /** Volume of the spring chamber at working height [m³], above 0 and above what `stroke` sweeps */
  readonly volume: number
  /** What one spring carries [N], above 0; give this or `gaugePressure` */
  readonly load?: number
  /** Pressure above ambient [Pa], above 0; give this or `load` */
  readonly gaugePressure?: number
  /** Ambient pressure [Pa], at least 0. @defaultValue 101 325 */
  readonly ambientPressure?: number
  /** Exponent n of p·Vⁿ = constant in vibration, 1 (isothermal) to 1.7. @defaultValue 1.4 */
  readonly polytropicExponent?: number
  /** Heat that the gas exchanges with the walls. @defaultValue none: exponent n at every frequency */
  readonly heatExchange?: HeatExchangeOptions
  /** Growth of the effective area with compression [m²/m], negative for a rolling lobe on a taper. @defaultValue 0 */
  readonly areaGradient?: number
  /** Stiffness of the diaphragm beside the gas [N/m], at least 0. @defaultValue 0 */
  readonly diaphragmStiffness?: number
  /** Dashpot of the diaphragm beside the gas [N·s/m], at least 0. @defaultValue 0 */
  readonly diaphragmDamping?: number
  /** A second chamber behind a laminar restriction. @defaultValue none */
  readonly dampingChamber?: DampingChamberOptions
  /** Compression from working height to the stop [m], above 0. @defaultValue not known */
  readonly stroke?: number
  /** Pressure above ambient for which the spring is rated [Pa], above 0; beyond it stands a caution. @defaultValue not known */
  readonly ratedGaugePressure?: number
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

/** Heat exchange of {@link airSpring}. */
export interface HeatExchangeOptions {
  /** Time in which a temperature difference decays to 1/e at constant volume, heat capacity m·c_v over wall conductance
   * [s], above 0; the same in both chambers */
  readonly time: number
}

type Kept =
  | 'area'
  | 'volume'
  | 'gaugePressure'
  | 'ambientPressure'
  | 'absolutePressure'
  | 'ratedGaugePressure'
  | 'polytropicExponent'
  | 'heatExchange'
  | 'areaGradient'
  | 'diaphragmStiffness'

/** Options with their defaults, as far as the record keeps them, and what becomes something else. */
export interface CheckedAirSpring extends Pick<AirSpring, Kept> {
  readonly diaphragmDamping: number
  readonly chamber: DampingChamberOptions | null
}

export function checkAirSpringOptions(scope: Scope, options: AirSpringOptions): CheckedAirSpring {
  const geometry = ['area', 'volume', 'areaGradient', 'diaphragmStiffness', 'diaphragmDamping', 'dampingChamber']
  const state = ['load', 'gaugePressure', 'ambientPressure', 'ratedGaugePressure', 'polytropicExponent', 'heatExchange']
  checkOptions(scope, options, [...geometry, 'stroke', ...state, 'lateral'])
  const area = checkNumber(scope, 'area', options.area, { unit: 'm²', above: 0 })
  const volume = checkNumber(scope, 'volume', options.volume, { unit: 'm³', above: 0 })
  const swept = area * checkOptional(scope, 'stroke', options.stroke, { unit: 'm', above: 0 }, 0)
  if (!(volume > swept)) {
    const allowed = `above the ${swept} m³ that the stroke sweeps`
    fail('out-of-range', within(scope, 'volume'), `must be ${allowed}, got ${volume}`, {
      value: volume,
      allowed,
      unit: 'm³',
    })
  }
  const positive = { unit: 'Pa', above: 0 }
  const ambient = { unit: 'Pa', atLeast: 0 }
  const ambientPressure = checkOptional(scope, 'ambientPressure', options.ambientPressure, ambient, standardAtmosphere)
  const gaugePressure = checkPressure(scope, options, area)
  const exponent = options.polytropicExponent
  return {
    area,
    volume,
    gaugePressure,
    ambientPressure,
    absolutePressure: gaugePressure + ambientPressure,
    ratedGaugePressure: checkOptional(scope, 'ratedGaugePressure', options.ratedGaugePressure, positive, null),
    polytropicExponent: checkOptional(scope, 'polytropicExponent', exponent, { atLeast: 1, atMost: 1.7 }, 1.4),
    heatExchange: options.heatExchange === undefined ? null : checkHeat(scope, options.heatExchange),
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

function checkHeat(scope: Scope, options: HeatExchangeOptions): HeatExchangeOptions {
  const at = within(scope, 'heatExchange')
  checkOptions(at, options, ['time'])
  return { time: checkNumber(at, 'time', options.time, { unit: 's', above: 0 }) }
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
