import {
  checkNumber,
  checkNumbers,
  checkOptions,
  checkRecord,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { flagsOf } from './band-evidence.js'
import { checkQuantity, levelRange } from './check.js'
import { type TimeStatisticOptions, timeStatistic } from './time-statistic.js'
import type { BandHistory } from './time-statistics-types.js'
import type { Bands } from './types.js'

/** Options of {@link bandStatistic}. */
export interface BandStatisticOptions extends TimeStatisticOptions {}

/** One level per band from those of many blocks: average, median, percentile or maximum.
 *
 * The average is that of the squares and has the degrees of freedom of the whole record. The others are ranks, taken straight
 * between the squares of neighbours, and are not corrected: of stationary Gaussian motion the median lies below the average by
 * `medianBias` (in squares), a maximum grows with the number of blocks, and both depend on the length of a block. The
 * result names its statistic, and so does a verdict on it.
 * @param history - from {@link bandHistory}, {@link bandStream} or {@link spectrogramBands}
 * @param options - see {@link BandStatisticOptions}
 * @returns bands in ascending order, rms [unit]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `dimension-mismatch`
 * @source common practice, no source; ISO 1996-1:2016 (percentage exceedance levels)
 * @example
 * import { bandHistory, bandStatistic } from 'restmass'
 * const samples = Array.from({ length: 9000 }, (_, n) => (n < 8000 ? 1 : 5) * Math.sin(0.2 * Math.PI * n))
 * const history = bandHistory({ samples, sampleRate: 100, from: 10, to: 10, blockDuration: 2 })
 * bandStatistic(history, { statistic: 'percentile', exceeded: 50 }).bands[0].rms // 0.70711
 */
export function bandStatistic(history: BandHistory, options: BandStatisticOptions = {}): Bands {
  const scope = scopeOf('bandStatistic')
  const { bands, rms, time, quantity, blockDuration } = checkBandHistory(within(scope, 'history'), history)
  checkOptions(scope, options, ['statistic', 'exceeded'])
  const { statistic, exceeded, of } = timeStatistic(scope, options)
  const squares = new Float64Array(time.length)
  return {
    kind: 'Bands',
    quantity,
    bands: bands.map(({ nominal, centre, lower, upper, lines, degreesOfFreedom: single }, b) => {
      for (let k = 0; k < time.length; k++) squares[k] = rms[k * bands.length + b] ** 2
      // Readings of an exponential average closer than its own length share what they know.
      const known = Math.max(single, 2 * (upper - lower) * blockDuration * time.length)
      const degreesOfFreedom = statistic === 'average' ? Math.min(single * time.length, known) : null
      const level = Math.sqrt(of(squares))
      return {
        nominal,
        centre,
        lower,
        upper,
        rms: level,
        lines,
        degreesOfFreedom,
        flags: flagsOf(lines, degreesOfFreedom),
      }
    }),
    statistic,
    ...(exceeded === null ? {} : { exceeded }),
  }
}

/** Checks that a value is a history of bands whose lists fit together. */
export function checkBandHistory(scope: Scope, history: BandHistory): BandHistory {
  if (
    typeof history !== 'object' ||
    history === null ||
    history.kind !== 'BandHistory' ||
    !Array.isArray(history.bands)
  ) {
    fail('invalid-option', scope, `must be a BandHistory, got ${show(history)}`)
  }
  checkQuantity(scope, history.quantity)
  const count = checkNumbers(scope, 'time', history.time).length
  const levels = checkNumbers(scope, 'rms', history.rms, levelRange).length
  checkNumber(scope, 'blockDuration', history.blockDuration, { unit: 's', above: 0 })
  if (count === 0 || levels !== count * history.bands.length) {
    fail('dimension-mismatch', within(scope, 'rms'), 'must have one entry per block and band, at least one block')
  }
  history.bands.forEach((band, b) => {
    const at = within(within(scope, 'bands'), b)
    checkRecord(at, band)
    for (const key of ['nominal', 'centre', 'lower', 'upper', 'degreesOfFreedom', 'medianBias'] as const) {
      checkNumber(at, key, band[key], { above: 0 })
    }
    checkNumber(at, 'delay', band.delay, {})
    if (band.lines !== null) checkNumber(at, 'lines', band.lines, { above: 0 })
  })
  return history
}
