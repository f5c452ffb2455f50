import { describe, expect, it } from 'vitest'
import { autocorrelation } from '../../../src/linear/autocorrelation.js'

describe('autocorrelation', () => {
  it('is the sum of products at every lag, up to one factor', () => {
    // by hand: 1·1 + 2·2 − 3·3… = 1 + 4 + 9 + 16, 1·2 + 2·(−3) + (−3)·4, 1·(−3) + 2·4, 1·4
    const expected = [30, -16, 5, 4]
    const found = autocorrelation(Float64Array.of(1, 2, -3, 4))
    found.forEach((value, lag) => {
      expect((30 * value) / found[0]).toBeCloseTo(expected[lag], 12)
    })
    expect(found).toHaveLength(4)
  })

  it('does not wrap around at lengths beyond a power of two', () => {
    const found = autocorrelation(Float64Array.of(1, 0, 0, 0, 1))
    expect(Array.from(found, (value) => Math.round((2 * value) / found[0]))).toEqual([2, 0, 0, 0, 1])
  })
})
