import type { ComplexDense } from './complex-lu.js'
import { divideEntries, subtractEntries, subtractRows, swapEntries } from './complex-rows.js'
import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** Factors s I − H of a real H at one s after another and solves with them; all scratch memory is allocated once. */
export interface ShiftedSolver {
  /** Factors s I − H; returns the smallest pivot over the size of its row, 0 where the matrix is exactly singular. */
  factor(re: number, im: number): number
  /** Solves (s I − H) X = R in place of R. */
  solve(rhs: ComplexDense): void
}

/** Solver for shifted systems with one real upper Hessenberg matrix: O(n²) per shift, adjacent-row pivoting.
 * @source A. J. Laub, IEEE Trans. Automatic Control 26 (1981) 407 */
export function hessenbergSolver(H: Dense): ShiftedSolver {
  const n = H.rows
  const h = H.data
  const ur = new Float64Array(n * n)
  const ui = new Float64Array(n * n)
  const fr = new Float64Array(n)
  const fi = new Float64Array(n)
  const swapped = new Uint8Array(n)
  const rowSize = new Float64Array(n)
  let smallest = 0
  for (let i = 0; i < n; i++) {
    for (let j = Math.max(0, i - 1); j < n; j++) rowSize[i] = Math.max(rowSize[i], Math.abs(h[i * n + j]))
    smallest = Math.max(smallest, rowSize[i])
  }
  smallest = (smallest || 1) * Number.EPSILON

  const load = (re: number, im: number) => {
    for (let i = 0; i < n; i++) {
      for (let j = Math.max(0, i - 1); j < n; j++) {
        ur[i * n + j] = -h[i * n + j]
        ui[i * n + j] = 0
      }
      ur[i * n + i] += re
      ui[i * n + i] = im
    }
  }

  const factor = (re: number, im: number): number => {
    load(re, im)
    const shift = hypotenuse(re, im)
    let worst = Number.POSITIVE_INFINITY
    for (let k = 0; k < n; k++) {
      const below = k + 1 < n ? ur[(k + 1) * n + k] : 0
      if (below !== 0 && below * below > ur[k * n + k] ** 2 + ui[k * n + k] ** 2) {
        swapped[k] = 1
        swapEntries(ur, ui, k * n + k, (k + 1) * n + k, n - k)
      } else swapped[k] = 0
      const size = Math.sqrt(ur[k * n + k] ** 2 + ui[k * n + k] ** 2)
      worst = Math.min(worst, size / (rowSize[k] + shift || 1))
      if (size === 0) {
        ur[k * n + k] = smallest
        worst = 0
      }
      if (k + 1 === n) break
      fr[k] = ur[(k + 1) * n + k]
      fi[k] = ui[(k + 1) * n + k]
      divideEntries(fr, fi, k, 1, ur[k * n + k], ui[k * n + k])
      if (fr[k] !== 0 || fi[k] !== 0)
        subtractEntries(ur, ui, (k + 1) * n + k + 1, k * n + k + 1, n - k - 1, fr[k], fi[k])
    }
    return worst
  }

  const solve = (rhs: ComplexDense): void => {
    const { columns, re, im } = rhs
    for (let k = 0; k + 1 < n; k++) {
      const p = k * columns
      const q = p + columns
      if (swapped[k]) swapEntries(re, im, p, q, columns)
      if (fr[k] !== 0 || fi[k] !== 0) subtractEntries(re, im, q, p, columns, fr[k], fi[k])
    }
    for (let k = n - 1; k >= 0; k--) {
      subtractRows(ur, ui, k, k + 1, n, rhs)
      divideEntries(re, im, k * columns, columns, ur[k * n + k], ui[k * n + k])
    }
  }

  return { factor, solve }
}
