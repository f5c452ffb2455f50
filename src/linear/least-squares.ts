import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** Least-squares solution of A x ≈ b by Householder QR, A with at least as many rows as columns, all finite.
 * Returns null where the columns of A are dependent to rounding.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 5.3 */
export function leastSquares(A: Dense, b: Float64Array): Float64Array | null {
  const { rows: m, columns: n } = A
  const r = A.data.slice()
  const x = b.slice()
  const diagonal = new Float64Array(n)
  for (let k = 0; k < n; k++) diagonal[k] = reflectColumn(r, x, m, n, k)
  const sizes = diagonal.map(Math.abs)
  if (n > 0 && !(Math.min(...sizes) > m * Number.EPSILON * Math.max(...sizes))) return null
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) x[k] -= r[k * n + j] * x[j]
    x[k] /= diagonal[k]
  }
  return x.slice(0, n)
}

/** Maps column k below the diagonal to zero, turns the columns right of it and x with it; returns the new diagonal entry. */
function reflectColumn(r: Float64Array, x: Float64Array, m: number, n: number, k: number): number {
  let length = 0
  for (let i = k; i < m; i++) length = hypotenuse(length, r[i * n + k])
  if (length === 0) return 0
  const v = new Float64Array(m)
  for (let i = k; i < m; i++) v[i] = r[i * n + k] / length
  const sign = v[k] >= 0 ? 1 : -1
  v[k] += sign
  const beta = 1 / Math.abs(v[k])
  for (let j = k + 1; j < n; j++) {
    let sum = 0
    for (let i = k; i < m; i++) sum += v[i] * r[i * n + j]
    for (let i = k; i < m; i++) r[i * n + j] -= beta * sum * v[i]
  }
  let sum = 0
  for (let i = k; i < m; i++) sum += v[i] * x[i]
  for (let i = k; i < m; i++) x[i] -= beta * sum * v[i]
  return -sign * length
}
