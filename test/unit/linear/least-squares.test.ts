import { describe, expect, it } from 'vitest'
import { denseFrom } from '../../../src/linear/dense.js'
import { leastSquares } from '../../../src/linear/least-squares.js'
import { nonNegativeLeastSquares } from '../../../src/linear/non-negative-least-squares.js'

describe('leastSquares', () => {
  it('fits the straight line through (1, 6), (2, 5), (3, 7), (4, 10)', () => {
    // Common practice, no source: the textbook line 3.5 + 1.4 x.
    const A = denseFrom(
      [
        [1, 1],
        [1, 2],
        [1, 3],
        [1, 4],
      ],
      2,
    )
    const x = leastSquares(A, Float64Array.of(6, 5, 7, 10)) as Float64Array
    expect(x[0]).toBeCloseTo(3.5, 13)
    expect(x[1]).toBeCloseTo(1.4, 13)
  })

  it('is null for dependent columns, and empty for none', () => {
    expect(
      leastSquares(
        denseFrom(
          [
            [1, 2],
            [2, 4],
            [3, 6],
          ],
          2,
        ),
        Float64Array.of(1, 2, 3),
      ),
    ).toBeNull()
    expect(leastSquares(denseFrom([[], []], 0), Float64Array.of(1, 2))).toEqual(new Float64Array(0))
  })
})

describe('nonNegativeLeastSquares', () => {
  it('leaves at 0 what would be negative and fits the rest anew', () => {
    // Computed by hand: unconstrained (3, −1); with the second at 0 the first is (1·2 + 1·1 + 0·(−2))/2 = 1.5.
    const A = denseFrom(
      [
        [1, 0],
        [1, 1],
        [0, 1],
      ],
      2,
    )
    const b = Float64Array.of(2, 1, -2)
    const x = nonNegativeLeastSquares(A, b) as Float64Array
    expect(x[0]).toBeCloseTo(1.5, 14)
    expect(x[1]).toBe(0)
  })

  it('is the plain solution where that is positive', () => {
    const A = denseFrom(
      [
        [2, 1],
        [1, 3],
        [1, 1],
      ],
      2,
    )
    const x = nonNegativeLeastSquares(A, Float64Array.of(4, 7, 3)) as Float64Array
    // Computed by hand: x = (1, 2) solves all three rows.
    expect(x[0]).toBeCloseTo(1, 13)
    expect(x[1]).toBeCloseTo(2, 13)
  })

  it('lets a column that came in early go again', () => {
    // The column (1, 1) points best at b, but b is met exactly by the other two; computed by hand.
    const A = denseFrom(
      [
        [1, 1, 0.1],
        [1, 0.1, 1],
        [0.5, 0, 0],
      ],
      3,
    )
    const x = nonNegativeLeastSquares(A, Float64Array.of(1.1, 1.1, 0)) as Float64Array
    expect(x[0]).toBe(0)
    expect(x[1]).toBeCloseTo(1, 13)
    expect(x[2]).toBeCloseTo(1, 13)
  })

  it('is all 0 where nothing helps', () => {
    expect(nonNegativeLeastSquares(denseFrom([[1], [1]], 1), Float64Array.of(-1, -2))).toEqual(Float64Array.of(0))
  })

  it('passes over a column that repeats another', () => {
    const x = nonNegativeLeastSquares(
      denseFrom(
        [
          [1, 1],
          [1, 1],
          [0, 0],
        ],
        2,
      ),
      Float64Array.of(2, 2, 1),
    ) as Float64Array
    expect((x[0] as number) + (x[1] as number)).toBeCloseTo(2, 13)
  })

  it('passes over a column that is lost in the rounding of another', () => {
    const A = denseFrom(
      [
        [1, 0],
        [0, 1e-17],
      ],
      2,
    )
    expect(nonNegativeLeastSquares(A, Float64Array.of(2, 1))).toEqual(Float64Array.of(2, 0))
  })
})
