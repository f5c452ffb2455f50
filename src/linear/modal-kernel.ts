import { closedDelays } from './closed-delays.js'
import { type ComplexDense, complexZeros } from './complex-lu.js'
import type { DelayedSystem } from './delayed-solve.js'
import type { Eigenvalues } from './eigenvalues.js'
import { modalForm } from './modal-form.js'
import { type Bounded, type Points, partialFractions } from './partial-fractions.js'

/** Values at s in O(n); null where their error bound is not small enough. They are reused by the next call. */
export interface ModalKernel {
  /** Eigenvalues of the state matrix */
  readonly poles: Eigenvalues
  /** The response; see `ResponseKernel` */
  at(re: number, im: number, least?: number, share?: number): ComplexDense | null
  /** Transfer from what comes out of the delays to what goes into them, with all of them cut */
  between(re: number, im: number, least?: number): ComplexDense | null
  /** Some entries at many points, each over all points in one row of `into`; returns the points where they are withheld,
   * null for a system with delays.
   * @param entries - output after output, as many of each of the `rows` outputs */
  along(points: Points, entries: readonly number[], rows: number, into: Points): number[] | null
}

/** Bound on the error of an entry over the largest entry of its output row, at which the modal form is trusted. */
export const promised = 1e-11
/** Failures in a row after which only every so many-th point is tried. */
const patience = 8

/** Evaluator by partial fractions, whose answer carries a proof of its error or is withheld; null for a system that has no
 * well-conditioned modes. Delays are closed through their own small matrix.
 * @source derived: first-order perturbation of (s I − Λ)⁻¹ with Cauchy's inequality, factor 1.2 for the higher orders */
export function modalKernel(system: DelayedSystem): ModalKernel | null {
  const form = modalForm(system)
  if (form === null) return null
  const fractions = partialFractions(form, system.D)
  const close = closedDelays(system)
  const proved = (open: Bounded | null, re: number, im: number, least: number, share: number): ComplexDense | null => {
    const closed = open === null ? null : close(open, re, im)
    return closed !== null && isProved(closed.value, 0, closed.bound, null, closed.value.rows, least, share)
      ? closed.value
      : null
  }
  const failed = { times: 0, since: 0 }
  const at = (re: number, im: number, least = 0, share = promised): ComplexDense | null => {
    if (failed.times >= patience && failed.since++ % patience !== 0) return null
    const found =
      proved(fractions.nearby(re, im), re, im, least, share) ?? proved(fractions.at(re, im), re, im, least, share)
    failed.times = found === null ? failed.times + 1 : 0
    return found
  }
  const corner = cornerOf(system)
  const provedCorner = (open: Bounded | null, least: number): ComplexDense | null => {
    const found = open === null ? null : corner(open)
    return found !== null && isProved(found.value, 0, found.bound, null, found.value.rows, least, promised)
      ? found.value
      : null
  }
  return {
    poles: form.lambda,
    at,
    between: (re, im, least = 0) =>
      provedCorner(fractions.nearby(re, im), least) ?? provedCorner(fractions.at(re, im), least),
    along: (points, entries, rows, into) => {
      if (system.seconds.length > 0) return null
      const missing: number[] = []
      fractions.along(points, entries, into)
      const proves = (bound: Float64Array | null, k: number): boolean =>
        bound !== null && isProved(into, k, bound, entries, rows, 0, promised)
      for (let k = 0; k < points.re.length; k++) {
        const [re, im] = [points.re[k], points.im[k]]
        if (!proves(fractions.boundNear(re, im), k) && !proves(fractions.boundAt(re, im), k)) missing.push(k)
      }
      return missing
    },
  }
}

/** The entries of a response that belong to the delays alone. */
function cornerOf({ B, C, seconds }: DelayedSystem): (open: Bounded) => Bounded {
  const d = seconds.length
  const found: Bounded = { value: complexZeros(d, d), bound: new Float64Array(d * d) }
  return ({ value, bound }) => {
    for (let i = 0; i < d; i++) {
      for (let j = 0; j < d; j++) {
        const from = (C.rows - d + i) * B.columns + B.columns - d + j
        found.value.re[i * d + j] = value.re[from]
        found.value.im[i * d + j] = value.im[from]
        found.bound[i * d + j] = bound[from]
      }
    }
    return found
  }
}

/** Whether at place k every row is right, or proved to be nowhere above `least`; `share` of it will do where the error is small
 * beside 1. Each entry stands over all places in one row of the values.
 * @param entries - which these are among the bounds; all unless given */
function isProved(
  { re, im }: Points,
  k: number,
  bound: Float64Array,
  entries: readonly number[] | null,
  rows: number,
  least: number,
  share: number,
): boolean {
  const count = entries === null ? bound.length : entries.length
  const columns = count / rows
  const stride = re.length / count
  for (let o = 0; o < rows; o++) {
    let largest = 0
    let worst = 0
    for (let c = o * columns; c < (o + 1) * columns; c++) {
      const p = c * stride + k
      largest = Math.max(largest, re[p] * re[p] + im[p] * im[p])
      worst = Math.max(worst, bound[entries === null ? c : entries[c]])
    }
    const size = Math.sqrt(largest)
    const right = worst <= promised * size || (worst <= share * size && worst <= promised)
    if (!((right && size < Number.POSITIVE_INFINITY) || size + worst <= least)) return false
  }
  return true
}
