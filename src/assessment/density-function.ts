import { logLogBetween } from '../internal/log-ratio.js'
import type { Spectrum } from '../vibration/index.js'

/** A density as a function of frequency, with the places where it has corners. */
export interface DensityFunction {
  /** Lowest and highest frequency covered [Hz] */
  readonly from: number
  readonly to: number
  readonly at: (frequency: number) => number
  /** Frequencies [Hz] between which the function is smooth */
  readonly corners: number[]
}

/** Relative distance of the two points that stand for a step between two lines. */
export const step = 1e-12

/** The density of a spectrum between its samples: constant over each line, log-log between points.
 *
 * A step between lines becomes two points side by side, so that no energy of a line is lost or spread. The line at 0 Hz
 * has no place on a logarithmic axis and is left out.
 */
export function densityFunction({ frequency, density, support }: Spectrum): DensityFunction {
  return support === 'lines' ? staircase(frequency, density) : polygon(frequency, density)
}

function staircase(frequency: ArrayLike<number>, density: ArrayLike<number>): DensityFunction {
  const count = frequency.length
  // A spectrum of lines has two at least.
  const width = (frequency[count - 1] - frequency[0]) / (count - 1)
  const first = frequency[0] > 0 ? 0 : 1
  const from = frequency[first] - width / 2
  const to = frequency[count - 1] + width / 2
  const corners: number[] = []
  for (let k = first; k < count; k++) {
    corners.push(Math.max(frequency[k] - width / 2, 0) * (1 + step), (frequency[k] + width / 2) * (1 - step))
  }
  const at = (place: number): number => {
    const index = Math.round((place - frequency[0]) / width)
    return density[Math.min(Math.max(index, first), count - 1)]
  }
  return { from: from * (1 + step), to: to * (1 - step), at, corners }
}

function polygon(frequency: ArrayLike<number>, density: ArrayLike<number>): DensityFunction {
  const first = frequency[0] > 0 ? 0 : 1
  const at = (place: number): number => {
    const k = indexBelow(frequency, place)
    if (frequency[k] === place || k + 1 >= frequency.length || density[k] === density[k + 1]) return density[k]
    const [from, a, to, b] = [frequency[k], density[k], frequency[k + 1], density[k + 1]]
    if (a > 0 && b > 0) return logLogBetween(place, from, a, to, b)
    return a + ((b - a) * (place - from)) / (to - from)
  }
  return {
    from: frequency[first],
    to: frequency[frequency.length - 1],
    at,
    corners: Array.from(frequency).slice(first),
  }
}

/** Largest k with frequency[k] ≤ place. */
function indexBelow(frequency: ArrayLike<number>, place: number): number {
  let low = 0
  let high = frequency.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (frequency[middle] <= place) low = middle
    else high = middle
  }
  return frequency[high] <= place ? high : low
}
