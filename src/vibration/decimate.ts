import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { butterworthDamping } from '../systems/butterworth.js'
import { secondOrder } from '../systems/section.js'
import { checkQuantity, checkSamples } from './check.js'
import { filteredRecord } from './filter-record.js'
import type { VibrationRecord } from './record-types.js'
import { checkSampleRate } from './segmentation.js'
import type { Quantity } from './types.js'

/** Options of {@link decimate}. */
export interface DecimateOptions {
  /** Record in time [unit], at least one sample */
  readonly samples: readonly number[] | Float64Array
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** What was measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** Every how many-th sample is kept, a whole number from 2 to 10000 */
  readonly factor: number
  /** Corner of the low-pass [Hz], above 0 and below half the new sample rate. @defaultValue 0.35 of the new sample rate */
  readonly cutoff?: number
}

/** A record at a lower sample rate, after a low-pass that keeps higher frequencies from folding into it.
 *
 * Butterworth of order 16 in second-order sections, then every `factor`-th sample from the first on. With the default corner
 * the amplitude is right within 0.1 % up to 0.28 of the new rate, and what would fold into that range is at least 100 000 times
 * smaller. The filter delays by about 1.6/cutoff and starts at rest under the first sample: allow it some 10/cutoff. Use bands
 * and lines up to 0.28 of the new rate only.
 * @param options - see {@link DecimateOptions}
 * @returns record at sampleRate/factor
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, 3rd edition 2010, section 4.6; S. Butterworth, On the
 * theory of filter amplifiers, Experimental Wireless 7, 1930
 * @example
 * import { decimate } from 'restmass'
 * const samples = Array.from({ length: 4000 }, (_, n) => Math.sin(2 * Math.PI * 0.118 * n))
 * const slow = decimate({ samples, sampleRate: 1000, factor: 10 }).samples
 * Math.max(...slow.slice(100)) < 1e-6 // true
 */
export function decimate(options: DecimateOptions): VibrationRecord {
  const scope = scopeOf('decimate')
  checkOptions(scope, options, ['samples', 'sampleRate', 'quantity', 'factor', 'cutoff'])
  const samples = checkSamples(scope, 'samples', options.samples)
  if (samples.length === 0) fail('out-of-range', within(scope, 'samples'), 'must hold at least 1 sample, got 0')
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const factor = checkNumber(scope, 'factor', options.factor, { integer: true, atLeast: 2, atMost: 10000 })
  const slowRate = sampleRate / factor
  const range = { unit: 'Hz', above: 0, below: slowRate / 2 }
  const cutoff = checkOptional(scope, 'cutoff', options.cutoff, range, 0.35 * slowRate)
  const kept = decimated(samples, sampleRate, factor, cutoff)
  return { kind: 'VibrationRecord', samples: kept, sampleRate: slowRate, quantity, findings: [] }
}

/** Every `factor`-th sample of the record behind the low-pass. */
export function decimated(samples: Float64Array, sampleRate: number, factor: number, cutoff: number): Float64Array {
  const sections = butterworthDamping(order).map((damping) => secondOrder(2 * Math.PI * cutoff, damping, { level: 1 }))
  const filtered = filteredRecord(scopeOf('decimate'), samples, sampleRate, sections, cutoff)
  return Float64Array.from({ length: Math.ceil(samples.length / factor) }, (_, n) => filtered[n * factor])
}

const order = 16
