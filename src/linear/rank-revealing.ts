import { type Dense, identity } from './dense.js'

/** I − β v vᵀ */
export interface Reflector {
  readonly v: Float64Array
  readonly beta: number
}

/** Qᵀ M P = R with Q orthogonal, by Householder reflections with column exchange. */
export interface RankRevealing {
  /** m × m */
  readonly Q: Dense
  /** Rows of Qᵀ M that are not negligible; the rows below are zero to the tolerance. */
  readonly rank: number
  /** Q is their product, in order: I − β v vᵀ each, `rank` of them */
  readonly reflectors: readonly Reflector[]
}

/** Row compression of M: the first `rank` rows of Qᵀ M carry all of it.
 * @param tolerance - columns whose remaining length is at most this count as zero
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 5.4.2 */
export function rowCompression(M: Dense, tolerance: number): RankRevealing {
  const { rows: m, columns: n } = M
  const r = M.data.slice()
  const Q = identity(m)
  const used = new Uint8Array(n)
  const reflectors: Reflector[] = []
  let rank = 0
  while (rank < Math.min(m, n)) {
    const { column, length } = longestColumn(r, m, n, rank, used)
    if (!(length > tolerance)) break
    used[column] = 1
    reflectors.push(reflectBelow(r, Q, m, n, rank, column, length))
    rank += 1
  }
  return { Q, rank, reflectors }
}

function longestColumn(r: Float64Array, m: number, n: number, from: number, used: Uint8Array) {
  let column = 0
  let length = -1
  for (let j = 0; j < n; j++) {
    if (used[j]) continue
    let size = 0
    for (let i = from; i < m; i++) size = Math.hypot(size, r[i * n + j])
    if (size > length) {
      length = size
      column = j
    }
  }
  return { column, length }
}

function reflectBelow(
  r: Float64Array,
  Q: Dense,
  m: number,
  n: number,
  k: number,
  column: number,
  length: number,
): Reflector {
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
  for (let i = 0; i < m; i++) {
    let sum = 0
    for (let j = k; j < m; j++) sum += Q.data[i * m + j] * v[j]
    for (let j = k; j < m; j++) Q.data[i * m + j] -= beta * sum * v[j]
  }
  return { v, beta }
}
