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
  /** Share of the time [%] for which the density was exceeded, for `'percentile'`. */
  readonly exceeded?: number
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

/** Why a band level is no more than a guide: fewer than four spectral lines, or a standard deviation of more than 1 dB. */
export type BandFlag = 'few-lines' | 'short-record'

/** How levels were taken over time. */
export type LevelStatistic = 'average' | 'median' | 'maximum' | 'percentile'

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
  /** Degrees of freedom of the mean square, for Gaussian motion: its relative standard deviation is √(2/ν), that of the rms
   * half of it. Null where the record is not known, or the level is no average. */
  readonly degreesOfFreedom: number | null
  /** What makes the level doubtful; empty where nothing is known to. */
  readonly flags: readonly BandFlag[]
}

/** One-third-octave band levels. */
export interface Bands {
  readonly kind: 'Bands'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Bands in ascending order. */
  readonly bands: readonly Band[]
  /** How the levels were taken over time. @defaultValue taken as `'average'` where it is not said */
  readonly statistic?: LevelStatistic
  /** Share of the time [%] for which the levels were exceeded, for `'percentile'`. */
  readonly exceeded?: number
}

/** {@link Bands} as a user may write them: label and level are enough. */
export interface BandsLiteral {
  readonly kind?: 'Bands'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Bands in ascending order of their nominal label. */
  readonly bands: readonly (Partial<Band> & Pick<Band, 'nominal' | 'rms'>)[]
  /** How the levels were taken over time. @defaultValue taken as `'average'` where it is not said */
  readonly statistic?: LevelStatistic
  /** Share of the time [%] for which the levels were exceeded, for `'percentile'`. */
  readonly exceeded?: number
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
  /** |S_xy|²/(S_xx·S_yy), 0 to 1; 0 where either density is no more than rounding, else 1 for a single segment. */
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
  /** |H2| = S_yy/|S_xy|, which noise in the input does not bias, with the phase of H1; the true |H| lies between |H1| and
   * |H2| if only noise biases them. Infinity where the coherence is 0. */
  readonly h2: Float64Array
  /** Standard deviation of the coherence. */
  readonly coherenceError: Float64Array
  /** What is to be expected of the coherence above its true value, since the segments are few. */
  readonly coherenceBias: Float64Array
  /** Coherence that unrelated records exceed in one line out of twenty. */
  readonly significantCoherence: number
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
