import { fail, type Scope } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from '../systems/dense-system.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { ComplexFunction } from '../systems/refined-scan.js'
import { scannedResponse } from '../systems/scanned-response.js'
import type { StateSpace } from '../systems/types.js'
import type { Spectrum } from '../vibration/index.js'
import { type DensityFunction, densityFunction, step } from './density-function.js'
import { liveInputs } from './live-inputs.js'

/** An input of a closed system and the one-sided density that drives it, in the unit of that input. */
export interface Drive {
  readonly input: string
  readonly spectrum: Spectrum
  /** `'nothing'` counts as silent where its spectrum ends; otherwise the prediction ends there too */
  readonly beyond?: 'nothing'
}

/** A factor on the predicted density, with frequencies that show what it does. */
export interface Weighting {
  readonly at: (frequency: number) => number
  readonly corners: readonly number[]
}

/** Density of an output as points: exact at each, dense enough that log-log lines between them hold to about 1e-4. */
export interface PredictedDensity {
  readonly frequency: Float64Array
  readonly density: Float64Array
  /** What each drive contributes, on the same grid */
  readonly parts: readonly Float64Array[]
}

/** What the square of a value halfway may be of the product of those beside it, for lines that hold to 1e-4. */
const [flattest, steepest] = [Math.exp(-2e-4), Math.exp(2e-4)]

/** One-sided density of an output under independent drives, Σ |G|² S, over the range that all drives cover, within
 * `range`, times a weighting.
 *
 * The grid holds every corner of the drives and every feature of the responses, and is halved between them until a
 * log-log line predicts the value halfway.
 */
export function predictedDensity(
  scope: Scope,
  closed: StateSpace,
  output: string,
  drives: readonly Drive[],
  range: readonly [from: number, to: number] = [0, Number.POSITIVE_INFINITY],
  weighting: Weighting = { at: () => 1, corners: [] },
): PredictedDensity {
  const densities = drives.map(driveDensity)
  const from = Math.max(range[0], ...densities.map((density) => density.from))
  const to = Math.min(range[1], ...densities.map((density) => density.to))
  if (!(from < to)) fail('out-of-range', scope, 'has spectra whose frequency ranges do not overlap')
  const ends = [angularFrequency(from), angularFrequency(to)] as const
  const live = liveInputs(
    closed,
    output,
    drives.map(({ input }) => input),
    ends,
  )
  const responses = drives.map(({ input }) =>
    live.has(input) ? scannedResponse(scope, closed, input, output, ends) : null,
  )
  const channels = responses.map((response) => (response === null ? () => 0 : powerOf(response.at)))
  const corners = [...weighting.corners, ...densities.flatMap((density) => density.corners)]
  const features = responses.flatMap((response) => response?.scan.omega.map((omega) => omega / (2 * Math.PI)) ?? [])
  const grid = [from, ...corners, ...features, to]
    .filter((frequency) => frequency >= from && frequency <= to)
    .sort((a, b) => a - b)
  const parts = channels.map((gain, k) => {
    const { at } = densities[k]
    return (frequency: number) => gain(frequency) * at(frequency) * weighting.at(frequency)
  })
  return joinedByLines(parts, grid)
}

/** Points on an ascending grid and between, so that the sum of the parts follows log-log lines from each to the next. */
function joinedByLines(parts: readonly ((frequency: number) => number)[], grid: readonly number[]): PredictedDensity {
  // In the order in which they were found, each with the number of the next one up.
  const frequency: number[] = []
  const total: number[] = []
  const next: number[] = []
  const values = parts.map((): number[] => [])
  let count = 0
  const add = (place: number): number => {
    let sum = 0
    for (let k = 0; k < parts.length; k++) {
      const value = parts[k](place)
      values[k][count] = value
      sum += value
    }
    frequency[count] = place
    total[count] = sum
    next[count] = -1
    return count++
  }
  const fillUpTo = (last: number, from: number): void => {
    for (let left = from; left !== last; ) {
      const right = next[left]
      const middle = Math.sqrt(frequency[left] * frequency[right])
      if (middle > frequency[left] * (1 + 1e-9) && middle < frequency[right] * (1 - 1e-9)) {
        const between = add(middle)
        if (bends(total[left], total[between], total[right])) {
          next[left] = between
          next[between] = right
          continue
        }
        count -= 1
      }
      left = right
    }
  }
  let last = -1
  for (const place of grid) {
    if (last >= 0 && !(place > frequency[last])) continue
    const added = add(place)
    if (last >= 0) {
      next[last] = added
      fillUpTo(added, last)
    }
    last = added
  }
  const ordered = (list: readonly number[]): Float64Array => {
    const found = new Float64Array(count)
    for (let k = 0, place = 0; k >= 0; k = next[k]) found[place++] = list[k]
    return found
  }
  return { frequency: ordered(frequency), density: ordered(total), parts: values.map(ordered) }
}

/** Whether a value halfway is off the line between those beside it; one that touches 0 is on none. */
function bends(left: number, between: number, right: number): boolean {
  if (!(left > 0 && between > 0 && right > 0)) return false
  const ratio = (between / left) * (between / right)
  return !(ratio >= flattest && ratio <= steepest)
}

/** The density of another output at given frequencies. */
export function densityAt(
  closed: StateSpace,
  output: string,
  drives: readonly Drive[],
  frequency: Float64Array,
): Float64Array {
  const parts = drives.map((drive) => {
    const { at } = driveDensity(drive)
    const gain = responseOf(closed, drive.input, output)
    return (place: number) => gain(place) * at(place)
  })
  return frequency.map((place) => parts.reduce((sum, part) => sum + part(place), 0))
}

/** The density of a drive between its samples. */
export function driveDensity({ spectrum, beyond }: Drive): DensityFunction {
  const density = densityFunction(spectrum)
  return beyond === 'nothing' ? silentBeyond(density) : density
}

/** A density that is 0 outside of its range, with a step of two points side by side at either end. */
function silentBeyond({ from, to, at, corners }: DensityFunction): DensityFunction {
  return {
    from: 0,
    to: Number.POSITIVE_INFINITY,
    at: (frequency) => (frequency >= from && frequency <= to ? at(frequency) : 0),
    corners: [from * (1 - step), from, ...corners, to, to * (1 + step)],
  }
}

/** |G|² of one channel as a function of frequency [Hz]. */
function responseOf(closed: StateSpace, input: string, output: string): (frequency: number) => number {
  const channel = denseSystem(closed, [closed.inputs.indexOf(input)], [closed.outputs.indexOf(output)])
  const kernel = responseKernel(channel)
  return powerOf((omega) => {
    const value = kernel.at(0, omega)
    return value === null ? null : { re: value.re[0], im: value.im[0] }
  })
}

function powerOf(at: ComplexFunction): (frequency: number) => number {
  return (frequency) => {
    const value = at(angularFrequency(frequency))
    return value === null ? Number.POSITIVE_INFINITY : value.re * value.re + value.im * value.im
  }
}
