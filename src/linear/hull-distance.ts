import { localMinimum } from './scalar-search.js'

/** Distance of the origin from the convex hull of points of the plane, or a little less; at most 0 where it may lie inside.
 *
 * The largest over all directions of the least component of a point along it: any direction gives a lower bound, and between the
 * directions that all points share the component is concave, so that a search finds the best one. */
export function hullDistance(re: ArrayLike<number>, im: ArrayLike<number>): number {
  // The two outermost points as seen from the origin; where there are none, no direction has all points before it.
  let [first, last] = [0, 0]
  for (let k = 1; k < re.length; k++) {
    if (re[first] * im[k] - im[first] * re[k] < 0) first = k
    if (re[last] * im[k] - im[last] * re[k] > 0) last = k
  }
  const from = Math.atan2(im[last], re[last]) - Math.PI / 2
  const to = Math.atan2(im[first], re[first]) + Math.PI / 2
  const width = to - from - 2 * Math.PI * Math.floor((to - from) / (2 * Math.PI))
  const behind = (angle: number): number => {
    const [x, y] = [Math.cos(angle), Math.sin(angle)]
    let least = Number.POSITIVE_INFINITY
    for (let k = 0; k < re.length; k++) least = Math.min(least, re[k] * x + im[k] * y)
    return -least
  }
  return -localMinimum(behind, from, from + width).value
}
