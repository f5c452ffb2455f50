import { describe, expect, it } from 'vitest'
import { nonlinearLeastSquares } from '../../../src/linear/nonlinear-least-squares.js'

describe('nonlinearLeastSquares', () => {
  it('gives the line of a regression with its covariance', () => {
    // y = 1, 3, 5, 8 at x = 0, 1, 2, 3: slope 2.3, intercept 0.8, Σr² = 0.3; (XᵀX)⁻¹ = [0.7 −0.3; −0.3 0.2] (by hand)
    const x = [0, 1, 2, 3]
    const y = [1, 3, 5, 8]
    const fit = nonlinearLeastSquares(
      ([a = 0, b = 0]) => Float64Array.from(x, (value, i) => a + b * value - (y[i] as number)),
      Float64Array.of(0, 0),
    )
    expect(fit?.parameters[0]).toBeCloseTo(0.8, 9)
    expect(fit?.parameters[1]).toBeCloseTo(2.3, 9)
    expect(fit?.squares).toBeCloseTo(0.3, 12)
    const expected = [0.7, -0.3, -0.3, 0.2]
    fit?.covariance.data.forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k] as number, 7)
    })
  })

  it('finds the bottom of a curved valley', () => {
    // H. H. Rosenbrock, The Computer Journal 3 (1960) 175: minimum 0 at (1, 1), start (−1.2, 1)
    const fit = nonlinearLeastSquares(
      ([a = 0, b = 0]) => Float64Array.of(10 * (b - a * a), 1 - a),
      Float64Array.of(-1.2, 1),
    )
    expect(fit?.parameters[0]).toBeCloseTo(1, 8)
    expect(fit?.parameters[1]).toBeCloseTo(1, 8)
  })

  it('turns back from where the residuals end', () => {
    // r = ln p − 2, which ends at p = 0: minimum at e² = 7.389056
    const fit = nonlinearLeastSquares(
      ([p = 0]) => Float64Array.of(p > 0 ? Math.log(p) - 2 : Infinity),
      Float64Array.of(0.4),
    )
    expect(fit?.parameters[0]).toBeCloseTo(7.389056, 5)
  })

  it('gives nothing for a parameter that does not matter, nor from a start without residuals', () => {
    expect(nonlinearLeastSquares(([a = 0]) => Float64Array.of(a - 1, a), Float64Array.of(0, 0))).toBeNull()
    expect(nonlinearLeastSquares(() => Float64Array.of(Infinity), Float64Array.of(0))).toBeNull()
  })
})
