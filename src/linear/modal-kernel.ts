import { closedDelays } from './closed-delays.js'
import type { ComplexDense } from './complex-lu.js'
import type { DelayedSystem } from './delayed-solve.js'
import { modalForm } from './modal-form.js'
import { type Bounded, partialFractions } from './partial-fractions.js'

/** Response at s in O(n); null where its error bound is not small enough. The result is reused by the next call. */
export type ModalKernel = (re: number, im: number, least?: number) => ComplexDense | null

/** Bound on the error of an entry over the largest entry of its output row, at which the modal form is trusted. */
const promised = 1e-11

/** Evaluator by partial fractions, whose answer carries a proof of its error or is withheld; null for a system that has no
 * well-conditioned modes. Delays are closed through their own small matrix.
 * @source derived: first-order perturbation of (s I − Λ)⁻¹ with Cauchy's inequality, factor 1.2 for the higher orders */
export function modalKernel(system: DelayedSystem): ModalKernel | null {
  const form = modalForm(system)
  if (form === null) return null
  const fractions = partialFractions(form, system.D)
  const close = closedDelays(system)
  const proved = (open: Bounded | null, re: number, im: number, least: number): ComplexDense | null => {
    const closed = open === null ? null : close(open, re, im)
    return closed !== null && isProved(closed, least) ? closed.value : null
  }
  return (re, im, least = 0) =>
    proved(fractions.nearby(re, im), re, im, least) ?? proved(fractions.at(re, im), re, im, least)
}

/** Whether every row is right, or proved to be nowhere above `least`. */
function isProved({ value, bound }: Bounded, least: number): boolean {
  const m = value.columns
  for (let o = 0; o < value.rows; o++) {
    let largest = 0
    let worst = 0
    for (let p = o * m; p < (o + 1) * m; p++) {
      largest = Math.max(largest, value.re[p] ** 2 + value.im[p] ** 2)
      worst = Math.max(worst, bound[p])
    }
    const size = Math.sqrt(largest)
    if (!((worst <= promised * size && size < Number.POSITIVE_INFINITY) || size + worst <= least)) return false
  }
  return true
}
