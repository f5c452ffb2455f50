import { checkNumber, checkOneOf, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import { secondOrder } from '../systems/section.js'
import { checkSamples } from './check.js'
import { type Factor, filteredInFrequency } from './filter-in-frequency.js'
import { filteredRecord } from './filter-record.js'
import type { VibrationRecord } from './record-types.js'
import { checkSampleRate } from './segmentation.js'
import { trendOf } from './trend.js'
import type { Detrend, Quantity } from './types.js'
import { detrends } from './window-values.js'

/** What integration and differentiation have in common. */
export interface ChangeOptions {
  /** Record in time [unit], at least three samples */
  readonly samples: readonly number[] | Float64Array
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** What was measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** What is taken out first. @defaultValue `'mean'` to integrate, `'none'` to differentiate */
  readonly detrend?: Detrend
  /** Sample by sample, or line by line of the transform of the whole record. @defaultValue `'time'` */
  readonly method?: 'time' | 'frequency'
  /** Frequencies that are kept [Hz], ends included, above 0; with the method `'frequency'`, which needs it. */
  readonly band?: readonly [from: number, to: number]
}

/** How a record is changed. */
export interface Change {
  readonly detrend: Detrend
  readonly quantity: Quantity
  readonly highPass: number | undefined
  readonly inTime: (samples: Float64Array, sampleRate: number) => Float64Array
  readonly factor: (frequency: number) => Factor
}

/** Checks the options, takes the trend out, and changes the record by either method. */
export function changeInTime(
  scope: Scope,
  options: ChangeOptions,
  more: readonly string[],
  change: Change,
): VibrationRecord {
  checkOptions(scope, options, ['samples', 'sampleRate', 'quantity', 'detrend', 'method', 'band', ...more])
  const samples = checkSamples(scope, 'samples', options.samples)
  if (samples.length < 3) {
    fail('out-of-range', within(scope, 'samples'), `must hold at least 3 samples, got ${samples.length}`)
  }
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const { detrend = change.detrend, method = 'time', band } = options
  checkOneOf(scope, 'detrend', detrend, detrends)
  const byTime = checkOneOf(scope, 'method', method, ['time', 'frequency']) === 'time'
  if (byTime !== (band === undefined)) {
    fail('invalid-option', within(scope, 'band'), "goes with the method 'frequency', which needs it")
  }
  const highPass = checkOptional(
    scope,
    'highPass',
    change.highPass,
    { unit: 'Hz', above: 0, below: sampleRate / 2 },
    null,
  )
  if (!byTime && highPass !== null) fail('invalid-option', within(scope, 'highPass'), "goes with the method 'time'")
  const [constant, slope] = trendOf(detrend, samples, 0, samples.length)
  const level = samples.map((value, n) => value - constant - slope * n)
  const changed = byTime ? inTime() : inFrequency()
  if (!changed.every(Number.isFinite)) fail('out-of-range', within(scope, 'samples'), 'leave the range of numbers')
  return {
    kind: 'VibrationRecord',
    samples: changed,
    sampleRate,
    quantity: change.quantity,
    findings: [],
    removed: { constant, slope: slope * sampleRate },
  }

  function inTime(): Float64Array {
    if (highPass === null) return change.inTime(level, sampleRate)
    const section = secondOrder(2 * Math.PI * highPass, Math.SQRT1_2, { direct: 1 })
    return change.inTime(filteredRecord(scope, level, sampleRate, [section], highPass), sampleRate)
  }

  function inFrequency(): Float64Array {
    const limit = { unit: 'Hz', above: 0, atMost: sampleRate / 2 }
    const at = within(scope, 'band')
    if (!Array.isArray(band) || band.length !== 2) fail('invalid-option', at, 'must be two frequencies, from and to')
    const from = checkNumber(at, 0, band[0], limit)
    const to = checkNumber(at, 1, band[1], { ...limit, above: from })
    return filteredInFrequency(level, sampleRate, (f) => (f < from || f > to ? [0, 0] : change.factor(f)))
  }
}
