import { checkNumber, checkOptions, fail, scopeOf } from '../internal/check.js'
import { fourierPlan } from '../linear/fourier.js'
import { checkQuantity, checkSamples } from './check.js'
import {
  addPowers,
  checkDensity,
  loadPair,
  type SegmentOptions,
  scaleToDensity,
  segmentKeys,
  segmentPlan,
  segmentSummary,
} from './segmentation.js'
import type { Quantity, Spectrum } from './types.js'

/** Options of {@link welchStream}. */
export interface WelchStreamOptions extends SegmentOptions {
  /** Samples per segment, a whole number of at least 2; it cannot be derived from a record without end. */
  readonly segmentLength: number
  /** What is measured. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
}

/** A density that grows with the record. */
export interface WelchStream {
  /** Takes the next samples [unit]; any number of them, and no trace is left of where one chunk ended. */
  readonly push: (chunk: readonly number[] | Float64Array) => void
  /** Density of all full segments so far; pushing may go on afterwards. */
  readonly result: () => Spectrum
}

/** Power spectral density of a record that arrives in pieces, in the memory of a few segments.
 *
 * The same as {@link welch} with mean averaging, to the last bit, however the record is cut. A refused chunk leaves the
 * stream as it was.
 * @param options - see {@link WelchStreamOptions}
 * @returns a handle: `push(chunk)` takes samples, `result()` gives the density [unit²/Hz]
 * @throws {@link IsolationError} `out-of-range` from `result` before the first full segment and for samples whose squares
 * overflow; `not-finite` from `push`; `invalid-option`
 * @source P. D. Welch, IEEE Trans. Audio and Electroacoustics 15 (1967) 70-73
 * @example
 * import { rms, welchStream } from 'restmass'
 * const stream = welchStream({ sampleRate: 100, segmentLength: 50, quantity: 'velocity' })
 * for (let n = 0; n < 1000; n++) stream.push([Math.sin(0.2 * Math.PI * n)])
 * rms(stream.result()) // 0.70711
 */
export function welchStream(options: WelchStreamOptions): WelchStream {
  const scope = scopeOf('welchStream')
  checkOptions(scope, options, ['quantity', ...segmentKeys])
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const range = { unit: 'samples', integer: true, atLeast: 2, atMost: 2 ** 28 }
  const length = checkNumber(scope, 'segmentLength', options.segmentLength, range)
  const plan = segmentPlan(scope, options, length)
  const { transform } = fourierPlan(length)
  const pairLength = length + plan.hop
  const recent = new Float64Array(pairLength)
  const data = new Float64Array(2 * length)
  const out = new Float64Array(2 * length)
  const sums = new Float64Array(plan.frequency.length)
  let held = 0
  let pairs = 0

  const add = (to: Float64Array, segments: number): void => {
    loadPair(plan, recent, 0, segments, data)
    transform(out, data)
    addPowers(to, out)
  }
  const push = (chunk: readonly number[] | Float64Array): void => {
    const samples = checkSamples(scope, 'chunk', chunk)
    for (let next = 0; next < samples.length; ) {
      const part = Math.min(pairLength - held, samples.length - next)
      recent.set(samples.subarray(next, next + part), held)
      next += part
      held += part
      if (held < pairLength) return
      add(sums, 2)
      pairs++
      recent.copyWithin(0, 2 * plan.hop)
      held = length - plan.hop
    }
  }
  const result = (): Spectrum => {
    const single = held >= length
    const count = 2 * pairs + (single ? 1 : 0)
    if (count === 0) fail('out-of-range', scope, `needs a full segment of ${length} samples first, got ${held}`)
    const density = sums.slice()
    if (single) add(density, 1)
    scaleToDensity(plan, density, count)
    checkDensity(scope, 'chunk', density)
    const frequency = plan.frequency.slice()
    return { kind: 'Spectrum', quantity, frequency, density, support: 'lines', ...segmentSummary(plan, count), average }
  }
  return { push, result }
}

const average = 'mean'
