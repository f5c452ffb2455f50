import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'

/** Frequencies [rad/s] at which something can happen: a logarithmic grid and, around each root, points spaced by its width.
 *
 * @param poles - of what will be sampled [rad/s]
 * @param span - how far beyond the outermost poles the grid reaches, as a factor
 * @param zeros - which may lie beyond the grid, as those at 0 do to rounding
 */
export function landmarkFrequencies(
  poles: readonly Eigenvalues[],
  span: number,
  pointsPerDecade: number,
  zeros: readonly Eigenvalues[] = [],
): number[] {
  const places: number[] = []
  poles.forEach((roots) => {
    addRoots(places, roots)
  })
  let lowest = Number.POSITIVE_INFINITY
  let highest = 0
  for (const place of places) {
    lowest = Math.min(lowest, place)
    highest = Math.max(highest, place)
  }
  if (highest === 0) lowest = highest = 1
  const from = Math.log10(Math.max(lowest / span, Number.MIN_VALUE))
  const to = Math.log10(Math.min(highest * span, 1e308))
  const count = Math.ceil((to - from) * pointsPerDecade)
  for (let k = 0; k <= count; k++) places.push(10 ** (from + ((to - from) * k) / count))
  zeros.forEach((roots) => {
    addRoots(places, roots)
  })
  return ascending(places)
}

function addRoots(places: number[], { re, im }: Eigenvalues): void {
  for (let k = 0; k < re.length; k++) {
    const size = hypotenuse(re[k], im[k])
    if (size > 0 && im[k] >= 0) places.push(size)
    if (im[k] > 0) addPeak(places, im[k], Math.abs(re[k]))
  }
}

/** Sorted without repetition. */
export function ascending(values: number[]): number[] {
  values.sort((a, b) => a - b)
  return values.filter((value, k) => k === 0 || value > values[k - 1])
}

/** Frequency [rad/s] beyond which a gain stays at or below a level, as far as the places tell; no more than twice `most`.
 * @param places - ascending, up to far beyond all roots */
export function reachOf(
  gain: (omega: number) => number,
  places: readonly number[],
  level: number,
  most: number,
): number {
  let k = places.length - 1
  while (k >= 0 && !(gain(places[k]) > level)) k--
  if (k < places.length - 1) return k < 0 ? 0 : places[k + 1]
  let reach = 2 * places[k]
  while (gain(reach) > level && reach < most) reach *= 2
  return reach
}

/** [rad] below that of `refinedScan`, so that it is not halved there where the rest of the loop turns a little too */
const turnPerStep = 0.95 * (Math.PI / 8)
export const mostDelaySteps = 300_000

/** Whether a delay turns too often up to a limit [rad/s] to follow it. */
export function tooManyTurns(seconds: number, limit: number): boolean {
  return seconds * limit > mostDelaySteps * turnPerStep
}

/** Adds equally spaced frequencies so that e^(−jωτ) turns by somewhat less than 22.5° from one to the next, up to
 * a limit. */
export function addDelaySteps(places: number[], seconds: number, limit: number): number[] {
  const step = turnPerStep / seconds
  const count = Math.min(Math.ceil(limit / step), mostDelaySteps)
  const steps = Array.from({ length: count }, (_, k) => (k + 1) * step)
  return ascending(places.concat(steps))
}

function addPeak(places: number[], centre: number, width: number): void {
  const step = Math.max(width, 1e-9 * centre, Number.MIN_VALUE)
  for (let offset = step; offset < centre; offset *= 4) {
    places.push(centre - offset, centre + offset)
  }
}
