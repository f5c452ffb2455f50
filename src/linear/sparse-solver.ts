import type { ComplexDense } from './complex-lu.js'
import { divideEntries } from './complex-rows.js'
import type { Dense } from './dense.js'
import type { ShiftedSolver } from './hessenberg-solver.js'
import { hypotenuse } from './hypotenuse.js'
import { type ListedPlaces, listedPlaces } from './listed-rows.js'

/** The places of a triangular factor and what stands there. */
interface Triangle extends ListedPlaces {
  readonly re: Float64Array
  readonly im: Float64Array
}

/** Solver for s I − A with a sparse A that is eliminated along its diagonal as it stands, without exchange of rows: the caller has
 * to refine, and to see whether that converges.
 * @param filled - places of the factors, as `eliminationOrder` gives them
 * @source T. A. Davis, Direct Methods for Sparse Linear Systems, 2006, chapters 3 and 6; static pivots as in X. S. Li, J. W. Demmel, ACM
 * Trans. Mathematical Software 29 (2003) 110 */
export function sparseSolver({ rows: n, data: a }: Dense, filled: Uint8Array): ShiftedSolver {
  const lower = triangle(n, filled, (i, j) => j < i)
  const upper = triangle(n, filled, (i, j) => j > i)
  const [pivotRe, pivotIm] = [new Float64Array(n), new Float64Array(n)]
  const rowSize = Float64Array.from({ length: n }, (_, i) =>
    a.subarray(i * n, (i + 1) * n).reduce((most, value) => Math.max(most, Math.abs(value)), 0),
  )
  // The row that is being eliminated, unfolded.
  const [rowRe, rowIm] = [new Float64Array(n), new Float64Array(n)]

  const load = ({ starts, columns }: Triangle, i: number) => {
    for (let q = starts[i]; q < starts[i + 1]; q++) {
      rowRe[columns[q]] = -a[i * n + columns[q]]
      rowIm[columns[q]] = 0
    }
  }

  const eliminateRow = (i: number) => {
    for (let q = lower.starts[i]; q < lower.starts[i + 1]; q++) {
      const k = lower.columns[q]
      divideEntries(rowRe, rowIm, k, 1, pivotRe[k], pivotIm[k])
      const re = rowRe[k]
      const im = rowIm[k]
      lower.re[q] = re
      lower.im[q] = im
      for (let p = upper.starts[k]; p < upper.starts[k + 1]; p++) {
        const j = upper.columns[p]
        rowRe[j] -= re * upper.re[p] - im * upper.im[p]
        rowIm[j] -= re * upper.im[p] + im * upper.re[p]
      }
    }
  }

  const factor = (re: number, im: number): number => {
    const shift = hypotenuse(re, im)
    let worst = Number.POSITIVE_INFINITY
    for (let i = 0; i < n; i++) {
      load(lower, i)
      load(upper, i)
      rowRe[i] = re - a[i * n + i]
      rowIm[i] = im
      eliminateRow(i)
      for (let p = upper.starts[i]; p < upper.starts[i + 1]; p++) {
        upper.re[p] = rowRe[upper.columns[p]]
        upper.im[p] = rowIm[upper.columns[p]]
      }
      pivotRe[i] = rowRe[i]
      pivotIm[i] = rowIm[i]
      worst = Math.min(worst, hypotenuse(rowRe[i], rowIm[i]) / (rowSize[i] + shift || 1))
    }
    return worst
  }

  const solve = (rhs: ComplexDense): void => {
    const { columns } = rhs
    for (let i = 1; i < n; i++) subtractListed(lower, i, rhs)
    for (let i = n - 1; i >= 0; i--) {
      subtractListed(upper, i, rhs)
      divideEntries(rhs.re, rhs.im, i * columns, columns, pivotRe[i], pivotIm[i])
    }
  }

  return { factor, solve }
}

function triangle(n: number, filled: Uint8Array, isInside: (i: number, j: number) => boolean): Triangle {
  const places = listedPlaces(n, n, (i, j) => filled[i * n + j] === 1 && isInside(i, j))
  const { length } = places.columns
  return { ...places, re: new Float64Array(length), im: new Float64Array(length) }
}

/** Row i of X less the multiples that row i of the factor lists, two columns at a time so that the sums stay in registers. */
function subtractListed({ starts, columns: listed, re: fr, im: fi }: Triangle, i: number, X: ComplexDense): void {
  const { columns, re, im } = X
  const [from, to] = [starts[i], starts[i + 1]]
  for (let c = 0; c < columns; c += 2) {
    // The last column of an odd number is done twice.
    const beside = c + 1 < columns ? 1 : 0
    const at = i * columns + c
    let [aRe, aIm, bRe, bIm] = [re[at], im[at], re[at + beside], im[at + beside]]
    for (let q = from; q < to; q++) {
      const p = listed[q] * columns + c
      aRe -= fr[q] * re[p] - fi[q] * im[p]
      aIm -= fr[q] * im[p] + fi[q] * re[p]
      bRe -= fr[q] * re[p + beside] - fi[q] * im[p + beside]
      bIm -= fr[q] * im[p + beside] + fi[q] * re[p + beside]
    }
    re[at] = aRe
    im[at] = aIm
    re[at + beside] = bRe
    im[at + beside] = bIm
  }
}
