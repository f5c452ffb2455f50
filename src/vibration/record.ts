import { checkOneOf, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkQuantity } from './check.js'
import { recordFindings } from './record-findings.js'
import { bridged, gapsIn } from './record-gaps.js'
import type { VibrationRecord } from './record-types.js'
import { checkSampleRate } from './segmentation.js'
import type { Quantity } from './types.js'

/** Options of {@link record}. */
export interface RecordOptions {
  /** Readings, in whatever unit `unit` or `sensitivity` turns into SI units; at least one */
  readonly samples: readonly number[] | Float64Array
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** What was measured; it sets the unit of the result: m/s², m/s, m or N. */
  readonly quantity: Quantity
  /** SI units per unit of the readings, other than 0, such as those of {@link units}; this or `sensitivity`. @defaultValue 1 */
  readonly unit?: number
  /** Counts (or volts) per SI unit, other than 0; negative for reversed polarity. This or `unit`. */
  readonly sensitivity?: number
  /** Reading, either sign, at which the converter is at its end [as the samples], above 0. @defaultValue unknown: plateaus at
   * the extremes that the record enters steeply are taken for clipping */
  readonly fullScale?: number
  /** Magnitude that no floor exceeds [SI unit], above 0. @defaultValue 1000 m/s², 10 m/s, 1 m, 1e9 N, 1e5 Pa, 1 rad; 1e12
   * where unspecified */
  readonly plausible?: number
  /** Instants of the samples [s], one each, ascending; steps that are not those of the sample rate are gaps.
   * @defaultValue not looked at */
  readonly times?: readonly number[] | Float64Array
  /** What to do with NaN among the samples: refuse the record, or bridge by straight lines and say so.
   * @defaultValue `'refuse'` */
  readonly missing?: 'refuse' | 'bridge'
}

/** A record in SI units, with all that looks wrong about it.
 *
 * Looked for: gaps between instants; missing samples; clipping; a channel that stands still for more than 1 % of the record (and
 * 16 samples); bits of whole-numbered readings that never change though higher ones do; impossible values. Findings are data:
 * the record is returned all the same, and it is for the caller to decide. None of it proves that a record is right.
 * @param options - see {@link RecordOptions}
 * @returns samples in SI units and findings
 * @throws {@link IsolationError} `not-finite` for a sample that is no number; `dimension-mismatch` for times of another length;
 * `invalid-option`, `out-of-range`
 * @source common practice, no source
 * @example
 * import { record, units } from 'restmass'
 * const samples = [12, 250, 250, 250, -31, 40, -120, 8]
 * const floor = record({ samples, sampleRate: 500, quantity: 'velocity', unit: units.microinchPerSecond, fullScale: 250 })
 * floor.findings.map(({ check, count, first }) => [check, count, first]) // [['clipping', 3, 1]]
 */
export function record(options: RecordOptions): VibrationRecord {
  const scope = scopeOf('record')
  checkOptions(scope, options, recordKeys)
  const quantity = checkQuantity(scope, options.quantity)
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const missing =
    options.missing === undefined ? 'refuse' : checkOneOf(scope, 'missing', options.missing, ['refuse', 'bridge'])
  const { readings, findings } = bridged(scope, options.samples, missing)
  const gaps = gapsIn(scope, options.times, readings.length, sampleRate)
  const fullScale = checkOptional(scope, 'fullScale', options.fullScale, { above: 0 }, null)
  const plausible = checkOptional(scope, 'plausible', options.plausible, { above: 0 }, largest[quantity])
  const factor = factorOf()
  const samples = readings.map((value) => value * factor)
  if (!samples.every(Number.isFinite))
    fail('out-of-range', within(scope, 'samples'), 'leave the range of numbers in SI units')
  return {
    kind: 'VibrationRecord',
    samples,
    sampleRate,
    quantity,
    findings: [...gaps, ...findings, ...recordFindings(readings, samples, fullScale, plausible)],
  }

  function factorOf(): number {
    const { unit, sensitivity } = options
    if (unit !== undefined && sensitivity !== undefined)
      fail('invalid-option', scope, 'takes unit or sensitivity, not both')
    const key = sensitivity === undefined ? 'unit' : 'sensitivity'
    const value = checkOptional(scope, key, options[key], {}, 1)
    if (value === 0) fail('out-of-range', within(scope, key), 'must not be 0')
    return sensitivity === undefined ? value : 1 / value
  }
}

const recordKeys = [
  'samples',
  'sampleRate',
  'quantity',
  'unit',
  'sensitivity',
  'fullScale',
  'plausible',
  'times',
  'missing',
] as const

const largest: Readonly<Record<Quantity, number>> = {
  acceleration: 1000,
  velocity: 10,
  displacement: 1,
  force: 1e9,
  pressure: 1e5,
  rotation: 1,
  unspecified: 1e12,
}
