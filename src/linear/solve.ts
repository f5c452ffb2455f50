import { type Dense, identity, zeros } from './dense.js'

/** Row-pivoted LU factors of a square real matrix. */
export interface Lu {
  readonly n: number
  /** L below the diagonal (ones on it), U on and above, row-major. */
  readonly data: Float64Array
  readonly pivots: Int32Array
  /** true where a pivot is exactly zero: then nothing can be solved */
  readonly singular: boolean
}

/** Factors a copy of M with scaled row pivoting, so that the units of the rows do not choose the pivot.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, algorithm 3.4.1 and section 3.5.2 */
export function luFactors(M: Dense): Lu {
  const n = M.rows
  const data = M.data.slice()
  const pivots = new Int32Array(n)
  const sizes = rowSizes(M)
  let singular = false
  for (let k = 0; k < n; k++) {
    let best = k
    let bestSize = -1
    for (let i = k; i < n; i++) {
      const size = Math.abs(data[i * n + k]) / sizes[i]
      if (size > bestSize) {
        bestSize = size
        best = i
      }
    }
    pivots[k] = best
    if (best !== k) {
      sizes[best] = sizes[k]
      for (let j = 0; j < n; j++) {
        const kept = data[k * n + j]
        data[k * n + j] = data[best * n + j]
        data[best * n + j] = kept
      }
    }
    const pivot = data[k * n + k]
    if (pivot === 0) {
      singular = true
      continue
    }
    for (let i = k + 1; i < n; i++) {
      const factor = data[i * n + k] / pivot
      data[i * n + k] = factor
      if (factor === 0) continue
      for (let j = k + 1; j < n; j++) data[i * n + j] -= factor * data[k * n + j]
    }
  }
  return { n, data, pivots, singular }
}

/** Solves M X = R in place of R, from the factors of M; they must not be singular. */
export function luSolve({ n, data, pivots }: Lu, R: Dense): void {
  const { columns, data: x } = R
  for (let k = 0; k < n; k++) {
    const pivot = pivots[k]
    if (pivot === k) continue
    for (let c = 0; c < columns; c++) {
      const kept = x[k * columns + c]
      x[k * columns + c] = x[pivot * columns + c]
      x[pivot * columns + c] = kept
    }
  }
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) subtractRow(x, columns, i, k, data[i * n + k])
  }
  for (let k = n - 1; k >= 0; k--) {
    const pivot = data[k * n + k]
    for (let c = 0; c < columns; c++) x[k * columns + c] /= pivot
    for (let i = 0; i < k; i++) subtractRow(x, columns, i, k, data[i * n + k])
  }
}

/** X of M X = R with one step of refinement, which makes the error small row by row; `null` if M is exactly singular.
 * @source R. D. Skeel, Iterative refinement implies numerical stability for Gaussian elimination, Math. Comp. 35, 1980 */
export function solve(M: Dense, R: Dense, factors: Lu = luFactors(M)): Dense | null {
  if (factors.singular) return null
  const X: Dense = { ...R, data: R.data.slice() }
  luSolve(factors, X)
  const rest: Dense = { ...R, data: R.data.slice() }
  for (let i = 0; i < M.rows; i++) {
    for (let k = 0; k < M.columns; k++) subtractRow(rest.data, R.columns, i, k, M.data[i * M.columns + k], X.data)
  }
  luSolve(factors, rest)
  for (let i = 0; i < X.data.length; i++) X.data[i] += rest.data[i]
  return X
}

/** Inverse of the matrix that the factors belong to; they must not be singular. */
export function luInverse(factors: Lu): Dense {
  const inverse = identity(factors.n)
  luSolve(factors, inverse)
  return inverse
}

/** Reciprocal condition of M under errors up to ε·G entry by entry, with rows and columns scaled as well as can be:
 * 1/ρ(|M⁻¹| G). Units of the unknowns and of the equations do not change it. Zero where M is exactly singular.
 *
 * @param factors - of M
 * @param G - entries at least |M|, n × n, not negative
 * @param enough - a value above this is as good as any, and is not computed to the end
 * @source F. L. Bauer, Optimally scaled matrices, Numerische Mathematik 5, 1963, theorem on min cond over scalings */
export function scaledReciprocalCondition(factors: Lu, G: Dense, enough: number): number {
  if (factors.singular) return 0
  const n = factors.n
  const inverse = luInverse(factors).data
  const W = zeros(n, n)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const size = Math.abs(inverse[i * n + k])
      for (let j = 0; j < n; j++) W.data[i * n + j] += size * G.data[k * n + j]
    }
  }
  return 1 / spectralRadius(W, 1 / enough)
}

/** Perron root of a matrix without negative entries, from above, to a factor of two; stops early once it is below `enough`. */
function spectralRadius(W: Dense, enough: number): number {
  const n = W.rows
  let vector = new Float64Array(n).fill(1)
  let upper = Number.POSITIVE_INFINITY
  for (let step = 0; step < 100; step++) {
    const next = new Float64Array(n)
    let largest = 0
    let smallest = Number.POSITIVE_INFINITY
    let size = 0
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) next[i] += W.data[i * n + j] * vector[j]
      const quotient = next[i] / vector[i]
      largest = Math.max(largest, quotient)
      smallest = Math.min(smallest, quotient)
      size = Math.max(size, next[i])
    }
    if (!(size < Number.POSITIVE_INFINITY)) return Number.POSITIVE_INFINITY
    upper = Math.min(upper, largest)
    if (upper < enough || largest <= 2 * smallest) break
    // A floor keeps every quotient defined when the entries of the vector drift far apart.
    for (let i = 0; i < n; i++) next[i] = Math.max(next[i] / size, 1e-200)
    vector = next
  }
  return upper
}

function rowSizes(M: Dense): Float64Array {
  const sizes = new Float64Array(M.rows)
  for (let i = 0; i < M.rows; i++) {
    for (let j = 0; j < M.columns; j++) sizes[i] = Math.max(sizes[i], Math.abs(M.data[i * M.columns + j]))
    if (sizes[i] === 0) sizes[i] = 1
  }
  return sizes
}

function subtractRow(x: Float64Array, columns: number, to: number, from: number, factor: number, source = x): void {
  if (factor === 0) return
  for (let c = 0; c < columns; c++) x[to * columns + c] -= factor * source[from * columns + c]
}
