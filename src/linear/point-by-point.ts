import type { ComplexDense } from './complex-lu.js'
import type { Points } from './partial-fractions.js'

/** Writes entries of a response at some of the points, all unless said, each entry over all points in one row of `into`;
 * returns the points where it is null. */
export function pointByPoint(
  at: (re: number, im: number) => ComplexDense | null,
  points: Points,
  entries: readonly number[],
  into: Points,
  places: readonly number[] = Array.from(points.re.keys()),
): number[] {
  const stride = points.re.length
  return places.filter((k) => {
    const value = at(points.re[k], points.im[k])
    if (value === null) return true
    entries.forEach((entry, c) => {
      into.re[c * stride + k] = value.re[entry]
      into.im[c * stride + k] = value.im[entry]
    })
    return false
  })
}
