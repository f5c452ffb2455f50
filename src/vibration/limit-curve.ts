import {
  checkGrid,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { logLogBetween } from '../internal/log-ratio.js'
import { checkSameLength } from './check.js'

/** A limit as a table of corners, in one of three quantities. */
export interface LimitCurveOptions {
  /** Corner frequencies [Hz], ascending, 1e-6 to 1e6; nothing is limited outside */
  readonly frequency: readonly number[] | Float64Array
  /** Allowed velocity at each corner [m/s], above 0; either this, displacement or acceleration */
  readonly velocity?: readonly number[] | Float64Array
  /** Allowed displacement at each corner [m], above 0 */
  readonly displacement?: readonly number[] | Float64Array
  /** Allowed acceleration at each corner [m/s²], above 0 */
  readonly acceleration?: readonly number[] | Float64Array
  /** What the numbers are. @defaultValue `'rms'` */
  readonly statistic?: 'rms' | 'peak' | 'peak-to-peak'
  /** Peak over rms of the motion that the limit is meant for, 1 to 100, needed unless the numbers are rms: √2 for a steady
   * tone, 3 to 4 for random motion, more for shocks */
  readonly crestFactor?: number
  /** Name of the curve. @defaultValue `'custom'` */
  readonly name?: string
}

/** Names of the fields of {@link LimitCurveOptions}. */
export const limitKeys = [
  'frequency',
  'velocity',
  'displacement',
  'acceleration',
  'statistic',
  'crestFactor',
  'name',
] as const

const quantities = ['velocity', 'displacement', 'acceleration'] as const

/** Checks a table of corners; returns its rms velocity [m/s] as a function of frequency between the outer corners. */
export function limitCurve(
  scope: Scope,
  options: LimitCurveOptions,
  keys: readonly string[],
): { name: string; corners: Float64Array; at: (frequency: number) => number } {
  checkOptions(scope, options, keys)
  const corners = checkGrid(scope, 'frequency', options.frequency, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const given = quantities.filter((key) => options[key] !== undefined)
  const quantity = given.length === 0 ? 'velocity' : given[0]
  if (given.length > 1) fail('invalid-option', within(scope, given[1]), `must be left out beside ${given[0]}`)
  const range = { unit: { velocity: 'm/s', displacement: 'm', acceleration: 'm/s²' }[quantity], above: 0 }
  const values = Float64Array.from(checkNumbers(scope, quantity, options[quantity], range))
  checkSameLength(scope, quantity, values, corners)
  const name = options.name ?? 'custom'
  if (typeof name !== 'string' || name === '') {
    fail('invalid-option', within(scope, 'name'), `must be a text that is not empty, got ${show(name)}`)
  }
  const divisor = overRms(scope, options)
  const power = { velocity: 0, displacement: 1, acceleration: -1 }[quantity]
  const at = (frequency: number): number =>
    (between(corners, values, frequency) / divisor) * (2 * Math.PI * frequency) ** power
  return { name, corners, at }
}

/** What a limit has to be divided by to be an rms. */
function overRms(scope: Scope, { statistic, crestFactor }: LimitCurveOptions): number {
  const given = statistic === undefined ? 'rms' : checkOneOf(scope, 'statistic', statistic, statistics)
  if (given === 'rms') {
    if (crestFactor !== undefined) fail('invalid-option', within(scope, 'crestFactor'), 'must be left out for rms')
    return 1
  }
  const crest = checkNumber(scope, 'crestFactor', crestFactor, { atLeast: 1, atMost: 100 })
  return given === 'peak' ? crest : 2 * crest
}

const statistics = ['rms', 'peak', 'peak-to-peak'] as const

function between(corners: Float64Array, values: Float64Array, frequency: number): number {
  const right = corners.findIndex((corner) => corner >= frequency)
  if (corners[right] === frequency) return values[right]
  return logLogBetween(frequency, corners[right - 1], values[right - 1], corners[right], values[right])
}
