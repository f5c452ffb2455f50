import { describe, expect, it } from 'vitest'
import { complexZeros } from '../../../src/linear/complex-lu.js'
import { type Dense, denseFrom } from '../../../src/linear/dense.js'
import { type EliminationOrder, eliminationOrder } from '../../../src/linear/elimination-order.js'
import { listedRows, timesListed } from '../../../src/linear/listed-rows.js'
import { responseKernel } from '../../../src/linear/response-kernel.js'
import { sparseSolver } from '../../../src/linear/sparse-solver.js'

const square = (n: number, entry: (i: number, j: number) => number): Dense =>
  denseFrom(
    Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => entry(i, j))),
    n,
  )
/** Each state tied to its neighbours. */
const chain = (n: number) => square(n, (i, j) => (Math.abs(i - j) > 1 ? 0 : i === j ? -2 - i / 7 : 1 + j / 5))
/** Every state tied to the first one alone. */
const star = (n: number) => square(n, (i, j) => (i === j ? -3 - i : i * j === 0 ? 1 + i + 2 * j : 0))
const ordered = (A: Dense, { order }: EliminationOrder) =>
  square(A.rows, (i, j) => A.data[order[i] * A.rows + order[j]])
const places = ({ filled }: EliminationOrder) => filled.reduce((sum, one) => sum + one, 0)

describe('eliminationOrder', () => {
  it('fills nothing in a chain or a star, whose hub comes last but one', () => {
    const [ofChain, ofStar] = [chain(9), star(9)].map((A) => eliminationOrder(A, 81) as EliminationOrder)
    expect([places(ofChain), places(ofStar)]).toEqual([9 + 2 * 8, 9 + 2 * 8])
    expect([...ofStar.order].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8])
    // The hub and the last leaf have one place each by then.
    expect(ofStar.order.indexOf(0)).toBe(7)
  })

  it('counts what a ring has to fill: each state but the last three joins its two neighbours', () => {
    const ring = square(8, (i, j) => ([0, 1, 7].includes((i - j + 8) % 8) ? 1 : 0))
    expect(places(eliminationOrder(ring, 64) as EliminationOrder)).toBe(8 * 3 + 2 * (8 - 3))
  })

  it('takes one-sided ties as they are: a triangle fills nothing', () => {
    const triangle = square(6, (i, j) => (i >= j ? 1 : 0))
    const { order, filled } = eliminationOrder(triangle, 36) as EliminationOrder
    expect(filled.reduce((sum, one) => sum + one, 0)).toBe(21)
    // In the new order, too, a place is filled where the matrix has an entry.
    filled.forEach((one, p) => {
      expect(one).toBe(triangle.data[order[Math.floor(p / 6)] * 6 + order[p % 6]])
    })
  })

  it('gives up beyond the places allowed, and keeps the diagonal of an empty matrix', () => {
    expect(eliminationOrder(chain(9), 25)).not.toBeNull()
    expect(eliminationOrder(chain(9), 24)).toBeNull()
    expect(
      eliminationOrder(
        square(3, () => 0),
        3,
      )?.filled,
    ).toEqual(Uint8Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1))
    expect(eliminationOrder(denseFrom([], 0), 0)).toEqual({ order: [], filled: new Uint8Array(0) })
  })
})

describe('sparseSolver', () => {
  const solverOf = (A: Dense) => sparseSolver(A, (eliminationOrder(A, A.data.length) as EliminationOrder).filled)

  it.each([
    ['chain', chain(12)],
    ['star', star(7)],
    ['full matrix', square(6, (i, j) => Math.sin(37 * i * i + 11 * j + i * j))],
  ])('solves (s I − A) X = R of a %s, one shift after another', (_, given) => {
    const form = eliminationOrder(given, given.data.length) as EliminationOrder
    const A = ordered(given, form)
    const n = A.rows
    const solver = sparseSolver(A, form.filled)
    for (const [re, im] of [
      [0, 3],
      [5, -40],
      [0.25, 1],
    ]) {
      // biome-ignore format: a list
      expect(solver.factor(re, im)).toBeGreaterThan(0)
      const X = complexZeros(n, 3)
      const R = complexZeros(n, 3)
      R.re.forEach((_, p) => {
        X.re[p] = R.re[p] = Math.cos(p)
        X.im[p] = R.im[p] = Math.sin(3 * p)
      })
      solver.solve(X)
      const AX = complexZeros(n, 3)
      timesListed(listedRows(A), X, AX)
      for (let p = 0; p < 3 * n; p++) {
        expect(re * X.re[p] - im * X.im[p] - AX.re[p]).toBeCloseTo(R.re[p], 12)
        expect(re * X.im[p] + im * X.re[p] - AX.im[p]).toBeCloseTo(R.im[p], 12)
      }
    }
  })

  it('tells the smallest pivot over the size of its row and the shift', () => {
    // Pivots of [s − 4, −2; −3, s]: s − 4, then s − 6/(s − 4). At s = 5: 1 and −1 over 4 + 5 and 3 + 5.
    const solver = solverOf(denseFrom([[4, 2], [3, 0]], 2)) // biome-ignore format: a matrix
    expect(solver.factor(5, 0)).toBeCloseTo(1 / 9, 15)
    // s = 4 stops at once; s = 2 + √10 is an eigenvalue.
    expect(solver.factor(4, 0)).not.toBeGreaterThan(0)
    expect(solver.factor(2 + Math.sqrt(10), 0)).toBeLessThan(1e-15)
    expect(solverOf(denseFrom([], 0)).factor(0, 1)).toBe(Number.POSITIVE_INFINITY)
    expect(solverOf(square(2, () => 0)).factor(0, 0)).toBe(0)
  })
})

