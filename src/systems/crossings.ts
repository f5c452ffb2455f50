import { bracketedRoot, localMinimum } from '../linear/scalar-search.js'
import type { ComplexFunction, Scan } from './refined-scan.js'

/** A place on the imaginary axis and the value of the function there. */
export interface AxisPoint {
  readonly omega: number
  readonly re: number
  readonly im: number
}

/** Every sign change of g along the scan, and those a step could hide behind a local extremum, found to rounding. */
export function crossings(evaluate: ComplexFunction, scan: Scan, g: (re: number, im: number) => number): AxisPoint[] {
  const found: AxisPoint[] = []
  const values = scan.omega.map((_, k) => g(scan.re[k], scan.im[k]))
  const at = (omega: number): number => {
    const value = evaluate(omega)
    return value === null ? Number.NaN : g(value.re, value.im)
  }
  const polish = (a: number, b: number, fa: number, fb: number) => {
    const omega = bracketedRoot(at, a, b, fa, fb)
    const value = evaluate(omega)
    if (value !== null) found.push({ omega, ...value })
  }
  for (let k = 1; k < values.length; k++) {
    const [a, b] = [values[k - 1], values[k]]
    if (a > 0 !== b > 0) {
      if (Math.abs(a - b) < Math.PI && Math.max(Math.abs(a), Math.abs(b)) > 1e-12) {
        polish(scan.omega[k - 1], scan.omega[k], a, b)
      }
    } else if (k + 1 < values.length && b > 0 === values[k + 1] > 0) {
      const hidden = hiddenExtremum(at, scan.omega, values, k)
      if (hidden !== null) {
        polish(scan.omega[k - 1], hidden.x, a, hidden.value)
        polish(hidden.x, scan.omega[k + 1], hidden.value, values[k + 1])
      }
    }
  }
  return found
}

/** A local extremum around sample k that lies on the other side of zero. */
function hiddenExtremum(at: (omega: number) => number, omega: number[], values: number[], k: number) {
  const sign = values[k] > 0 ? 1 : -1
  const [a, b, c] = [sign * values[k - 1], sign * values[k], sign * values[k + 1]]
  if (!(b <= a && b <= c) || b > Math.max(a - b, c - b) + 0.5) return null
  const { x, value } = localMinimum((place) => sign * at(place), omega[k - 1], omega[k + 1])
  return value < 0 ? { x, value: sign * value } : null
}
