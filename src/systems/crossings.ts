import { bracketedRoot, localMinimum } from '../linear/scalar-search.js'
import type { ComplexFunction, Scan } from './refined-scan.js'

/** A place on the imaginary axis and the value of the function there. */
export interface AxisPoint {
  readonly omega: number
  readonly re: number
  readonly im: number
}

/** Size of g that rounding may give it. */
const rounding = 1e-10
/** Size of g below which a sample is worked out again, to rounding. */
const unsure = 1e-3

/** Every sign change of g along the scan, and those a step could hide behind a local extremum, found to rounding.
 *
 * Samples at which |g| is below 1e-10 have no sign: where g only touches 0 to rounding, as it does where it starts from 0, nothing crosses. */
export function crossings(evaluate: ComplexFunction, scan: Scan, g: (re: number, im: number) => number): AxisPoint[] {
  const found: AxisPoint[] = []
  const at = (omega: number): number => {
    const value = evaluate(omega)
    return value === null ? Number.NaN : g(value.re, value.im)
  }
  const values = scan.omega.map((omega, k) => {
    const value = g(scan.re[k], scan.im[k])
    return Math.abs(value) < unsure ? at(omega) : value
  })
  const polish = (a: number, b: number, fa: number, fb: number) => {
    const omega = bracketedRoot(at, a, b, fa, fb)
    const value = evaluate(omega)
    if (value !== null) found.push({ omega, ...value })
  }
  let last = -1
  for (let k = 0; k < values.length; k++) {
    const value = values[k]
    if (!(Math.abs(value) > rounding)) continue
    if (last >= 0 && value > 0 !== values[last] > 0) {
      // A jump from π to −π is no crossing.
      if (Math.abs(value - values[last]) < Math.PI) polish(scan.omega[last], scan.omega[k], values[last], value)
    } else if (last === k - 1 && last >= 0 && value > 0 === values[k + 1] > 0) {
      const hidden = hiddenExtremum(at, scan.omega, values, k)
      if (hidden !== null) {
        polish(scan.omega[k - 1], hidden.x, values[k - 1], hidden.value)
        polish(hidden.x, scan.omega[k + 1], hidden.value, values[k + 1])
      }
    }
    last = k
  }
  return found
}

/** A local extremum around sample k that lies on the other side of zero. */
function hiddenExtremum(at: (omega: number) => number, omega: number[], values: number[], k: number) {
  const sign = values[k] > 0 ? 1 : -1
  const [a, b, c] = [sign * values[k - 1], sign * values[k], sign * values[k + 1]]
  if (!(b <= a && b <= c) || b > Math.max(a - b, c - b) + 0.5) return null
  const { x, value } = localMinimum((place) => sign * at(place), omega[k - 1], omega[k + 1])
  return value < -rounding ? { x, value: sign * value } : null
}
