import type { Scope } from '../internal/check.js'
import { bandPassSections } from '../systems/band-pass.js'
import { butterworthDamping } from '../systems/butterworth.js'
import { secondOrder } from '../systems/section.js'
import { type RunningFilter, runningFilter } from './digital-section.js'
import { lowerEdge } from './nominal-bands.js'

/** Order of the band-passes on either side, and of the low-pass before each halving of the rate. */
const order = 6
const guardOrder = 10

/** Corner of that low-pass, in units of the new rate. */
const guardCorner = 0.35

/** A Butterworth band-pass passes π/2n/sin(π/2n) times the power of noise between its corners: they are drawn in by as much. */
const drawnIn = Math.sin(Math.PI / (2 * order)) / (Math.PI / (2 * order))

/** A band as the bank filters it. */
export interface FilteredBand {
  readonly index: number
  /** Two to how many halvings of the rate */
  readonly stride: number
  /** Delay at the centre, low-passes included [s] */
  readonly delay: number
  /** Time after which less than a thousandth of a start is left [s] */
  readonly settling: number
}

/** Takes what came out of a band: its samples and the index of the first of them, at the rate of the band. */
export type TakeBand = (band: number, samples: Float64Array, first: number) => void

/** Band-passes of one-third of an octave, each at the lowest rate of rate/2^k that is four times its upper edge. */
export interface FilterBank {
  readonly bands: readonly FilteredBand[]
  readonly push: (samples: Float64Array, take: TakeBand) => void
}

/** Filters for bands given by their indices, ascending.
 *
 * Every band-pass is a Butterworth filter of order 6 on either side made digital by the bilinear map, its corners exact. Every
 * low-pass before a halving of the rate, of order 10, lets less than 1e-5 of what would fold into the bands pass.
 */
export function filterBank(scope: Scope, indices: readonly number[], sampleRate: number): FilterBank {
  const bands = indices.map((index) => filteredBand(index, sampleRate))
  const filters = bands.map(({ index, stride }) => bandFilter(scope, index, sampleRate / stride))
  const guards: RunningFilter[] = []
  for (let stride = 2; stride <= bands[0].stride; stride *= 2) guards.push(guard(scope, sampleRate / stride))
  const seen = new Array<number>(guards.length + 1).fill(0)

  const push = (samples: Float64Array, take: TakeBand): void => {
    let signal = samples
    for (let level = 0; level <= guards.length; level++) {
      bands.forEach(({ stride }, b) => {
        if (stride !== 2 ** level) return
        const filtered = signal.slice()
        filters[b](filtered)
        take(b, filtered, seen[level])
      })
      const skip = seen[level] % 2
      seen[level] += signal.length
      if (level === guards.length) break
      const smooth = signal.slice()
      guards[level](smooth)
      signal = Float64Array.from({ length: Math.ceil((smooth.length - skip) / 2) }, (_, n) => smooth[2 * n + skip])
    }
  }
  return { bands, push }
}

function filteredBand(index: number, sampleRate: number): FilteredBand {
  const upper = lowerEdge(index + 1)
  const bandwidth = upper - lowerEdge(index)
  let stride = 1
  // Each low-pass is late by 1/(2π·corner·sin(π/2n)), less what the map shortens.
  const late = guardCorner * Math.PI * Math.sin(Math.PI / (2 * guardOrder))
  const shortened = (guardCorner * Math.PI) / 2 / Math.tan((guardCorner * Math.PI) / 2)
  let delay = 1 / (Math.PI * bandwidth * drawnIn * Math.sin(Math.PI / (2 * order)))
  while (upper <= (0.25 * sampleRate) / (2 * stride)) {
    stride *= 2
    delay += (stride * shortened) / (2 * late * sampleRate)
  }
  return { index, stride, delay, settling: 10 / bandwidth }
}

function bandFilter(scope: Scope, index: number, rate: number): RunningFilter {
  const warped = (frequency: number) => (rate / Math.PI) * Math.tan((Math.PI * frequency) / rate)
  const [from, to] = [warped(lowerEdge(index)), warped(lowerEdge(index + 1))]
  const half = (drawnIn * (to - from)) / 2
  const middle = Math.hypot(half, Math.sqrt(from * to))
  return runningFilter(scope, bandPassSections(middle - half, middle + half, order), rate)
}

function guard(scope: Scope, newRate: number): RunningFilter {
  const corner = guardCorner * newRate
  const sections = butterworthDamping(guardOrder).map((ratio) => secondOrder(2 * Math.PI * corner, ratio, { level: 1 }))
  return runningFilter(scope, sections, 2 * newRate, corner)
}
