import type { Arena } from './arena.js'
import { compensatedDot } from './compensated-dot.js'
import type { ComplexDense } from './complex-lu.js'
import type { Dense } from './dense.js'
import type { Eigenvalues } from './eigenvalues.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'

/** (C V)ᵀ, summed in twice the precision */
export function modesByOutputs({ real, complex }: Arena, V: ComplexDense, C: Dense): ComplexDense {
  const n = V.rows
  const c = complex(n, C.rows)
  const x = real(n)
  for (let o = 0; o < C.rows; o++) {
    const row = C.data.subarray(o * n, (o + 1) * n)
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < n; j++) x[j] = V.re[j * n + k]
      c.re[k * C.rows + o] = compensatedDot(row, x, n)
      for (let j = 0; j < n; j++) x[j] = V.im[j * n + k]
      c.im[k * C.rows + o] = compensatedDot(row, x, n)
    }
  }
  return c
}

/** A V − V Λ, summed in twice the precision */
export function modalResidual({ real, complex }: Arena, A: Dense, V: ComplexDense, lambda: Eigenvalues): ComplexDense {
  const n = A.rows
  const E = complex(n, n)
  const [x, re, im] = [real(n + 2), real(n + 2), real(n + 2)]
  for (let k = 0; k < n; k++) {
    for (let j = 0; j < n; j++) {
      re[j] = V.re[j * n + k]
      im[j] = V.im[j * n + k]
    }
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) x[j] = A.data[i * n + j]
      const p = i * n + k
      x[n] = -lambda.re[k]
      x[n + 1] = -lambda.im[k]
      re[n] = V.re[p]
      re[n + 1] = -V.im[p]
      E.re[p] = compensatedDot(x, re, n + 2)
      im[n] = V.im[p]
      im[n + 1] = V.re[p]
      E.im[p] = compensatedDot(x, im, n + 2)
    }
  }
  return E
}

/** B − V b, summed in twice the precision */
export function inputResidual({ real, complex }: Arena, V: ComplexDense, B: Dense, b: ComplexDense): ComplexDense {
  const n = V.rows
  const m = B.columns
  const R = complex(n, m)
  const [x, y] = [real(2 * n + 1), real(2 * n + 1)]
  const dot = (i: number, c: number, im: boolean) => {
    for (let k = 0; k < n; k++) {
      x[k] = -V.re[i * n + k]
      x[n + k] = im ? -V.im[i * n + k] : V.im[i * n + k]
      y[k] = im ? b.im[k * m + c] : b.re[k * m + c]
      y[n + k] = im ? b.re[k * m + c] : b.im[k * m + c]
    }
    x[2 * n] = im ? 0 : B.data[i * m + c]
    y[2 * n] = 1
    return compensatedDot(x, y, 2 * n + 1)
  }
  for (let i = 0; i < n; i++) {
    for (let c = 0; c < m; c++) {
      R.re[i * m + c] = dot(i, c, false)
      R.im[i * m + c] = dot(i, c, true)
    }
  }
  return R
}

/** Largest sum of a row of |I − W V|, rounding included */
export function inverseSlack(
  V: ComplexDense,
  W: ComplexDense,
  sizes: { readonly V: Float64Array; readonly W: Float64Array },
): number {
  const n = V.rows
  const gamma = rounding(n)
  let worst = 0
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let k = 0; k < n; k++) {
      let [re, im, size] = [i === k ? -1 : 0, 0, 0]
      for (let j = 0; j < n; j++) {
        const [p, q] = [i * n + j, j * n + k]
        re += W.re[p] * V.re[q] - W.im[p] * V.im[q]
        im += W.re[p] * V.im[q] + W.im[p] * V.re[q]
        size += sizes.W[p] * sizes.V[q]
      }
      sum += hypotenuse(re, im) + gamma * size
    }
    worst = Math.max(worst, sum)
  }
  return worst
}
