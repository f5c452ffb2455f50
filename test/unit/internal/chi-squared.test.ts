import { describe, expect, it } from 'vitest'
import { chiSquaredQuantile } from '../../../src/internal/chi-squared.js'

describe('chiSquaredQuantile', () => {
  // SciPy 1.10.1, scipy.stats.chi2.ppf(probability, freedom), by a routine of its own
  it.each([
    [0.95, 1, 3.841458820694124],
    [0.05, 3.7, 0.5938648639772597],
    [0.95, 3.7, 8.99713556762768],
    [0.025, 29.5, 16.418375227619432],
    [0.5, 0.5, 0.0873476047057468],
    [0.05, 0.2, 1.1861422582828497e-13],
    [0.999999, 2, 27.631021115871036],
    [0.95, 500, 553.1268089342569],
  ])('of %f with %f degrees of freedom', (probability, freedom, expected) => {
    expect(chiSquaredQuantile(probability, freedom) / expected).toBeCloseTo(1, 10)
  })

  // the cube root is normal to about 1e-7 above ten thousand degrees of freedom
  it.each([
    [0.05, 20_000, 19672.170221710385],
    [0.999, 20_000, 20623.750449079074],
    [0.01, 1_000_000, 996712.9888384115],
  ])('of %f with %i degrees of freedom', (probability, freedom, expected) => {
    expect(Math.abs(chiSquaredQuantile(probability, freedom) / expected - 1)).toBeLessThan(1e-6)
  })
})
