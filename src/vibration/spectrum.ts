import { checkGrid, checkNumber, checkNumbers, checkOptions, fail, type Range, scopeOf } from '../internal/check.js'
import { checkQuantity, checkSameLength, checkSupport, densityRange, frequencyRange } from './check.js'
import type { Quantity, Spectrum, Support } from './types.js'

/** Options of {@link spectrum}. */
export interface SpectrumOptions {
  /** What was measured; it sets the unit: m/s², m/s, m, N, Pa or rad. */
  readonly quantity: Quantity
  /** [Hz], strictly ascending, at least 0 */
  readonly frequency: readonly number[] | Float64Array
  /** One-sided power spectral density [unit²/Hz], at least 0; this or `amplitudeDensity` */
  readonly density?: readonly number[] | Float64Array
  /** Its square root [unit/√Hz], at least 0; this or `density` */
  readonly amplitudeDensity?: readonly number[] | Float64Array
  /** What lies between the entries. @defaultValue `'lines'` for three or more equally spaced frequencies, else `'points'` */
  readonly support?: Support
  /** Number of segments that were averaged, at least 1. @defaultValue not known */
  readonly averages?: number
}

/** A spectral density from a table.
 *
 * One-sided, either as power density or as amplitude density. Two entries are taken as points unless `support` says
 * otherwise.
 * @param options - see {@link SpectrumOptions}
 * @returns the checked spectrum; the input is copied
 * @throws {@link IsolationError} `invalid-option` for both or neither density and a grid that does not ascend;
 * `dimension-mismatch`; `out-of-range`; `not-finite`
 * @source common practice, no source
 * @example
 * import { rms, spectrum } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [1, 100], amplitudeDensity: [1e-6, 1e-6] })
 * rms(floor, { from: 1, to: 100 }) // 9.9499e-6
 */
export function spectrum(options: SpectrumOptions): Spectrum {
  const scope = scopeOf('spectrum')
  checkOptions(scope, options, ['quantity', 'frequency', 'density', 'amplitudeDensity', 'support', 'averages'])
  const quantity = checkQuantity(scope, options.quantity)
  const frequency = checkGrid(scope, 'frequency', options.frequency, frequencyRange)
  if ((options.density === undefined) === (options.amplitudeDensity === undefined)) {
    fail('invalid-option', scope, 'needs either density or amplitudeDensity, and not both')
  }
  const key = options.density === undefined ? 'amplitudeDensity' : 'density'
  const range = key === 'density' ? densityRange : amplitudeRange
  const density = Float64Array.from(checkNumbers(scope, key, options[key], range))
  checkSameLength(scope, key, density, frequency)
  if (key === 'amplitudeDensity') for (let k = 0; k < density.length; k++) density[k] *= density[k]
  const support = checkSupport(scope, options.support, frequency)
  if (options.averages === undefined) return { kind: 'Spectrum', quantity, frequency, density, support }
  const averages = checkNumber(scope, 'averages', options.averages, { integer: true, atLeast: 1 })
  return { kind: 'Spectrum', quantity, frequency, density, support, averages }
}

const amplitudeRange: Range = { unit: 'unit/√Hz', atLeast: 0, atMost: 1e100 }
