import { type Scope, scopeOf } from '../internal/check.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { localMinimum } from '../linear/scalar-search.js'
import { crossings } from '../systems/crossings.js'
import { poles } from '../systems/poles.js'
import { relevantPart } from '../systems/relevant-states.js'
import { type Response, scannedResponse } from '../systems/scanned-response.js'
import type { StateSpace } from '../systems/types.js'
import { checkOneAxis } from './check-model.js'
import type { IsolationModel } from './model.js'

/** A local maximum of the transmissibility. */
export interface Resonance {
  /** [Hz] */
  readonly frequency: number
  /** |T| there */
  readonly amplification: number
}

/** What the transmissibility of a model comes down to. */
export interface IsolationSummary {
  readonly kind: 'IsolationSummary'
  /** Largest |T|; it is at least the value at 0 Hz */
  readonly peak: number
  /** Where that is [Hz]; 0 where |T| never rises */
  readonly peakFrequency: number
  /** Every local maximum of |T| above 1e-3, ascending in frequency */
  readonly resonances: readonly Resonance[]
  /** Frequency above which |T| stays below 1 [Hz]; null where it never does */
  readonly isolationFrom: number | null
  /** Intervals [from, to] in Hz where |T| is below 1; the last may reach Infinity */
  readonly isolatedIntervals: readonly (readonly [number, number])[]
}

/** Peak, resonances and isolated intervals of a model.
 *
 * |T| is sampled on a grid that knows the poles and delays of the model, refined until no step turns T by more than 22.5°;
 * crossings of 1 are found to rounding, maxima to about 1e-8 of their frequency. At an undamped resonance, with a damping
 * ratio below 1e-12, the peak is Infinity, which is the mathematical value.
 * @param model - of any concept; for an unstable one the numbers describe the formal response
 * @returns see {@link IsolationSummary}
 * @throws {@link IsolationError} `invalid-option`, `unsupported` for six axes, `no-convergence`
 * @source Harris' Shock and Vibration Handbook, chapter "Theory of vibration isolation"
 * @example
 * import { isolationSummary, passiveIsolation, springMount } from 'restmass'
 * const mount = springMount({ mass: 1, naturalFrequency: 2, dampingRatio: 0.1 })
 * isolationSummary(passiveIsolation({ payload: { mass: 1 }, mount })).peak // 5.1228
 */
export function isolationSummary(model: IsolationModel): IsolationSummary {
  const scope = scopeOf('isolationSummary')
  return summaryOf(scope, checkOneAxis(scope, model).closed, '')
}

/** The same along one axis, named by what its ports end in. */
export function summaryOf(scope: Scope, closed: StateSpace, end: string): IsolationSummary {
  const ports = [`floorVelocity${end}`, `payloadVelocity${end}`] as const
  const response = scannedResponse(scope, closed, ...ports)
  const resonances = resonancesOf(closed, response, ports)
  const peak = largestOf(resonances, sizeOf(response.at(0)))
  const intervals = isolatedIntervals(response)
  const last = intervals[intervals.length - 1]
  return {
    kind: 'IsolationSummary',
    peak: peak.amplification,
    peakFrequency: peak.frequency,
    resonances: resonances.filter(({ amplification }) => amplification > 1e-3),
    isolationFrom: last !== undefined && last[1] === Number.POSITIVE_INFINITY ? last[0] : null,
    isolatedIntervals: intervals,
  }
}

/** Infinite at a pole. */
function sizeOf(value: { readonly re: number; readonly im: number } | null): number {
  return value === null ? Number.POSITIVE_INFINITY : hypotenuse(value.re, value.im)
}

/** Every local maximum of a response of a system, undamped ones included. */
function resonancesOf(closed: StateSpace, response: Response, ports: readonly [string, string]): Resonance[] {
  return withInfinite(maxima(response), infinitePeaks(closed, response, ports))
}

function largestOf(resonances: readonly Resonance[], atRest: number): Resonance {
  return resonances.reduce(
    (largest, resonance) => (resonance.amplification > largest.amplification ? resonance : largest),
    { frequency: 0, amplification: atRest },
  )
}

