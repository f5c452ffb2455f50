import type { Spectrum } from '../vibration/types.js'
import { densityFunction } from './density-function.js'

/** Ratio of densities from which one counts as above the other: more than interpolation leaves. */
const excess = 1.01

/** Intervals [from, to] in Hz in which one density is more than 1 % above another, as far as both reach; their ends straight
 * in log-log between the points of both. */
export function intervalsAbove(spectrum: Spectrum, other: Spectrum): [number, number][] {
  const [a, b] = [densityFunction(spectrum), densityFunction(other)]
  const places = Float64Array.from(new Set([...a.corners, ...b.corners]))
    .filter((place) => place >= Math.max(a.from, b.from) && place <= Math.min(a.to, b.to))
    .sort()
  const over = places.map((place) => Math.log(a.at(place)) - Math.log(b.at(place)) - Math.log(excess))
  const intervals: [number, number][] = []
  places.forEach((place, k) => {
    const before = k > 0 && over[k - 1] > 0
    if (over[k] > 0 === before) return
    const share = k === 0 ? 1 : -over[k - 1] / (over[k] - over[k - 1])
    const edge = k === 0 || !(share >= 0 && share <= 1) ? place : places[k - 1] * (place / places[k - 1]) ** share
    if (before) intervals[intervals.length - 1][1] = edge
    else intervals.push([edge, places[places.length - 1]])
  })
  return intervals
}
