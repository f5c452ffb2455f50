import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** I − β v vᵀ */
export interface Reflector {
  readonly v: Float64Array
  readonly beta: number
}

/** Qᵀ M P = R with Q orthogonal, by Householder reflections with column exchange. */
export interface RankRevealing {
  /** Rows of Qᵀ M that are not negligible; the rows below are zero to the tolerance. */
  readonly rank: number
  /** Q is their product, in order: I − β v vᵀ each, over all m rows, `rank` of them */
  readonly reflectors: readonly Reflector[]
}

/** Row compression of M: the first `rank` rows of Qᵀ M carry all of it.
 * @param tolerance - columns whose remaining length is at most this count as zero
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 5.4.2 */
export function rowCompression(M: Dense, tolerance: number): RankRevealing {
  const { rows: m, columns: n } = M
  const r = M.data.slice()
  const used = new Uint8Array(n)
  const reflectors: Reflector[] = []
  let rank = 0
  while (rank < Math.min(m, n)) {
    const { column, length } = longestColumn(r, m, n, rank, used)
    if (!(length > tolerance)) break
    used[column] = 1
    reflectors.push(reflectBelow(r, m, n, rank, column, length))
    rank += 1
  }
  return { rank, reflectors }
}

function longestColumn(r: Float64Array, m: number, n: number, from: number, used: Uint8Array) {
  let column = 0
  let length = -1
  for (let j = 0; j < n; j++) {
    if (used[j]) continue
    let size = 0
    for (let i = from; i < m; i++) size = hypotenuse(size, r[i * n + j])
    if (size > length) {
      length = size
      column = j
    }
  }
  return { column, length }
}

function reflectBelow(r: Float64Array, m: number, n: number, k: number, column: number, length: number): Reflector {
  const v = new Float64Array(m)
  for (let i = k; i < m; i++) v[i] = r[i * n + column] / length
  v[k] += v[k] >= 0 ? 1 : -1
  let square = 0
  for (let i = k; i < m; i++) square += v[i] * v[i]
  const beta = 2 / square
  for (let j = 0; j < n; j++) {
    let sum = 0
    for (let i = k; i < m; i++) sum += v[i] * r[i * n + j]
    for (let i = k; i < m; i++) r[i * n + j] -= beta * sum * v[i]
  }
  return { v, beta }
}

/** Applies a reflector to the rows from `top` on, in place. */
export function reflectRows({ columns, data }: Dense, { v, beta }: Reflector, top: number): void {
  const sums = new Float64Array(columns)
  for (let i = 0; i < v.length; i++) {
    const factor = beta * v[i]
    if (factor === 0) continue
    for (let j = 0; j < columns; j++) sums[j] += factor * data[(top + i) * columns + j]
  }
  for (let i = 0; i < v.length; i++) {
    if (v[i] === 0) continue
    for (let j = 0; j < columns; j++) data[(top + i) * columns + j] -= v[i] * sums[j]
  }
}

/** Applies a reflector to the columns from `left` on, in place. */
export function reflectColumns({ rows, columns, data }: Dense, { v, beta }: Reflector, left: number): void {
  for (let i = 0; i < rows; i++) {
    const from = i * columns + left
    let sum = 0
    for (let j = 0; j < v.length; j++) sum += data[from + j] * v[j]
    for (let j = 0; j < v.length; j++) data[from + j] -= beta * sum * v[j]
  }
}
