import { arena } from './arena.js'
import { divideEntries, subtractEntries, subtractRows, swapEntries } from './complex-rows.js'

/** A dense complex matrix, row-major, real and imaginary parts side by side. */
export interface ComplexDense {
  readonly rows: number
  readonly columns: number
  readonly re: Float64Array
  readonly im: Float64Array
}

/** The same matrix, or null where an entry is not finite. */
export function finite(value: ComplexDense | null): ComplexDense | null {
  return value?.re.every(Number.isFinite) && value.im.every(Number.isFinite) ? value : null
}

export function complexZeros(rows: number, columns: number): ComplexDense {
  return arena(2 * rows * columns).complex(rows, columns)
}

/** Row-pivoted LU factors of a square complex matrix. */
export interface ComplexLu {
  readonly n: number
  readonly re: Float64Array
  readonly im: Float64Array
  readonly pivots: Int32Array
  /** Smallest pivot over largest entry of its column before elimination; 0 where the matrix is exactly singular. */
  readonly smallestPivot: number
}

/** Memory for the factors of an n × n matrix. */
export type LuSpace = Pick<ComplexLu, 're' | 'im' | 'pivots'>

export function luSpace(n: number): LuSpace {
  return { re: new Float64Array(n * n), im: new Float64Array(n * n), pivots: new Int32Array(n) }
}

/** Factors of M, which stays as it is; the result lives in the space given.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, algorithm 3.4.1 */
export function complexLu(M: ComplexDense, space: LuSpace = luSpace(M.rows)): ComplexLu {
  const n = M.rows
  const { re, im, pivots } = space
  re.set(M.re)
  im.set(M.im)
  let smallestPivot = Number.POSITIVE_INFINITY
  for (let k = 0; k < n; k++) {
    let best = k
    let size = -1
    for (let i = k; i < n; i++) {
      const candidate = re[i * n + k] * re[i * n + k] + im[i * n + k] * im[i * n + k]
      if (candidate > size) {
        size = candidate
        best = i
      }
    }
    pivots[k] = best
    smallestPivot = Math.min(smallestPivot, Math.sqrt(size / (columnSize(M, k) || 1)))
    if (size === 0) continue
    if (best !== k) swapEntries(re, im, k * n, best * n, n)
    eliminate(re, im, n, k)
  }
  return { n, re, im, pivots, smallestPivot }
}

/** Solves M X = R in place of R, which has `columns` right-hand sides. */
export function complexLuSolve(lu: ComplexLu, rhs: ComplexDense): void {
  const { n, re, im } = lu
  const { columns, re: xr, im: xi } = rhs
  for (let k = 0; k < n; k++) {
    const pivot = lu.pivots[k]
    if (pivot !== k) swapEntries(xr, xi, k * columns, pivot * columns, columns)
  }
  for (let k = 1; k < n; k++) subtractRows(re, im, k, 0, k, rhs)
  for (let k = n - 1; k >= 0; k--) {
    subtractRows(re, im, k, k + 1, n, rhs)
    divideEntries(xr, xi, k * columns, columns, re[k * n + k], im[k * n + k])
  }
}

/** Angle of the determinant of the factored matrix, to a multiple of 2π. */
export function determinantAngle({ n, re, im, pivots }: ComplexLu): number {
  let angle = 0
  for (let k = 0; k < n; k++) {
    angle += Math.atan2(im[k * n + k], re[k * n + k])
    if (pivots[k] !== k) angle += Math.PI
  }
  return angle
}

/** Square of the largest modulus in a column. */
function columnSize(M: ComplexDense, k: number): number {
  let size = 0
  for (let i = k; i < M.re.length; i += M.rows) size = Math.max(size, M.re[i] * M.re[i] + M.im[i] * M.im[i])
  return size
}

function eliminate(re: Float64Array, im: Float64Array, n: number, k: number): void {
  const pivot = k * n + k
  for (let i = k + 1; i < n; i++) {
    const p = i * n + k
    if (re[p] === 0 && im[p] === 0) continue
    divideEntries(re, im, p, 1, re[pivot], im[pivot])
    subtractEntries(re, im, p + 1, pivot + 1, n - k - 1, re[p], im[p])
  }
}
