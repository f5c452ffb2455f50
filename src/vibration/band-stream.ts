import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { type FilterBank, filterBank } from './band-filter-bank.js'
import { checkQuantity, checkSamples } from './check.js'
import { medianBias } from './median-bias.js'
import { centreFrequency, checkedBandIndices, lowerEdge, nominalFrequency } from './nominal-bands.js'
import { checkSampleRate } from './segmentation.js'
import type { BandHistory } from './time-statistics-types.js'
import type { Quantity } from './types.js'

/** Options of {@link bandStream}. */
export interface BandStreamOptions {
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** What is measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** Lowest nominal label wanted [Hz], 1e-6 to 1e6 */
  readonly from: number
  /** Highest nominal label wanted [Hz], at least `from`; its upper edge at most 0.45 of the sample rate */
  readonly to: number
  /** Length of a block [s], at least one period of the lower edge of the lowest band. @defaultValue all there is, one block */
  readonly blockDuration?: number
  /** Time constant of an exponential average of the squares [s], above 0, up to 1e9; it is read at the end of each block.
   * @defaultValue none: the mean square of each block */
  readonly timeConstant?: number
}

/** Names of the fields of {@link BandStreamOptions}. */
export const bandStreamKeys = ['sampleRate', 'quantity', 'from', 'to', 'blockDuration', 'timeConstant'] as const

/** Band levels that grow with the record. */
export interface BandStream {
  /** Takes the next samples [unit]; any number of them, and no trace is left of where one chunk ended. */
  readonly push: (chunk: readonly number[] | Float64Array) => void
  /** Levels of all full blocks so far; pushing may go on afterwards. */
  readonly result: () => BandHistory
}

/** One-third-octave band levels by filters in time, of a record that arrives in pieces.
 *
 * The same as {@link bandHistory}, to the last bit, however the record is cut; what is kept is the state of the filters and
 * one level per band and block. A refused chunk leaves the stream as it was.
 * @param options - see {@link BandStreamOptions}
 * @returns a handle: `push(chunk)` takes samples, `result()` gives the levels [unit]
 * @throws {@link IsolationError} `out-of-range` from `result` before the first full block; `not-finite` from `push`;
 * `out-of-range`, `invalid-option`
 * @source IEC 61260-1:2014 (bands); S. Butterworth, On the theory of filter amplifiers, Experimental Wireless 7, 1930
 * @example
 * import { bandStatistic, bandStream } from 'restmass'
 * const stream = bandStream({ sampleRate: 100, from: 10, to: 10 })
 * for (let n = 0; n < 4000; n++) stream.push([Math.sin(0.2 * Math.PI * n)])
 * bandStatistic(stream.result()).bands[0].rms // 0.707
 */
export function bandStream(options: BandStreamOptions): BandStream {
  return startedBands(scopeOf('bandStream'), options, bandStreamKeys)
}

/** The stream behind {@link bandStream}, for a function of another name. */
export function startedBands(scope: Scope, options: BandStreamOptions, keys: readonly string[]): BandStream {
  checkOptions(scope, options, keys)
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const indices = checkedBandIndices(scope, options)
  const top = lowerEdge(indices[indices.length - 1] + 1)
  if (top > 0.45 * sampleRate) {
    const allowed = `a band with its upper edge, ${top} Hz, at most 0.45 of the sample rate`
    fail('out-of-range', within(scope, 'to'), `must be ${allowed}`, { value: options.to, allowed, unit: 'Hz' })
  }
  const period = 1 / lowerEdge(indices[0])
  const blockRange = { unit: 's', atLeast: period, atMost: 1e15 / sampleRate }
  const block = checkOptional(scope, 'blockDuration', options.blockDuration, blockRange, Number.POSITIVE_INFINITY)
  const constant = { unit: 's', above: 0, atMost: 1e9 }
  const { timeConstant } = options
  const memory = timeConstant === undefined ? null : checkNumber(scope, 'timeConstant', timeConstant, constant)
  const bank = filterBank(scope, indices, sampleRate)
  const late = bank.bands.map(({ settling, delay }) => settling - delay)
  // Seven time constants leave a thousandth of what the average knew before.
  const skipped = Math.max(...late) + 7 * (memory ?? 0)
  const sums = blockSums(bank, sampleRate, skipped, Math.round(block * sampleRate), memory)
  const push = (chunk: readonly number[] | Float64Array): void => sums.push(checkSamples(scope, 'chunk', chunk))
  const result = (): BandHistory => {
    const needed = Number.isFinite(block) ? sums.length : Math.ceil(period * sampleRate)
    const used = sums.seen() - sums.start
    if (used < needed) {
      const least = sums.start + needed
      const says = `must hold at least ${least} samples, ${(least / sampleRate).toPrecision(4)} s, for filters and a block`
      fail('out-of-range', within(scope, 'samples'), `${says}, got ${sums.seen()}`, { value: sums.seen() })
    }
    const length = Number.isFinite(block) ? sums.length : used
    const count = Math.floor(used / length)
    const blockDuration = length / sampleRate
    const averaging = memory === null ? blockDuration : 2 * memory
    const rms = sums.rms(count)
    if (!rms.every(Number.isFinite)) {
      fail('out-of-range', within(scope, 'samples'), 'must be small enough for its squares to be numbers')
    }
    return {
      kind: 'BandHistory',
      quantity,
      bands: bank.bands.map(({ index, delay }) => {
        const [lower, upper] = [lowerEdge(index), lowerEdge(index + 1)]
        const degreesOfFreedom = 2 * (upper - lower) * averaging
        const labels = { nominal: nominalFrequency(index), centre: centreFrequency(index), lower, upper, lines: null }
        return { ...labels, delay, degreesOfFreedom, medianBias: medianBias(degreesOfFreedom) }
      }),
      time: Float64Array.from({ length: count }, (_, k) => skipped + (k + (memory === null ? 0.5 : 1)) * blockDuration),
      rms,
      blockDuration,
      timeConstant: memory,
      skipped,
    }
  }
  return { push, result }
}

/** Mean squares of blocks of `length` samples of the record, each band moved back by its delay. */
function blockSums(bank: FilterBank, rate: number, skipped: number, length: number, memory: number | null) {
  const starts = bank.bands.map(({ delay }) => Math.round((skipped + delay) * rate))
  const start = Math.max(...starts)
  const forget = bank.bands.map(({ stride }) => (memory === null ? 0 : -Math.expm1(-stride / rate / memory)))
  const level = bank.bands.map(() => 0)
  const squares: number[][] = bank.bands.map(() => [])
  const counts: number[][] = bank.bands.map(() => [])
  let seen = 0
  const take = (b: number, samples: Float64Array, first: number): void => {
    const { stride } = bank.bands[b]
    for (let n = 0; n < samples.length; n++) {
      const square = samples[n] * samples[n]
      level[b] += forget[b] * (square - level[b])
      const place = (first + n) * stride - starts[b]
      if (place < 0) continue
      const k = Math.floor(place / length)
      counts[b][k] = memory === null ? (counts[b][k] ?? 0) + 1 : 1
      squares[b][k] = memory === null ? (squares[b][k] ?? 0) + square : level[b]
    }
  }
  return {
    start,
    length,
    seen: () => seen,
    push: (samples: Float64Array): void => {
      bank.push(samples, take)
      seen += samples.length
    },
    rms: (count: number): Float64Array =>
      Float64Array.from({ length: count * starts.length }, (_, i) => {
        const [k, b] = [Math.floor(i / starts.length), i % starts.length]
        return Math.sqrt(squares[b][k] / counts[b][k])
      }),
  }
}
