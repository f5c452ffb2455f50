import { describe, expect, it } from 'vitest'
import { logLogBetween, logRatio } from '../../../src/internal/log-ratio.js'

describe('logRatio', () => {
  // mpmath 1.2.1 with 30 digits
  it.each([
    [6, 2, 1.0986122886681098],
    [2, 6, -1.0986122886681098],
    [1e-200, 1e200, -921.0340371976183],
    [1e200, 1e-200, 921.0340371976183],
  ])('of %f to %f', (a, b, expected) => {
    expect(logRatio(a, b) / expected).toBeCloseTo(1, 14)
  })
})

describe('logLogBetween', () => {
  // y = a (x/x0)^s with s = ln(b/a)/ln(x1/x0), by hand
  it.each([
    [2, 1, 3, 4, 48, 12],
    [1, 1, 3, 4, 48, 3],
    [4, 1, 3, 4, 48, 48],
    [1, 1e-200, 1e200, 1e200, 1e-200, 1],
    [10, 1e-200, 1e-200, 1e200, 1e200, 10],
  ])('at %f of the line from (%f, %f) to (%f, %f)', (x, x0, a, x1, b, expected) => {
    expect(logLogBetween(x, x0, a, x1, b) / expected).toBeCloseTo(1, 12)
  })

  it('meets the ends of a flat line to the last digit', () => {
    expect(logLogBetween(3, 1, 0.1, 7, 0.1)).toBe(0.1)
  })
})
