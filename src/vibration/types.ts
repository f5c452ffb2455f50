/** What a spectrum or a set of bands measures. */
export type Quantity = 'acceleration' | 'velocity' | 'displacement' | 'force' | 'pressure' | 'rotation' | 'unspecified'

/** What lies between the entries of a spectrum.
 *
 * `'lines'`: line k covers its frequency ± half the spacing with a constant density. `'points'`: neighbours are joined by
 * a straight line in log-log scale; a piece that touches zero frequency or zero density is straight in linear scale.
 */
export type Support = 'lines' | 'points'

/** Shapes that taper a segment before its transform; all periodic. */
export type WindowName =
  | 'rectangular'
  | 'hann'
  | 'hamming'
  | 'blackman'
  | 'blackman-harris'
  | 'nuttall'
  | 'bartlett'
  | 'parabolic'
  | 'flat-top'
  | 'hft70'
  | 'hft90d'
  | 'hft95'

/** What is taken out of each segment before its transform. */
export type Detrend = 'mean' | 'linear' | 'none'

/** How segments or blocks of a record become one density. */
export type Averaging = 'mean' | 'median' | 'percentile' | 'maximum'

/** How a density was estimated from a record in time. */
export interface SpectrumEstimation {
  /** Samples per segment. */
  readonly segmentLength?: number
  /** Overlap of the segments, as a fraction of their length, as it came out in whole samples. */
  readonly overlap?: number
  /** Window of the segments. */
  readonly window?: WindowName
  /** What was taken out of each segment. */
  readonly detrend?: Detrend
  /** Number of segments averaged. */
  readonly averages?: number
  /** Number of independent segments that would average as well, at most `averages`. */
  readonly effectiveAverages?: number
  /** Equivalent noise bandwidth of the window [Hz]. */
  readonly noiseBandwidth?: number
  /** How the segments became one density. @defaultValue taken as `'mean'` where it is not said */
  readonly average?: Averaging
}

/** One-sided power spectral density over frequency. */
export interface Spectrum extends SpectrumEstimation {
  readonly kind: 'Spectrum'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** [Hz], strictly ascending, at least 0 */
  readonly frequency: Float64Array
  /** [unit²/Hz], one per frequency, at least 0 */
  readonly density: Float64Array
  /** What lies between the entries. */
  readonly support: Support
}

/** A {@link Spectrum} as a user may write it: plain arrays, without `kind` and `support`. */
export interface SpectrumLiteral extends SpectrumEstimation {
  readonly kind?: 'Spectrum'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** [Hz], strictly ascending, at least 0 */
  readonly frequency: readonly number[] | Float64Array
  /** [unit²/Hz], one per frequency, at least 0 */
  readonly density: readonly number[] | Float64Array
  /** What lies between the entries. @defaultValue `'lines'` for three or more equally spaced frequencies, else `'points'` */
  readonly support?: Support
}

/** One one-third-octave band. */
export interface Band {
  /** Nominal label [Hz], such as 31.5 */
  readonly nominal: number
  /** Exact centre [Hz] */
  readonly centre: number
  /** Lower edge [Hz] */
  readonly lower: number
  /** Upper edge [Hz] */
  readonly upper: number
  /** Root mean square within the band [unit] */
  readonly rms: number
  /** Width of the band in spectral lines; few lines make a rough value. Null for a spectrum of points. */
  readonly lines: number | null
}

/** One-third-octave band levels. */
export interface Bands {
  readonly kind: 'Bands'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Bands in ascending order. */
  readonly bands: readonly Band[]
}

/** {@link Bands} as a user may write them: label and level are enough. */
export interface BandsLiteral {
  readonly kind?: 'Bands'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Bands in ascending order of their nominal label. */
  readonly bands: readonly (Partial<Band> & Pick<Band, 'nominal' | 'rms'>)[]
}

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

/** How levels were taken over time. */
export type LevelStatistic = 'average' | 'maximum' | 'percentile'

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
  /** Nominal labels [Hz] that the criterion limits but the bands do not hold; a verdict says nothing about them. */
  readonly missing: readonly number[]
}

/** Cross spectral density of two records. */
export interface CrossSpectrum {
  readonly kind: 'CrossSpectrum'
  /** [Hz] */
  readonly frequency: Float64Array
  /** Real part of S_xy [x unit · y unit / Hz] */
  readonly re: Float64Array
  /** Imaginary part of S_xy [x unit · y unit / Hz]; negative where y lags x. */
  readonly im: Float64Array
  /** One-sided density of x [x unit²/Hz] */
  readonly xDensity: Float64Array
  /** One-sided density of y [y unit²/Hz] */
  readonly yDensity: Float64Array
  /** |S_xy|²/(S_xx·S_yy), 0 to 1; 0 where either density is 0, 1 everywhere for a single segment. */
  readonly coherence: Float64Array
  /** Samples per segment. */
  readonly segmentLength: number
  /** Overlap of the segments, as a fraction of their length, as it came out in whole samples. */
  readonly overlap: number
  /** Window of the segments. */
  readonly window: WindowName
  /** What was taken out of each segment. */
  readonly detrend: Detrend
  /** Number of segments averaged. */
  readonly averages: number
  /** Number of independent segments that would average as well, at most `averages`. */
  readonly effectiveAverages: number
  /** Equivalent noise bandwidth of the window [Hz]. */
  readonly noiseBandwidth: number
}

/** Transfer function from one record to another, estimated by averaging. */
export interface TransferEstimate {
  readonly kind: 'TransferEstimate'
  /** [Hz] */
  readonly frequency: Float64Array
  /** Real part of H1 [output unit / input unit] */
  readonly re: Float64Array
  /** Imaginary part of H1 [output unit / input unit] */
  readonly im: Float64Array
  /** Share of the output power that is linearly due to the input, 0 to 1. */
  readonly coherence: Float64Array
  /** Relative standard deviation of |H1|, also that of its phase [rad]; Infinity where the coherence is 0. */
  readonly randomError: Float64Array
  /** Indices of the lines without input power: H1 and coherence are 0 there. */
  readonly undefinedLines: readonly number[]
  /** One-sided density of the input [input unit²/Hz] */
  readonly inputDensity: Float64Array
  /** One-sided density of the output [output unit²/Hz] */
  readonly outputDensity: Float64Array
  /** Samples per segment. */
  readonly segmentLength: number
  /** Overlap of the segments, as a fraction of their length, as it came out in whole samples. */
  readonly overlap: number
  /** Window of the segments. */
  readonly window: WindowName
  /** What was taken out of each segment. */
  readonly detrend: Detrend
  /** Number of segments averaged. */
  readonly averages: number
  /** Number of independent segments that would average as well, at most `averages`. */
  readonly effectiveAverages: number
  /** Equivalent noise bandwidth of the window [Hz]. */
  readonly noiseBandwidth: number
}
