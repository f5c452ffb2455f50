import { arena } from './arena.js'

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
    if (best !== k) swapRows(re, im, n, k, best)
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
    if (pivot !== k) {
      for (let c = 0; c < columns; c++) {
        const p = k * columns + c
        const q = pivot * columns + c
        ;[xr[p], xr[q]] = [xr[q], xr[p]]
        ;[xi[p], xi[q]] = [xi[q], xi[p]]
      }
    }
  }
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) subtractRow(rhs, i, k, re[i * n + k], im[i * n + k])
  }
  for (let k = n - 1; k >= 0; k--) {
    const dr = re[k * n + k]
    const di = im[k * n + k]
    const size = dr * dr + di * di
    for (let c = 0; c < columns; c++) {
      const p = k * columns + c
      const a = xr[p]
      const b = xi[p]
      xr[p] = (a * dr + b * di) / size
      xi[p] = (b * dr - a * di) / size
    }
    for (let i = 0; i < k; i++) subtractRow(rhs, i, k, re[i * n + k], im[i * n + k])
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

function swapRows(re: Float64Array, im: Float64Array, n: number, a: number, b: number): void {
  for (let j = 0; j < n; j++) {
    ;[re[a * n + j], re[b * n + j]] = [re[b * n + j], re[a * n + j]]
    ;[im[a * n + j], im[b * n + j]] = [im[b * n + j], im[a * n + j]]
  }
}

function eliminate(re: Float64Array, im: Float64Array, n: number, k: number): void {
  const pr = re[k * n + k]
  const pi = im[k * n + k]
  const size = pr * pr + pi * pi
  for (let i = k + 1; i < n; i++) {
    const a = re[i * n + k]
    const b = im[i * n + k]
    if (a === 0 && b === 0) continue
    const fr = (a * pr + b * pi) / size
    const fi = (b * pr - a * pi) / size
    re[i * n + k] = fr
    im[i * n + k] = fi
    for (let j = k + 1; j < n; j++) {
      const ur = re[k * n + j]
      const ui = im[k * n + j]
      re[i * n + j] -= fr * ur - fi * ui
      im[i * n + j] -= fr * ui + fi * ur
    }
  }
}

function subtractRow(rhs: ComplexDense, target: number, source: number, fr: number, fi: number): void {
  if (fr === 0 && fi === 0) return
  const { columns, re, im } = rhs
  for (let c = 0; c < columns; c++) {
    const p = target * columns + c
    const q = source * columns + c
    const ar = re[q]
    const ai = im[q]
    re[p] -= fr * ar - fi * ai
    im[p] -= fr * ai + fi * ar
  }
}
