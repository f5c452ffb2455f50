import type { ComplexDense } from './complex-lu.js'
import { balancedSystem, type DelayedSystem } from './delayed-solve.js'
import { block } from './dense.js'
import { type Eigenvalues, eigenvalues } from './eigenvalues.js'
import { modalKernel, promised } from './modal-kernel.js'
import { once } from './once.js'
import type { Points } from './partial-fractions.js'
import { pointByPoint } from './point-by-point.js'
import { type BoundedResponse, solvedResponse } from './solved-response.js'

/** Response of one system at one s after another. */
export interface ResponseKernel {
  /** Response at s, p × m; null where s is a pole to working precision or the response
   * overflows. The result is reused by the next call.
   * @param least - where no entry of an output row is above it, any values below will do. @defaultValue 0
   * @param share - error over the largest entry of its row that will do where it is small beside 1 as well. @defaultValue 1e-11 */
  at(re: number, im: number, least?: number, share?: number): ComplexDense | null
  /** The same with a bound on the modulus of the error of each entry, from residual and inverse; slower. */
  boundedAt(re: number, im: number): BoundedResponse | null
  /** Some entries at many points, each over all points in one row of `into`; returns the points where `at` is null.
   * @param entries - output after output, as many of each of the `rows` outputs */
  along(points: Points, entries: readonly number[], rows: number, into: Points): number[]
}

/** The same of a system with states, and what is known of it with all of its delays cut. */
export interface StateKernel extends ResponseKernel {
  /** Eigenvalues of the state matrix; null where they do not converge */
  poles(): Eigenvalues | null
  /** Transfer from what comes out of the delays to what goes into them; `at` of that. */
  between(re: number, im: number, least?: number): ComplexDense | null
}

/** Evaluator: balance, Hessenberg form once, per frequency an O(n²) solve and refinement with the residual in
 * unreduced coordinates, once as a rule, until the outputs stand; a dense factorisation where the refinement does not converge or
 * delays are inside. Where many points are expected, partial fractions answer in O(n) wherever their error bound is small.
 * @param points - how many are expected about
 * @source A. J. Laub, IEEE Trans. Automatic Control 26 (1981) 407; N. J. Higham, Accuracy and Stability of Numerical
 * Algorithms, 2nd edition 2002, chapter 12 */
export function responseKernel(system: DelayedSystem, points: number = Number.POSITIVE_INFINITY): StateKernel {
  const balanced = balancedSystem(system)
  const modal = points > balanced.A.rows ? modalKernel(balanced) : null
  // Where partial fractions answer everywhere, no reduction is needed.
  const solved = once(() => solvedResponse(balanced))
  const cut = once(() => responseKernel(delaysCut(balanced), 1))
  const solvedAt = (re: number, im: number) => solved().at(re, im)
  const at: ResponseKernel['at'] = (re, im, least = 0, share = promised) =>
    modal?.at(re, im, least, share) ?? solvedAt(re, im)
  return {
    at,
    along: (points, entries, rows, into) => {
      const withheld = modal?.along(points, entries, rows, into)
      return pointByPoint(withheld ? solvedAt : at, points, entries, into, withheld ?? undefined)
    },
    boundedAt: (re, im) => solved().boundedAt(re, im),
    poles: () => modal?.poles ?? eigenvalues(balanced.A),
    between: (re, im, least = 0) => modal?.between(re, im, least) ?? cut().at(re, im, least),
  }
}

/** From the delayed signals to what goes into the delays. */
function delaysCut({ A, B, C, D, seconds }: DelayedSystem): DelayedSystem {
  const d = seconds.length
  return {
    A,
    B: block(B, 0, B.columns - d, B.rows, d),
    C: block(C, C.rows - d, 0, d, C.columns),
    D: block(D, D.rows - d, D.columns - d, d, d),
    seconds: [],
  }
}
