import { type ComplexDense, complexLu, complexLuSolve, complexZeros, luSpace } from './complex-lu.js'
import type { DelayedSystem } from './delayed-solve.js'
import { rounding } from './error-bound.js'
import { type ModalForm, modalForm } from './modal-form.js'

/** Response at s in O(n); null where its error bound is not small enough. The result is reused by the next call. */
export type ModalKernel = (re: number, im: number) => ComplexDense | null

/** Bound on the error of an entry over the largest entry of its output row, at which the modal form is trusted. */
const promised = 1e-11

/** Evaluator by partial fractions, whose answer carries a proof of its error or is withheld; null for a system that has no
 * well-conditioned modes. Delays are closed through their own small matrix.
 * @source derived: first-order perturbation of (s I − Λ)⁻¹ with Cauchy's inequality, factor 1.2 for the higher orders */
export function modalKernel(system: DelayedSystem): ModalKernel | null {
  const form = modalForm(system)
  if (form === null) return null
  const fractions = partialFractions(form, system)
  const close = closedDelays(system)
  return (re, im) => {
    const open = fractions(re, im)
    if (open === null) return null
    const closed = close(open, re, im)
    return closed !== null && isProved(closed) ? closed.value : null
  }
}

interface Bounded {
  readonly value: ComplexDense
  readonly bound: Float64Array
}

function isProved({ value, bound }: Bounded): boolean {
  const m = value.columns
  for (let o = 0; o < value.rows; o++) {
    let largest = 0
    let worst = 0
    for (let p = o * m; p < (o + 1) * m; p++) {
      largest = Math.max(largest, value.re[p] ** 2 + value.im[p] ** 2)
      worst = Math.max(worst, bound[p])
    }
    if (!(worst <= promised * Math.sqrt(largest))) return false
  }
  return true
}

/** D + Σ c b/(s − λ) with the bound of each entry. Conjugate modes are added together. */
function partialFractions(form: ModalForm, { D }: DelayedSystem): (re: number, im: number) => Bounded | null {
  const { lambda, scale, coupling } = form
  const n = lambda.re.length
  const p = form.c.columns
  const m = form.b.columns
  const { re: residueRe, im: residueIm } = residues(form)
  const gamma = rounding(n)
  // Sums over modes of |c|²/d, |c|² scale/d², error²/d: per output, then per input.
  const squares = {
    c: squared(form.c),
    b: squared(form.b),
    cError: form.cError.map((value) => value * value),
    bError: form.bError.map((value) => value * value),
  }
  const sums = new Float64Array(3 * (p + m))
  const value = complexZeros(p, m)
  const bound = new Float64Array(p * m)

  const addSquares = (k: number, near: number, far: number) => {
    for (let o = 0; o < p; o++) {
      const size = squares.c[k * p + o]
      sums[3 * o] += size * near
      sums[3 * o + 1] += size * far
      sums[3 * o + 2] += squares.cError[k * p + o] * near
    }
    for (let i = 0; i < m; i++) {
      const size = squares.b[k * m + i]
      const at = 3 * (p + i)
      sums[at] += size * near
      sums[at + 1] += size * far
      sums[at + 2] += squares.bError[k * m + i] * near
    }
  }

  return (re, im) => {
    sums.fill(0)
    value.re.set(D.data)
    value.im.fill(0)
    let nearest = 0
    for (let k = 0; k < n; k++) {
      const x = re - lambda.re[k]
      const y = im - lambda.im[k]
      const inverse = 1 / (x * x + y * y)
      let zr = x * inverse
      let zi = -y * inverse
      let near = Math.sqrt(inverse)
      let far = inverse * scale[k]
      nearest = Math.max(nearest, scale[k] * near)
      const r = k * p * m
      if (lambda.im[k] === 0) {
        for (let e = 0; e < p * m; e++) {
          value.re[e] += residueRe[r + e] * zr
          value.im[e] += residueRe[r + e] * zi
        }
        addSquares(k, near, far)
        continue
      }
      // r z + r̄ z' = Re r (z + z') + j Im r (z − z')
      const v = im + lambda.im[k]
      const other = 1 / (x * x + v * v)
      const [ur, ui] = [x * other, -v * other]
      const [dr, di] = [-(zi - ui), zr - ur]
      zr += ur
      zi += ui
      for (let e = 0; e < p * m; e++) {
        value.re[e] += residueRe[r + e] * zr + residueIm[r + e] * dr
        value.im[e] += residueRe[r + e] * zi + residueIm[r + e] * di
      }
      near += Math.sqrt(other)
      far += other * scale[k]
      addSquares(k, near, far)
      k++
    }
    if (!(coupling * nearest < 0.1)) return null
    for (let o = 0; o < p; o++) {
      for (let i = 0; i < m; i++) {
        const at = 3 * (p + i)
        const [cNear, cFar, cOff] = [sums[3 * o], sums[3 * o + 1], sums[3 * o + 2]]
        const [bNear, bFar, bOff] = [sums[at], sums[at + 1], sums[at + 2]]
        bound[o * m + i] =
          1.2 *
          (coupling * Math.sqrt(cFar * bFar) +
            Math.sqrt(cNear * bOff) +
            Math.sqrt(cOff * bNear) +
            gamma * (Math.sqrt(cNear * bNear) + Math.abs(D.data[o * m + i])))
      }
    }
    return { value, bound }
  }
}

function squared(M: ComplexDense): Float64Array {
  return M.re.map((re, p) => re * re + M.im[p] * M.im[p])
}

/** Products c b of every mode: modes × outputs × inputs */
function residues({ b, c }: ModalForm): { re: Float64Array; im: Float64Array } {
  const n = b.rows
  const [p, m] = [c.columns, b.columns]
  const re = new Float64Array(n * p * m)
  const im = new Float64Array(n * p * m)
  for (let k = 0; k < n; k++) {
    for (let o = 0; o < p; o++) {
      for (let i = 0; i < m; i++) {
        const [cr, ci, br, bi] = [c.re[k * p + o], c.im[k * p + o], b.re[k * m + i], b.im[k * m + i]]
        const at = (k * p + o) * m + i
        re[at] = cr * br - ci * bi
        im[at] = cr * bi + ci * br
      }
    }
  }
  return { re, im }
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
  return Math.hypot(M.re[p], M.im[p])
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