describe('the response of a sparse system', () => {
  const port = (n: number, k: number) => denseFrom([Array.from({ length: n }, (_, i) => (i === k ? 1 : 0))], n)
  const transposed = (M: Dense): Dense => ({ rows: M.columns, columns: M.rows, data: M.data })
  const responseOf = (A: Dense, from: number, to: number) =>
    responseKernel(
      { A, B: transposed(port(A.rows, from)), C: port(A.rows, to), D: denseFrom([[0]], 1), seconds: [] },
      // One point: no partial fractions.
      1,
    )

  it('follows a ladder of first-order lags to its closed form', () => {
    // Each lag drives the next: 1/(s + 1)ⁿ. Its one eigenvalue n-fold, no partial fractions would do.
    const n = 40
    const lags = square(n, (i, j) => (i === j ? -1 : i === j + 1 ? 1 : 0))
    const at = responseOf(lags, 0, n - 1).at(0, 1) as { re: Float64Array; im: Float64Array }
    // (1 + j)⁻⁴⁰ = 2⁻²⁰ e^(−j 10 π)
    expect(at.re[0] * 2 ** 20).toBeCloseTo(1, 12)
    expect(at.im[0] * 2 ** 20).toBeCloseTo(0, 12)
  })

  it('goes another way where the diagonal cannot be eliminated as it stands', () => {
    // A chain of oscillators ẋ = v, v̇ = −x + …: at s = 0 every pivot of a displacement is 0; the static answer is that of springs in series.
    const n = 20
    const springs = square(2 * n, (i, j) => {
      if (i < n) return j === i + n ? 1 : 0
      const [row, column] = [i - n, j]
      if (column >= n) return row === column - n ? -0.01 : 0
      if (row === column) return row === n - 1 ? -1 : -2
      return Math.abs(row - column) === 1 ? 1 : 0
    })
    // A unit force on the last of n springs of stiffness 1 moves it by n.
    const at = responseOf(springs, 2 * n - 1, n - 1).at(0, 0) as { re: Float64Array; im: Float64Array }
    expect(at.re[0]).toBeCloseTo(n, 10)
    expect(at.im[0]).toBe(0)
    // Far above all resonances the last mass is free: 1/s².
    const free = responseOf(springs, 2 * n - 1, n - 1).at(0, 1e4) as { re: Float64Array; im: Float64Array }
    expect(free.re[0] * 1e8).toBeCloseTo(-1, 6)
  })

  it('refuses a pole as every other way does', () => {
    const lags = square(40, (i, j) => (i === j ? 0 : i === j + 1 ? 1 : 0))
    expect(responseOf(lags, 0, 39).at(0, 0)).toBeNull()
  })
})

describe('product of a real and a complex matrix', () => {
  it.each([
    [1, 1],
    [2, 2],
    [3, 1],
    [3, 3],
    [5, 4],
  ])('of order %i by %i columns', (n, columns) => {
    // Whole numbers, so that every order of summation gives the same: compared with the definition.
    const Q = { rows: n, columns: n, data: Float64Array.from({ length: n * n }, (_, p) => ((7 * p) % 11) - 5) }
    const part = (seed: number) => Float64Array.from({ length: n * columns }, (_, p) => ((seed * p) % 13) - 6)
    const X = { rows: n, columns, re: part(3), im: part(5) }
    const Z = { rows: n, columns, re: part(0), im: part(0) }
    timesListed(listedRows(Q), X, Z)
    const product = (x: Float64Array) =>
      Float64Array.from(x, (_, p) => {
        const [i, c] = [Math.floor(p / columns), p % columns]
        return x.reduce(
          (sum, value, q) => sum + (q % columns === c ? Q.data[i * n + Math.floor(q / columns)] * value : 0),
          0,
        )
      })
    expect([Z.re, Z.im]).toEqual([product(X.re), product(X.im)])
  })
})
