import { describe, expect, it } from 'vitest'
import { denseFrom, rowsOf } from '../../../src/linear/dense.js'
import { luFactors, luInverse, luSolve, scaledReciprocalCondition, solve } from '../../../src/linear/solve.js'

const dense = (rows: number[][]) => denseFrom(rows, rows[0]?.length ?? 0)
const solved = (M: number[][], R: number[][]) => {
  const X = solve(dense(M), dense(R))
  return X === null ? null : rowsOf(X)
}

describe('solve', () => {
  it('solves small systems exactly', () => {
    // by hand
    const M = [
      [0, 2, 0],
      [1, 0, 3],
      [0, 0, 4],
    ]
    const R = [[2], [7], [8]]
    expect(solved(M, R)).toEqual([[1], [1], [2]])
  })

  it('does not let the unit of a row choose the pivot', () => {
    // [1e-20, 1; 1, 1] x = [1, 2] with its first row in units of 1e-30: x = (1, 1) to 1e-20, by hand
    const M = [
      [1e10, 1e30],
      [1, 1],
    ]
    expect(solved(M, [[1e30], [2]])).toEqual([[1], [1]])
  })

  it('keeps the unit of a row with it when rows change places', () => {
    const M = dense([
      [0, 1, 1e20],
      [0, 0.5, 1],
      [1, 0, 0],
    ])
    const X = dense([[1e20], [1.5], [1]])
    luSolve(luFactors(M), X)
    // by hand, to 1e-20
    expect(rowsOf(X)).toEqual([[1], [1], [1]])
  })

  it('refines what a pivot small for its column has spoilt', () => {
    const M = [
      [2 ** -33, 1, 0],
      [1, 1, 1e20],
      [0, 1, 0],
    ]
    const X = solved(M, [[2 + 2 ** -33], [6.1], [2]]) ?? []
    // by hand; elimination alone leaves the last one wrong by 1e-7
    for (const [i, value] of [1, 2, 3.1e-20].entries()) expect(X[i][0] / value).toBeCloseTo(1, 14)
  })

  it('is right to the last digits on a Hilbert matrix, and leaves its arguments alone', () => {
    const M = dense(Array.from({ length: 5 }, (_, i) => Array.from({ length: 5 }, (_, j) => 1 / (i + j + 1))))
    const R = dense([[1], [0], [0], [0], [0]])
    const before = [M.data.slice(), R.data.slice()]
    const X = solve(M, R)
    // first column of the inverse of the 5 × 5 Hilbert matrix: M.-D. Choi, Amer. Math. Monthly 90, 1983
    const expected = [25, -300, 1050, -1400, 630]
    // the condition of the matrix, 5e5, times the rounding of its entries
    for (const [i, value] of expected.entries()) expect(X?.data[i]).toBeCloseTo(value, 6)
    expect([M.data, R.data]).toEqual(before)
  })

  it('says null for an exactly singular matrix, and takes none at all', () => {
    expect(
      solved(
        [
          [1, 2],
          [2, 4],
        ],
        [[1], [1]],
      ),
    ).toBeNull()
    expect(solved([[0]], [[1]])).toBeNull()
    expect(solved([], [])).toEqual([])
  })
})

describe('luInverse', () => {
  it('inverts', () => {
    // by hand
    const M = dense([
      [0, 1],
      [2, 4],
    ])
    expect(rowsOf(luInverse(luFactors(M)))).toEqual([
      [-2, 0.5],
      [1, 0],
    ])
  })
})

describe('scaledReciprocalCondition', () => {
  const condition = (M: number[][], G: number[][], enough = 1) =>
    scaledReciprocalCondition(luFactors(dense(M)), dense(G), enough)

  it('is one for a diagonal matrix in any units', () => {
    // computed from the closed form 1/ρ(|M⁻¹| |M|) with M diagonal
    const M = [
      [1e-30, 0],
      [0, 1e30],
    ]
    expect(condition(M, M)).toBeCloseTo(1, 14)
  })

  it('does not change with the units of rows and columns', () => {
    const M = [
      [1, 0.5],
      [0.25, 1],
    ]
    const scaled = [
      [1e12, 0.5e-6],
      [0.25e12, 1e-6],
    ]
    // computed from the closed form (1 − r)/(1 + r) with r² = 0.5·0.25: 0.4775922500725, to the factor of two that is promised
    for (const value of [condition(M, M), condition(scaled, scaled)]) {
      expect(value).toBeGreaterThan(0.4775 / 2)
      expect(value).toBeLessThan(0.4777)
    }
  })

  it('is small where entries cancel, and zero where the matrix is singular', () => {
    // computed from the closed form |1 − L|/(1 + |L|), L = 1 − 2⁻⁴⁰
    expect(condition([[2 ** -40]], [[2 - 2 ** -40]])).toBeCloseTo(2 ** -41, 20)
    expect(condition([[0]], [[2]])).toBe(0)
  })
})
