import { type ComplexDense, complexZeros } from './complex-lu.js'
import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

export function complexFrom({ rows, columns, data }: Dense): ComplexDense {
  return { rows, columns, re: data.slice(), im: new Float64Array(data.length) }
}

/** X Y */
export function complexProduct(X: ComplexDense, Y: ComplexDense): ComplexDense {
  const Z = complexZeros(X.rows, Y.columns)
  const m = Y.columns
  for (let i = 0; i < X.rows; i++) {
    for (let k = 0; k < X.columns; k++) {
      const re = X.re[i * X.columns + k]
      const im = X.im[i * X.columns + k]
      for (let j = 0; j < m; j++) {
        Z.re[i * m + j] += re * Y.re[k * m + j] - im * Y.im[k * m + j]
        Z.im[i * m + j] += re * Y.im[k * m + j] + im * Y.re[k * m + j]
      }
    }
  }
  return Z
}

export function moduli({ rows, columns, re, im }: ComplexDense): Dense {
  return { rows, columns, data: re.map((value, p) => hypotenuse(value, im[p])) }
}

/** Entries of the transpose of a square matrix */
export function transposed(M: ComplexDense): { re: Float64Array; im: Float64Array } {
  const n = M.rows
  const at = (_: number, p: number) => (p % n) * n + Math.floor(p / n)
  return { re: M.re.map((_, p) => M.re[at(0, p)]), im: M.im.map((_, p) => M.im[at(0, p)]) }
}
