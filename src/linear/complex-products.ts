import type { ComplexDense } from './complex-lu.js'
import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** X Y, or Xᵀ Y for a square X, added to the zeros given. */
export function complexProduct(X: ComplexDense, Y: ComplexDense, Z: ComplexDense, turned = false): ComplexDense {
  const n = X.columns
  const m = Y.columns
  for (let i = 0; i < X.rows; i++) {
    for (let k = 0; k < n; k++) {
      const p = turned ? k * n + i : i * n + k
      const re = X.re[p]
      const im = X.im[p]
      for (let j = 0; j < m; j++) {
        Z.re[i * m + j] += re * Y.re[k * m + j] - im * Y.im[k * m + j]
        Z.im[i * m + j] += re * Y.im[k * m + j] + im * Y.re[k * m + j]
      }
    }
  }
  return Z
}

/** X times a real Y, added to the zeros given. */
export function timesReal(X: ComplexDense, Y: Dense, Z: ComplexDense): ComplexDense {
  const m = Y.columns
  for (let i = 0; i < X.rows; i++) {
    for (let k = 0; k < X.columns; k++) {
      const p = i * X.columns + k
      for (let j = 0; j < m; j++) {
        Z.re[i * m + j] += X.re[p] * Y.data[k * m + j]
        Z.im[i * m + j] += X.im[p] * Y.data[k * m + j]
      }
    }
  }
  return Z
}

/** Moduli of all entries, into the array given. */
export function moduli({ re, im }: ComplexDense, sizes: Float64Array): Float64Array {
  for (let p = 0; p < sizes.length; p++) sizes[p] = hypotenuse(re[p], im[p])
  return sizes
}
