import { type ComplexDense, complexLu, complexLuSolve, complexZeros, luSpace } from './complex-lu.js'
import type { DelayedSystem } from './delayed-solve.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import { modalForm } from './modal-form.js'
import { type Bounded, partialFractions } from './partial-fractions.js'

/** Response at s in O(n); null where its error bound is not small enough. The result is reused by the next call. */
export type ModalKernel = (re: number, im: number) => ComplexDense | null

/** Bound on the error of an entry over the largest entry of its output row, or over the least size that matters, at which the
 * modal form is trusted. */
const promised = 1e-11

/** Evaluator by partial fractions, whose answer carries a proof of its error or is withheld; null for a system that has no
 * well-conditioned modes. Delays are closed through their own small matrix.
 * @source derived: first-order perturbation of (s I − Λ)⁻¹ with Cauchy's inequality, factor 1.2 for the higher orders */
export function modalKernel(system: DelayedSystem, least = 0): ModalKernel | null {
  const form = modalForm(system)
  if (form === null) return null
  const fractions = partialFractions(form, system.D)
  const close = closedDelays(system)
  const proved = (open: Bounded | null, re: number, im: number): ComplexDense | null => {
    const closed = open === null ? null : close(open, re, im)
    return closed !== null && isProved(closed, least) ? closed.value : null
  }
  // Where the bound failed it mostly fails at the next points too: the second failure in a row starts a pause, the next ones double it.
  let [pause, failures] = [0, 0]
  return (re, im) => {
    if (pause > 0) {
      pause -= 1
      return null
    }
    const found = proved(fractions.nearby(re, im), re, im) ?? proved(fractions.at(re, im), re, im)
    failures = found === null ? Math.min(failures + 1, 6) : 0
    pause = found === null ? 2 ** (failures - 1) - 1 : 0
    return found
  }
}

function isProved({ value, bound }: Bounded, least: number): boolean {
  const m = value.columns
  for (let o = 0; o < value.rows; o++) {
    let largest = least * least
    let worst = 0
    for (let p = o * m; p < (o + 1) * m; p++) {
      largest = Math.max(largest, value.re[p] ** 2 + value.im[p] ** 2)
      worst = Math.max(worst, bound[p])
    }
    if (!(worst <= promised * Math.sqrt(largest))) return false
  }
  return true
}

/** M₁₁ + M₁₂ (e^(sτ) − M₂₂)⁻¹ M₂₁ with the bound it inherits; null where the closed system has a pole. */
function closedDelays({ B, C, seconds }: DelayedSystem): (open: Bounded, re: number, im: number) => Bounded | null {
  const d = seconds.length
  if (d === 0) return (open) => open
  const [p, m] = [C.rows - d, B.columns - d]
  const wide = m + d
  const N = complexZeros(d, d)
  const inverse = complexZeros(d, d)
  const space = luSpace(d)
  const X = complexZeros(d, m)
  const Y = complexZeros(p, d)
  const value = complexZeros(p, m)
  const bound = new Float64Array(p * m)
  return ({ value: M, bound: off }, re, im) => {
    for (let i = 0; i < d; i++) {
      for (let j = 0; j < d; j++) {
        const at = (p + i) * wide + m + j
        N.re[i * d + j] = -M.re[at]
        N.im[i * d + j] = -M.im[at]
      }
      const growth = Math.exp(re * seconds[i])
      N.re[i * d + i] += growth * Math.cos(im * seconds[i])
      N.im[i * d + i] += growth * Math.sin(im * seconds[i])
    }
    const lu = complexLu(N, space)
    if (!(lu.smallestPivot > 0)) return null
    inverse.re.fill(0)
    inverse.im.fill(0)
    for (let i = 0; i < d; i++) inverse.re[i * d + i] = 1
    complexLuSolve(lu, inverse)
    for (let i = 0; i < d; i++) {
      for (let j = 0; j < m; j++) sumOf(X, i * m + j, d, inverse, i * d, 1, M, p * wide + j, wide)
    }
    for (let o = 0; o < p; o++) {
      for (let j = 0; j < d; j++) sumOf(Y, o * d + j, d, M, o * wide + m, 1, inverse, j, d)
    }
    for (let o = 0; o < p; o++) {
      for (let i = 0; i < m; i++) {
        const e = o * m + i
        sumOf(value, e, d, M, o * wide + m, 1, X, i, m)
        let error = off[o * wide + i] + rounding(d) * (modulus(M, o * wide + i) + modulus(value, e))
        for (let k = 0; k < d; k++) {
          const y = modulus(Y, o * d + k)
          error += y * off[(p + k) * wide + i] + off[o * wide + m + k] * modulus(X, k * m + i)
          for (let l = 0; l < d; l++) error += y * off[(p + k) * wide + m + l] * modulus(X, l * m + i)
        }
        value.re[e] += M.re[o * wide + i]
        value.im[e] += M.im[o * wide + i]
        bound[e] = 1.2 * error
      }
    }
    return { value, bound }
  }
}

function modulus(M: ComplexDense, p: number): number {
  return hypotenuse(M.re[p], M.im[p])
}

/** One entry of a product, the factors walked with their own strides. */
function sumOf(
  Z: ComplexDense,
  at: number,
  count: number,
  X: ComplexDense,
  x: number,
  dx: number,
  Y: ComplexDense,
  y: number,
  dy: number,
): void {
  let re = 0
  let im = 0
  for (let k = 0; k < count; k++) {
    const [p, q] = [x + k * dx, y + k * dy]
    re += X.re[p] * Y.re[q] - X.im[p] * Y.im[q]
    im += X.re[p] * Y.im[q] + X.im[p] * Y.re[q]
  }
  Z.re[at] = re
  Z.im[at] = im
}
