import { scopeOf } from '../internal/check.js'
import { type ChangeOptions, changeInTime } from './change-in-time.js'
import type { Factor } from './filter-in-frequency.js'
import { nextQuantity } from './integrate.js'
import type { VibrationRecord } from './record-types.js'

/** Options of {@link differentiate}. */
export interface DifferentiateOptions extends ChangeOptions {}

/** Derivative of a record: velocity of a displacement, acceleration of a velocity.
 *
 * The trend is taken out first and returned (none by default). In time: central differences, parabolas through three samples
 * at the ends; amplitudes are right by the factor sin(2πfT)/(2πfT), so it takes ten samples per period for 7 %. In frequency:
 * multiplication by 2πi·f from band[0] to band[1], nothing outside; the record is taken as periodic.
 * @param options - see {@link DifferentiateOptions}
 * @returns record of the derivative [unit/s], with the trend that was removed
 * @throws {@link IsolationError} `unsupported` for acceleration and force; `out-of-range` for fewer than three samples in time;
 * `not-finite`, `invalid-option`
 * @source common practice, no source
 * @example
 * import { differentiate } from 'restmass'
 * const samples = Array.from({ length: 50 }, (_, n) => (n / 10) ** 2)
 * differentiate({ samples, sampleRate: 10, quantity: 'displacement' }).samples[20] // 4
 */
export function differentiate(options: DifferentiateOptions): VibrationRecord {
  const scope = scopeOf('differentiate')
  return changeInTime(scope, options, [], {
    detrend: 'none',
    quantity: nextQuantity(scope, options?.quantity, 1),
    highPass: undefined,
    inTime: differences,
    factor: (frequency): Factor => [0, 2 * Math.PI * frequency],
  })
}

function differences(samples: Float64Array, sampleRate: number): Float64Array {
  const last = samples.length - 1
  return samples.map((_, n) => {
    const middle = Math.min(Math.max(n, 1), last - 1)
    const slope = (samples[middle + 1] - samples[middle - 1]) / 2
    const bend = samples[middle + 1] - 2 * samples[middle] + samples[middle - 1]
    return (slope + (n - middle) * bend) * sampleRate
  })
}
