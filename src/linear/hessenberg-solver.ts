import type { ComplexDense } from './complex-lu.js'
import type { Dense } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** Factors s I − H at one s after another and solves with them; all scratch memory is allocated once. */
export interface HessenbergSolver {
  /** Factors s I − H; returns the smallest pivot over the size of its row, 0 where the matrix is exactly singular. */
  factor(re: number, im: number): number
  /** Solves (s I − H) X = R in place of R. */
  solve(rhs: ComplexDense): void
}

/** Solver for shifted systems with one real upper Hessenberg matrix: O(n²) per shift, adjacent-row pivoting.
 * @source A. J. Laub, IEEE Trans. Automatic Control 26 (1981) 407 */
export function hessenbergSolver(H: Dense): HessenbergSolver {
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
        swapRows(ur, ui, n, k)
      } else swapped[k] = 0
      const size = Math.sqrt(ur[k * n + k] ** 2 + ui[k * n + k] ** 2)
      worst = Math.min(worst, size / (rowSize[k] + shift || 1))
      if (size === 0) {
        ur[k * n + k] = smallest
        worst = 0
      }
      if (k + 1 < n) eliminateNext(ur, ui, n, k, fr, fi)
    }
    return worst
  }

  const solve = ({ columns, re, im }: ComplexDense): void => {
    for (let k = 0; k + 1 < n; k++) {
      const p = k * columns
      const q = p + columns
      if (swapped[k]) swapEntries(re, im, p, q, columns)
      if (fr[k] !== 0 || fi[k] !== 0) subtract(re, im, q, p, columns, fr[k], fi[k])
    }
    for (let k = n - 1; k >= 0; k--) {
      const p = k * columns
      divide(re, im, p, columns, ur[k * n + k], ui[k * n + k])
      for (let i = 0; i < k; i++) subtract(re, im, i * columns, p, columns, ur[i * n + k], ui[i * n + k])
    }
  }

  return { factor, solve }
}

function swapRows(ur: Float64Array, ui: Float64Array, n: number, k: number): void {
  for (let j = k; j < n; j++) {
    const p = k * n + j
    const re = ur[p]
    const im = ui[p]
    ur[p] = ur[p + n]
    ui[p] = ui[p + n]
    ur[p + n] = re
    ui[p + n] = im
  }
}

function eliminateNext(
  ur: Float64Array,
  ui: Float64Array,
  n: number,
  k: number,
  fr: Float64Array,
  fi: Float64Array,
): void {
  const pr = ur[k * n + k]
  const pi = ui[k * n + k]
  const size = pr * pr + pi * pi
  const a = ur[(k + 1) * n + k]
  const b = ui[(k + 1) * n + k]
  const mr = (a * pr + b * pi) / size
  const mi = (b * pr - a * pi) / size
  fr[k] = mr
  fi[k] = mi
  if (mr === 0 && mi === 0) return
  for (let j = k + 1; j < n; j++) {
    const p = k * n + j
    ur[p + n] -= mr * ur[p] - mi * ui[p]
    ui[p + n] -= mr * ui[p] + mi * ur[p]
  }
}

function swapEntries(re: Float64Array, im: Float64Array, p: number, q: number, columns: number): void {
  for (let c = 0; c < columns; c++) {
    const a = re[p + c]
    const b = im[p + c]
    re[p + c] = re[q + c]
    im[p + c] = im[q + c]
    re[q + c] = a
    im[q + c] = b
  }
}

function subtract(
  re: Float64Array,
  im: Float64Array,
  target: number,
  source: number,
  columns: number,
  fr: number,
  fi: number,
): void {
  for (let c = 0; c < columns; c++) {
    const a = re[source + c]
    const b = im[source + c]
    re[target + c] -= fr * a - fi * b
    im[target + c] -= fr * b + fi * a
  }
}

function divide(re: Float64Array, im: Float64Array, p: number, columns: number, dr: number, di: number): void {
  const size = dr * dr + di * di
  for (let c = 0; c < columns; c++) {
    const a = re[p + c]
    const b = im[p + c]
    re[p + c] = (a * dr + b * di) / size
    im[p + c] = (b * dr - a * di) / size
  }
}
