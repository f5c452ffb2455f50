import type { LevelStatistic } from './types.js'

/** Form of the generic curves: as revised in 2005, or the original of 1991. */
export type CriterionEdition = '2005' | '1991'

/** Round numbers of the flat curves: `'metric'` in µm/s (VC-A 50), `'inch'` in µin/s (VC-A 2000, which is 50.8 µm/s). */
export type CriterionConvention = 'metric' | 'inch'

/** Names of the generic vibration criterion curves, from the loosest to the tightest. */
export type VibrationCurve = `VC-${'A' | 'B' | 'C' | 'D' | 'E' | 'F' | 'G' | 'H' | 'I' | 'J' | 'K' | 'L' | 'M'}`

/** Names of the criteria that come with the package. */
export type CriterionName =
  | VibrationCurve
  | 'NIST-A'
  | 'NIST-A1'
  | 'NIST-B'
  | 'NIST-C1'
  | 'workshop'
  | 'office'
  | 'residential-day'
  | 'operating-theatre'

/** Names of the weightings for human response. */
export type WeightingName = 'Wk' | 'Wd' | 'Wm' | 'Wb' | 'Wg'

/** A limit on the rms velocity in each one-third-octave band. */
export interface Criterion {
  readonly kind: 'Criterion'
  /** Name of the curve. */
  readonly name: string
  /** Form of the curve; null for a custom one. */
  readonly edition: CriterionEdition | null
  /** Round numbers of the curve; absent for a custom one. */
  readonly convention?: CriterionConvention
  /** Nominal band frequencies [Hz], ascending. */
  readonly frequency: Float64Array
  /** Largest rms velocity allowed in each band [m/s] */
  readonly velocity: Float64Array
}

/** A limit on the rms velocity in every line of a given width. */
export interface LineCriterion {
  readonly kind: 'LineCriterion'
  /** Name of the curve. */
  readonly name: string
  /** Width of a line [Hz] */
  readonly lineWidth: number
  /** Corner frequencies [Hz], ascending; straight lines in log-log scale between them. */
  readonly frequency: Float64Array
  /** Largest rms velocity allowed in a line at each corner [m/s] */
  readonly velocity: Float64Array
}

/** One band or line held against its limit. */
export interface BandRatio {
  /** Nominal label of the band, or middle of the line [Hz] */
  readonly nominal: number
  /** Measured rms velocity [m/s] */
  readonly rms: number
  /** Allowed rms velocity [m/s] */
  readonly limit: number
  /** rms over limit; at most 1 passes. */
  readonly ratio: number
}

/** Why a band cannot be decided: noise of the sensor, length of the record, or the 1.6 % between two conventions. */
export type DoubtCause = 'sensor' | 'record' | 'convention'

/** A band whose limit lies within what is not known about it. */
export interface BandDoubt {
  /** Nominal label of the band [Hz] */
  readonly nominal: number
  /** Least true rms velocity in keeping with the reading [m/s] */
  readonly atLeast: number
  /** Largest true rms velocity in keeping with the reading [m/s] */
  readonly atMost: number
  /** What alone would leave the band open; all that was considered if only their sum does. */
  readonly causes: readonly DoubtCause[]
}

/** Band or line levels held against a criterion. */
export interface CriterionComparison {
  readonly kind: 'CriterionComparison'
  /** Name of the criterion. */
  readonly criterion: string
  /** Form of the criterion; null for a custom one. */
  readonly edition: CriterionEdition | null
  /** `'pass'` if no judged band is above its limit, `'fail'` if one is beyond doubt, otherwise `'undecided'`. */
  readonly verdict: 'pass' | 'fail' | 'undecided'
  /** The band closest to, or furthest above, its limit. */
  readonly worst: BandRatio
  /** −20·log10 of the worst ratio [dB]: negative above the limit, Infinity for silence. */
  readonly marginDecibels: number
  /** Every judged band. */
  readonly ratios: readonly BandRatio[]
  /** Bands that cannot be decided. */
  readonly doubts: readonly BandDoubt[]
  /** Nominal labels of the first and the last judged band [Hz]. */
  readonly judged: readonly [from: number, to: number]
  /** How the rms levels were taken over time. */
  readonly statistic: LevelStatistic
  /** Share of the time [%] for which the levels were exceeded; absent unless it is known of a percentile. */
  readonly exceeded?: number
  /** Nominal labels [Hz] that the criterion limits but the bands do not hold; a verdict says nothing about them. */
  readonly missing: readonly number[]
}
