import { describe, expect, it } from 'vitest'
import {
  type ComplexDense,
  complexLu,
  complexLuSolve,
  complexZeros,
  determinantAngle,
  luSpace,
} from '../../../src/linear/complex-lu.js'

/** Rows of [re, im] pairs. */
const complex = (rows: [number, number][][]): ComplexDense => {
  const M = complexZeros(rows.length, rows[0]?.length ?? 0)
  rows.flat().forEach(([re, im], k) => {
    M.re[k] = re
    M.im[k] = im
  })
  return M
}
const entries = ({ re, im }: ComplexDense) => Array.from(re, (value, k) => [value, im[k]])

describe('complexLu', () => {
  it('solves by hand, with an exchange of rows', () => {
    // by hand: x₂ = −1/j = j, x₁ = (1 + j − (1 + j) j)/2 = 1
    const M = complex([
      [
        [0, 0],
        [0, 1],
      ],
      [
        [2, 0],
        [1, 1],
      ],
    ])
    const X = complex([[[-1, 0]], [[1, 1]]])
    complexLuSolve(complexLu(M), X)
    expect(entries(X)).toEqual([
      [1, 0],
      [0, 1],
    ])
  })

  it('solves several right-hand sides of a larger system to rounding', () => {
    const n = 30
    const M = complexZeros(n, n)
    const X = complexZeros(n, 2)
    for (let k = 0; k < n * n; k++) [M.re[k], M.im[k]] = [Math.sin(k * k), Math.cos(3 * k + k * k)]
    for (let k = 0; k < 2 * n; k++) [X.re[k], X.im[k]] = [Math.cos(k), Math.sin(5 * k)]
    const wanted = { re: X.re.slice(), im: X.im.slice() }
    complexLuSolve(complexLu(M), X)
    for (let i = 0; i < n; i++) {
      for (let c = 0; c < 2; c++) {
        let [re, im, size] = [-wanted.re[2 * i + c], -wanted.im[2 * i + c], 1]
        for (let k = 0; k < n; k++) {
          const [a, b] = [M.re[i * n + k], M.im[i * n + k]]
          const [x, y] = [X.re[2 * k + c], X.im[2 * k + c]]
          re += a * x - b * y
          im += a * y + b * x
          size += Math.hypot(a, b) * Math.hypot(x, y)
        }
        // residual of elimination with partial pivoting: a small multiple of n ε times the sizes that were added
        expect(Math.hypot(re, im)).toBeLessThan(8 * n * Number.EPSILON * size)
      }
    }
  })

  it('reports the smallest pivot over its column, zero where the matrix is singular', () => {
    // by hand: a diagonal matrix is its own pivots, whatever the units of its columns
    const diagonal = (a: number, b: number) =>
      complex([
        [
          [a, 0],
          [0, 0],
        ],
        [
          [0, 0],
          [0, b],
        ],
      ])
    expect(complexLu(diagonal(1e-30, 1e30)).smallestPivot).toBe(1)
    expect(complexLu(diagonal(1, 0)).smallestPivot).toBe(0)
    const rankOne = complex([
      [
        [1, 1],
        [2, 0],
      ],
      [
        [1, 1],
        [2, 0],
      ],
    ])
    expect(complexLu(rankOne).smallestPivot).toBe(0)
    expect(complexLu(complexZeros(0, 0)).smallestPivot).toBe(Number.POSITIVE_INFINITY)
  })

  it('has the angle of the determinant, row exchanges included', () => {
    // by hand: det [0, j; 2, 1 + j] = −2j; det [1 + 4j] = 1 + 4j
    const wrapped = (angle: number) => Math.atan2(Math.sin(angle), Math.cos(angle))
    const exchanged = complex([
      [
        [0, 0],
        [0, 1],
      ],
      [
        [2, 0],
        [1, 1],
      ],
    ])
    expect(wrapped(determinantAngle(complexLu(exchanged)))).toBeCloseTo(-Math.PI / 2, 14)
    expect(determinantAngle(complexLu(complex([[[1, 4]]])))).toBeCloseTo(1.3258176636680326, 14)
  })

  it('works in memory it is given, and does not change the matrix', () => {
    const M = complex([[[3, 4]]])
    const space = luSpace(1)
    const lu = complexLu(M, space)
    expect(lu.re).toBe(space.re)
    expect(entries(M)).toEqual([[3, 4]])
    const X = complex([[[25, 0]]])
    complexLuSolve(lu, X)
    // by hand: 25/(3 + 4j) = 3 − 4j
    expect(entries(X)).toEqual([[3, -4]])
  })
})