/** Largest displacement of the payload per force on it along one axis [m/N], and where; `atRest` is that at 0 Hz. */
export function compliancePeak(scope: Scope, closed: StateSpace, end: string, atRest: number): Resonance {
  const ports = [`payloadForce${end}`, `payloadVelocity${end}`] as const
  const { at, scan } = scannedResponse(scope, closed, ...ports)
  const over = (values: readonly number[]) => values.map((part, k) => part / scan.omega[k])
  const displacement: Response = {
    at: (omega) => {
      const value = at(omega)
      return value === null ? null : { re: value.re / omega, im: value.im / omega }
    },
    scan: { ...scan, re: over(scan.re), im: over(scan.im) },
  }
  return largestOf(resonancesOf(closed, displacement, ports), atRest)
}

function maxima({ at, scan }: Response): Resonance[] {
  const size = scan.omega.map((_, k) => hypotenuse(scan.re[k], scan.im[k]))
  const minus = (omega: number): number => -sizeOf(at(omega))
  const found: Resonance[] = []
  for (let k = 1; k + 1 < size.length; k++) {
    if (!(size[k] >= size[k - 1] && size[k] > size[k + 1])) continue
    const { x, value } = localMinimum(minus, scan.omega[k - 1], scan.omega[k + 1])
    // Rounding ripples on the flat part near 0 Hz are no resonances.
    if (-value > Math.min(size[k - 1], size[k + 1]) * (1 + 1e-9))
      found.push({ frequency: x / (2 * Math.PI), amplification: -value })
  }
  return found
}

/** Frequencies [Hz] of the undamped modes that T shows. */
function infinitePeaks(closed: StateSpace, { at }: Response, [input, output]: readonly [string, string]): number[] {
  const part = relevantPart(closed, closed.inputs.indexOf(input), closed.outputs.indexOf(output))
  if (part.delays !== null) return []
  return poles(part)
    .filter(({ im, dampingRatio }) => im > 0 && Math.abs(dampingRatio as number) < 1e-12)
    .filter(({ im }) => sizeOf(at(im)) > 1e9)
    .map(({ im }) => im / (2 * Math.PI))
}

function withInfinite(resonances: readonly Resonance[], infinite: readonly number[]): Resonance[] {
  const isBeside = (a: number, b: number) => Math.abs(a - b) <= 1e-6 * b
  const finite = resonances.filter(({ frequency }) => !infinite.some((place) => isBeside(frequency, place)))
  const found = infinite.map((frequency) => ({ frequency, amplification: Number.POSITIVE_INFINITY }))
  return [...finite, ...found].sort((a, b) => a.frequency - b.frequency)
}

function isolatedIntervals(response: Response): [number, number][] {
  const level = (re: number, im: number) => Math.log(hypotenuse(re, im))
  return intervalsWhere(response, level, (value) => value < 0)
}

/** Intervals [from, to] in Hz where g of the response satisfies a condition that changes at the zeros of g. */
export function intervalsWhere(
  response: Response,
  g: (re: number, im: number) => number,
  holds: (value: number) => boolean,
): [number, number][] {
  const places = crossings(response.at, response.scan, g).map(({ omega }) => omega)
  const { omega } = response.scan
  const edges = [0, ...places, Number.POSITIVE_INFINITY]
  const intervals: [number, number][] = []
  for (let k = 1; k < edges.length; k++) {
    const middle = Math.min((edges[k - 1] + edges[k]) / 2, 2 * omega[omega.length - 1])
    const value = response.at(omega.find((place) => place > edges[k - 1] && place < edges[k]) ?? middle)
    if (value === null || !holds(g(value.re, value.im))) continue
    const [from, to] = [edges[k - 1] / (2 * Math.PI), edges[k] / (2 * Math.PI)]
    const previous = intervals[intervals.length - 1]
    if (previous !== undefined && previous[1] === from) previous[1] = to
    else intervals.push([from, to])
  }
  return intervals
}
