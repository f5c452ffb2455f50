import type { Quantity } from './types.js'

/** What may be wrong with a record: instants that are missing, samples that are missing and were bridged, a converter at its
 * end, a channel that does not move, a bit that never changes, values that no floor has. */
export type RecordCheck = 'gap' | 'missing' | 'clipping' | 'dead' | 'stuck-bit' | 'impossible'

/** One thing that was found in a record. */
export interface RecordFinding {
  /** What was looked for. */
  readonly check: RecordCheck
  /** Number of samples concerned; of bits for `'stuck-bit'`. */
  readonly count: number
  /** Index of the first sample concerned. */
  readonly first: number
  /** The finding in words. */
  readonly says: string
}

/** A straight line that was taken out of a record: constant + slope · t, t from its first sample. */
export interface RemovedTrend {
  /** [unit] */
  readonly constant: number
  /** [unit/s] */
  readonly slope: number
}

/** A record in time, in SI units. */
export interface VibrationRecord {
  readonly kind: 'VibrationRecord'
  /** [m/s², m/s, m or N] */
  readonly samples: Float64Array
  /** [Hz] */
  readonly sampleRate: number
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** What is wrong with the record; empty where nothing was found, or nothing was looked for. */
  readonly findings: readonly RecordFinding[]
  /** What was taken out on the way to this record, in the unit before; absent if nothing was. */
  readonly removed?: RemovedTrend
}
