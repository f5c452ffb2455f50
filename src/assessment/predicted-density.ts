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

const interpolationError = 1e-4
const deepest = 40

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
  const sample = (frequency: number): Sample => {
    const factor = weighting.at(frequency)
    const parts = channels.map((gain, k) => gain(frequency) * densities[k].at(frequency) * factor)
    let total = 0
    for (const part of parts) total += part
    return { frequency, parts, total }
  }
  const corners = [...weighting.corners, ...densities.flatMap((density) => density.corners)]
  const features = responses.flatMap((response) => response?.scan.omega.map((omega) => omega / (2 * Math.PI)) ?? [])
  const grid = [from, ...corners, ...features, to]
    .filter((frequency) => frequency >= from && frequency <= to)
    .sort((a, b) => a - b)
  const samples: Sample[] = []
  for (const place of grid) {
    const previous = samples[samples.length - 1]
    if (previous !== undefined && !(place > previous.frequency)) continue
    const next = sample(place)
    if (previous !== undefined) fillBetween(sample, previous, next, samples, 0)
    samples.push(next)
  }
  return {
    frequency: Float64Array.from(samples, ({ frequency }) => frequency),
    density: Float64Array.from(samples, ({ total }) => total),
    parts: drives.map((_, k) => Float64Array.from(samples, ({ parts }) => parts[k])),
  }
}

/** Density at one frequency, by drive and in all. */
interface Sample {
  readonly frequency: number
  readonly parts: readonly number[]
  readonly total: number
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

function fillBetween(
  sample: (frequency: number) => Sample,
  a: Sample,
  b: Sample,
  samples: Sample[],
  depth: number,
): void {
  const middle = Math.sqrt(a.frequency * b.frequency)
  if (depth >= deepest || !(middle > a.frequency * (1 + 1e-9) && middle < b.frequency * (1 - 1e-9))) return
  const between = sample(middle)
  if (!(a.total > 0 && b.total > 0 && between.total > 0)) return
  if (Math.abs(Math.log((between.total / a.total) * (between.total / b.total))) <= 2 * interpolationError) return
  fillBetween(sample, a, between, samples, depth + 1)
  samples.push(between)
  fillBetween(sample, between, b, samples, depth + 1)
}
