import type { Quantity, SpectrumEstimation } from './types.js'

/** A band of a {@link BandHistory}. */
export interface HistoryBand {
  /** Nominal label [Hz], such as 31.5 */
  readonly nominal: number
  /** Exact centre [Hz] */
  readonly centre: number
  /** Lower edge [Hz] */
  readonly lower: number
  /** Upper edge [Hz] */
  readonly upper: number
  /** Width of the band in spectral lines; null where it was filtered in time. */
  readonly lines: number | null
  /** By how much the filter is late [s]; taken out of the instants already. */
  readonly delay: number
  /** Degrees of freedom of one level, for Gaussian motion that is flat within the band. */
  readonly degreesOfFreedom: number
  /** Median over average of the mean squares to be expected of stationary Gaussian motion: below 1, since few high levels
   * stand against many low ones. */
  readonly medianBias: number
}

/** One-third-octave band levels, block after block. */
export interface BandHistory {
  readonly kind: 'BandHistory'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Bands in ascending order. */
  readonly bands: readonly HistoryBand[]
  /** Instant of each block from the first sample on [s]: its middle, or its end with a time constant. */
  readonly time: Float64Array
  /** Root mean squares [unit], block by block: band b of block k is `rms[k * bands.length + b]`. */
  readonly rms: Float64Array
  /** Length of a block [s] */
  readonly blockDuration: number
  /** Time constant of the exponential average that was read at the end of each block [s]; null for the mean of the block. */
  readonly timeConstant: number | null
  /** What was left out at the start, for the filters to settle [s]. */
  readonly skipped: number
}

/** Power spectral densities of a record, block after block. */
export interface Spectrogram extends Required<Omit<SpectrumEstimation, 'average' | 'exceeded'>> {
  readonly kind: 'Spectrogram'
  /** What was measured; it sets the unit. */
  readonly quantity: Quantity
  /** Middle of each block from the first sample on [s] */
  readonly time: Float64Array
  /** [Hz] */
  readonly frequency: Float64Array
  /** [unit²/Hz], block by block: line l of block k is `density[k * frequency.length + l]`. */
  readonly density: Float64Array
  /** Length of a block [s] */
  readonly blockDuration: number
  /** Median over average of a line to be expected of stationary Gaussian motion. */
  readonly medianBias: number
}
