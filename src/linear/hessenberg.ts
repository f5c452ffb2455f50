import { copy, type Dense, identity } from './dense.js'

/** A = Q H Qᵀ with H upper Hessenberg and Q orthogonal, by Householder reflections.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, algorithm 7.4.2 */
export function hessenbergForm(A: Dense): { H: Dense; Q: Dense } {
  const H = copy(A)
  const Q = identity(A.rows)
  reduce(H.data, A.rows, Q.data)
  return { H, Q }
}

/** H in place of A, for what does not depend on Q. */
export function reduceToHessenberg(A: Dense): Dense {
  reduce(A.data, A.rows, null)
  return A
}

function reduce(h: Float64Array, n: number, q: Float64Array | null): void {
  if (n < 3) return
  const v = new Float64Array(n)
  const sums = new Float64Array(n)
  for (let k = 0; k < n - 2; k++) {
    const beta = reflector(h, n, k, v)
    if (beta === 0) continue
    applyFromLeft(h, n, k, v, beta, sums)
    applyFromRight(h, n, k, v, beta)
    if (q !== null) applyFromRight(q, n, k, v, beta)
    for (let i = k + 2; i < n; i++) h[i * n + k] = 0
  }
}

/** Householder vector of column k below the diagonal; returns 2/vᵀv, or 0 where the column is already reduced. */
function reflector(h: Float64Array, n: number, k: number, v: Float64Array): number {
  let scale = 0
  for (let i = k + 2; i < n; i++) scale = Math.max(scale, Math.abs(h[i * n + k]))
  if (scale === 0) return 0
  scale = Math.max(scale, Math.abs(h[(k + 1) * n + k]))
  let sum = 0
  for (let i = k + 1; i < n; i++) {
    v[i] = h[i * n + k] / scale
    sum += v[i] * v[i]
  }
  const norm = Math.sqrt(sum)
  v[k + 1] += v[k + 1] >= 0 ? norm : -norm
  return 1 / (norm * Math.abs(v[k + 1]))
}

/** Row by row, as the entries lie in memory. */
function applyFromLeft(
  matrix: Float64Array,
  n: number,
  k: number,
  v: Float64Array,
  beta: number,
  sums: Float64Array,
): void {
  sums.fill(0)
  for (let i = k + 1; i < n; i++) {
    const factor = v[i]
    for (let j = k; j < n; j++) sums[j] += factor * matrix[i * n + j]
  }
  for (let i = k + 1; i < n; i++) {
    const factor = beta * v[i]
    for (let j = k; j < n; j++) matrix[i * n + j] -= factor * sums[j]
  }
}

function applyFromRight(matrix: Float64Array, n: number, k: number, v: Float64Array, beta: number): void {
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let j = k + 1; j < n; j++) sum += matrix[i * n + j] * v[j]
    sum *= beta
    for (let j = k + 1; j < n; j++) matrix[i * n + j] -= sum * v[j]
  }
}
