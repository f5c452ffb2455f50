import { checkNumber, checkNumbers, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkSpectrum } from './check.js'
import { type TimeStatisticOptions, timeStatistic } from './time-statistic.js'
import type { Spectrogram } from './time-statistics-types.js'
import type { LevelStatistic, Spectrum } from './types.js'

/** Options of {@link spectrumStatistic}. */
export interface SpectrumStatisticOptions extends TimeStatisticOptions {}

/** One spectrum from those of many blocks: average, median, percentile or maximum hold, line by line.
 *
 * The average is that of {@link welch} over all blocks. The others are ranks, straight between neighbours, and are not
 * corrected: of stationary Gaussian motion the median lies below the average by the `medianBias` of the spectrogram, 0.69 for
 * blocks of one segment, and a maximum grows with the number of blocks. Ranks of lines do not add up: for bands take the
 * statistic of {@link spectrogramBands}.
 * @param spectrogram - from the function of that name
 * @param options - see {@link SpectrumStatisticOptions}
 * @returns density [unit²/Hz] that names its statistic, a median as `'percentile'` exceeded 50 % of the time
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `dimension-mismatch`
 * @source common practice, no source
 * @example
 * import { spectrogram, spectrumStatistic } from 'restmass'
 * const samples = Array.from({ length: 640 }, (_, n) => (n < 512 ? 1 : 3) * Math.sin(0.5 * Math.PI * n))
 * const blocks = spectrogram({ samples, sampleRate: 64, segmentLength: 64 })
 * spectrumStatistic(blocks, { statistic: 'maximum' }).density[16] // 3
 */
export function spectrumStatistic(spectrogram: Spectrogram, options: SpectrumStatisticOptions = {}): Spectrum {
  const scope = scopeOf('spectrumStatistic')
  const { frequency, density, time, averages, effectiveAverages, ...rest } = checkSpectrogram(
    within(scope, 'spectrogram'),
    spectrogram,
  )
  checkOptions(scope, options, ['statistic', 'exceeded'])
  const { statistic, exceeded, of } = timeStatistic(scope, options)
  const { quantity, segmentLength, overlap, window, detrend, noiseBandwidth } = rest
  const lines = frequency.length
  const values = new Float64Array(time.length)
  return {
    kind: 'Spectrum',
    quantity,
    frequency: frequency.slice(),
    density: frequency.map((_, line) => {
      for (let k = 0; k < time.length; k++) values[k] = density[k * lines + line]
      return of(values)
    }),
    support: 'lines',
    segmentLength,
    overlap,
    window,
    detrend,
    averages: averages * time.length,
    effectiveAverages: effectiveAverages * time.length,
    noiseBandwidth,
    ...averagingOf(statistic, exceeded),
  }
}

/** `'median'` of a spectrum is one corrected for its bias; this one is the percentile that it is. */
function averagingOf(statistic: LevelStatistic, exceeded: number | null): Pick<Spectrum, 'average' | 'exceeded'> {
  if (statistic === 'median' || statistic === 'percentile') return { average: 'percentile', exceeded: exceeded ?? 50 }
  return { average: statistic === 'average' ? 'mean' : statistic }
}

const estimated = [
  'segmentLength',
  'overlap',
  'window',
  'detrend',
  'averages',
  'effectiveAverages',
  'noiseBandwidth',
] as const

/** Checks that a value is a spectrogram whose lists fit together. */
export function checkSpectrogram(scope: Scope, value: Spectrogram): Spectrogram {
  if (typeof value !== 'object' || value === null || value.kind !== 'Spectrogram') {
    fail('invalid-option', scope, `must be a Spectrogram, got ${show(value)}`)
  }
  const blocks = checkNumbers(scope, 'time', value.time).length
  const { length } = checkNumbers(scope, 'density', value.density, { atLeast: 0 })
  if (blocks === 0 || length !== blocks * value.frequency?.length) {
    fail('dimension-mismatch', within(scope, 'density'), 'must have one entry per block and line, at least one block')
  }
  checkNumber(scope, 'blockDuration', value.blockDuration, { unit: 's', above: 0 })
  blockSpectrum(scope, value, 0)
  for (const key of estimated) {
    if (value[key] === undefined) fail('invalid-option', within(scope, key), 'must tell how the blocks were averaged')
  }
  return value
}

/** Checks and returns the spectrum of one block. */
export function blockSpectrum(scope: Scope, spectrogram: Spectrogram, k: number): Spectrum {
  const { kind, time, density, blockDuration, medianBias, ...rest } = spectrogram
  const lines = rest.frequency.length
  return checkSpectrum(scope, { ...rest, density: density.slice(k * lines, (k + 1) * lines), support: 'lines' })
}
