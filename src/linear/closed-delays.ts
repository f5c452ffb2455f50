import { type ComplexDense, complexLu, complexLuSolve, complexZeros, luSpace } from './complex-lu.js'
import type { DelayedSystem } from './delayed-solve.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import type { Bounded } from './partial-fractions.js'

/** Closes the delays of a response at s, with the bound it inherits; null where the closed system has a pole. The result is
 * reused by the next call. */
export type Closing = (open: Bounded, re: number, im: number) => Bounded | null

/** M₁₁ + M₁₂ (e^(sτ) − M₂₂)⁻¹ M₂₁ with the bound it inherits. */
export function closedDelays(system: DelayedSystem): Closing {
  const { B, C, seconds } = system
  const d = seconds.length
  if (d === 0) return (open) => open
  if (d === 1) return closedDelay(system)
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

/** The same for a single delay, whose matrix is a number. */
function closedDelay({ B, C, seconds: [tau] }: DelayedSystem): Closing {
  const [p, m] = [C.rows - 1, B.columns - 1]
  const wide = m + 1
  const last = p * wide
  const value = complexZeros(p, m)
  const bound = new Float64Array(p * m)
  const gamma = rounding(1)
  return ({ value: M, bound: off }, re, im) => {
    const growth = Math.exp(re * tau)
    const nr = growth * Math.cos(im * tau) - M.re[last + m]
    const ni = growth * Math.sin(im * tau) - M.im[last + m]
    const square = nr * nr + ni * ni
    if (!(square > 0)) return null
    const size = Math.sqrt(square)
    for (let o = 0; o < p; o++) {
      const from = o * wide + m
      const y = modulus(M, from) / size
      const yr = (M.re[from] * nr + M.im[from] * ni) / square
      const yi = (M.im[from] * nr - M.re[from] * ni) / square
      for (let i = 0; i < m; i++) {
        const [direct, into] = [o * wide + i, last + i]
        const x = modulus(M, into)
        value.re[o * m + i] = M.re[direct] + (yr * M.re[into] - yi * M.im[into])
        value.im[o * m + i] = M.im[direct] + (yr * M.im[into] + yi * M.re[into])
        const inherited = off[direct] + y * off[into] + ((off[from] + y * off[last + m]) * x) / size
        bound[o * m + i] = 1.2 * (inherited + gamma * (modulus(M, direct) + y * x))
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
