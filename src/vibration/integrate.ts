import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { type ChangeOptions, changeInTime } from './change-in-time.js'
import { checkQuantity } from './check.js'
import type { Factor } from './filter-in-frequency.js'
import type { VibrationRecord } from './record-types.js'
import type { Quantity } from './types.js'

/** Options of {@link integrate}. */
export interface IntegrateOptions extends ChangeOptions {
  /** Corner of a second-order Butterworth high-pass [Hz], above 0 and below half the sample rate, with the method `'time'`.
   * @defaultValue none: what drift remains is left */
  readonly highPass?: number
}

/** Integral of a record over time: velocity of an acceleration, displacement of a velocity.
 *
 * The trend is taken out first and returned. In time: trapezoids from 0 at the first sample, behind the high-pass if there is
 * one; amplitudes are right by the factor (πfT)/tan(πfT). In frequency: division by 2πi·f from band[0] to band[1], nothing
 * outside; the record is taken as periodic, so that its ends disturb each other over some 1/band[0]. Integration turns
 * the noise of a sensor into drift: state a corner.
 * @param options - see {@link IntegrateOptions}
 * @returns record of the integral [unit·s], with the trend that was removed
 * @throws {@link IsolationError} `unsupported` for displacement and force; `out-of-range`, `not-finite`, `invalid-option`
 * @source A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, 3rd edition 2010, section 7.2 (the trapezoid is the
 * bilinear map of 1/s)
 * @example
 * import { integrate } from 'restmass'
 * const samples = Array.from({ length: 1000 }, (_, n) => Math.cos((2 * Math.PI * n) / 100) + 0.3)
 * const velocity = integrate({ samples, sampleRate: 100, method: 'frequency', band: [0.5, 5] })
 * velocity.samples[25] // 0.159155
 */
export function integrate(options: IntegrateOptions): VibrationRecord {
  const scope = scopeOf('integrate')
  return changeInTime(scope, options, ['highPass'], {
    detrend: 'mean',
    quantity: nextQuantity(scope, options?.quantity, -1),
    highPass: options?.highPass,
    inTime: trapezoids,
    factor: (frequency): Factor => [0, -1 / (2 * Math.PI * frequency)],
  })
}

/** The quantity `steps` derivatives away. */
export function nextQuantity(scope: Scope, value: Quantity | undefined, steps: 1 | -1): Quantity {
  const quantity = value === undefined ? 'unspecified' : checkQuantity(scope, value)
  if (quantity === 'unspecified') return quantity
  const found = motions[(motions as readonly string[]).indexOf(quantity) + steps]
  if (found !== undefined && quantity !== 'force') return found
  const what = steps < 0 ? 'an integral' : 'a derivative'
  fail('unsupported', within(scope, 'quantity'), `has no quantity that is ${what} of ${quantity}; leave it unspecified`)
}

const motions = ['displacement', 'velocity', 'acceleration'] as const

function trapezoids(samples: Float64Array, sampleRate: number): Float64Array {
  const result = new Float64Array(samples.length)
  for (let n = 1; n < samples.length; n++) result[n] = result[n - 1] + (samples[n - 1] + samples[n]) / (2 * sampleRate)
  return result
}
