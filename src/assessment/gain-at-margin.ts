import type { Scope } from '../internal/check.js'
import { leastOf } from '../internal/extremes.js'
import { localMinimum } from '../linear/scalar-search.js'
import { scannedResponse } from '../systems/scanned-response.js'
import type { StateSpace } from '../systems/types.js'

/** Modulus of a loop below which its turns are not followed: factors stay far below the inverse. */
export const negligible = 1e-4

/** Largest factor on a loop L, reached from 0 without leaving it, that keeps |1 + k L| at least m, and where it is met [Hz].
 *
 * k² |L|² + 2 k Re L + 1 − m² is negative between two positive k where Re L < 0 and its discriminant is positive; the lower
 * one, the least of it over frequency, is the answer. The factor is Infinity where no frequency limits it. */
export function gainAtMargin(scope: Scope, loop: StateSpace, margin: number): { factor: number; frequency: number } {
  const { at, scan } = scannedResponse(scope, loop, 'injected', 'returned', undefined, negligible)
  const bound = (omega: number): number => {
    const value = at(omega)
    if (value === null) return Number.POSITIVE_INFINITY
    return factorAtMargin(value, margin)
  }
  const omega = scan.omega.flatMap((place, k) => (k === 0 ? [place] : [Math.sqrt(scan.omega[k - 1] * place), place]))
  const bounds = omega.map(bound)
  const least = leastOf(bounds)
  let best = { factor: least, frequency: 0 }
  if (least === Number.POSITIVE_INFINITY) return best
  for (let k = 0; k < omega.length; k++) {
    const [before, after] = [Math.max(0, k - 1), Math.min(omega.length - 1, k + 1)]
    if (bounds[k] > 1.5 * least || bounds[k] > bounds[before] || bounds[k] > bounds[after]) continue
    const { x, value } = localMinimum(bound, omega[before], omega[after])
    const [place, factor] = value < bounds[k] ? [x, value] : [omega[k], bounds[k]]
    if (factor <= best.factor) best = { factor, frequency: place / (2 * Math.PI) }
  }
  return best
}

/** The same at one frequency, where the loop has a known value. */
export function factorAtMargin({ re, im }: { readonly re: number; readonly im: number }, margin: number): number {
  const rest = re ** 2 - (re ** 2 + im ** 2) * (1 - margin ** 2)
  return re < 0 && rest >= 0 ? (1 - margin ** 2) / (Math.sqrt(rest) - re) : Number.POSITIVE_INFINITY
}
