import { describe, expect, it } from 'vitest'
import { hystereticTransmissibility } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

const at = (lossFactor: number, r: number) => {
  const T = hystereticTransmissibility({ naturalFrequency: 4, lossFactor }, [4 * r])
  const [re, im] = [T.re[0] as number, T.im[0] as number]
  return { modulus: Math.hypot(re, im), degrees: (Math.atan2(im, re) * 180) / Math.PI }
}

describe('hystereticTransmissibility', () => {
  // Computed from the closed form (1 + jη)/(1 − r² + jη) to six digits; background: J. C. Snowdon, NBS Handbook 128, 1979.
  it.each([
    [0.05, 1.332042, 20.024984, 0.333703, 0.041719, 0.010114],
    [0.1, 1.328229, 10.049876, 0.33481, 0.041874, 0.010151],
    [0.2, 1.313827, 5.09902, 0.339182, 0.04249, 0.010301],
    [0.5, 1.240347, 2.236068, 0.367607, 0.046575, 0.011293],
  ])('of loss factor %d has the tabulated sizes at r = 0.5, 1, 2, 5, 10', (lossFactor, ...sizes) => {
    const ratios = [0.5, 1, 2, 5, 10]
    sizes.forEach((size, k) => {
      expect(at(lossFactor, ratios[k] as number).modulus).toBeCloseTo(size, 6)
    })
  })

  // Computed from the same closed form.
  it.each([
    [0.05, 1, -87.138],
    [0.1, 1, -84.289],
    [0.2, 1, -78.69],
    [0.5, 1, -63.435],
    [0.05, 10, -177.109],
    [0.1, 10, -174.232],
    [0.2, 10, -168.574],
    [0.5, 10, -153.146],
  ])('of loss factor %d at r = %d lags by %d degrees', (lossFactor, r, degrees) => {
    expect(at(lossFactor, r).degrees).toBeCloseTo(degrees, 3)
  })

  it('is 1 at rest and at r = √2 whatever the loss factor, and falls with slope −2', () => {
    for (const lossFactor of [0.01, 0.3, 3]) {
      expect(at(lossFactor, 0).modulus).toBeCloseTo(1, 14)
      expect(at(lossFactor, Math.SQRT2).modulus).toBeCloseTo(1, 14)
      expect(at(lossFactor, 2e3).modulus / at(lossFactor, 2e4).modulus).toBeCloseTo(100, 4)
    }
  })

  it('stays finite at the ends of the range of numbers', () => {
    const T = hystereticTransmissibility({ naturalFrequency: 1e-300, lossFactor: 0.1 }, [0, 1e300])
    expect(T.re[0]).toBeCloseTo(1, 14)
    expect(T.im[0]).toBe(0)
    expect(Math.hypot(T.re[1] as number, T.im[1] as number)).toBeLessThan(1e-300)
  })

  it.each([
    [{ naturalFrequency: 0, lossFactor: 0.1 }, 'out-of-range', 'naturalFrequency'],
    [{ naturalFrequency: 1, lossFactor: 0 }, 'out-of-range', 'lossFactor'],
    [{ naturalFrequency: 1, dampingRatio: 0.1 }, 'invalid-option', 'dampingRatio'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    expect(refusal(() => hystereticTransmissibility(options as never, [1]))).toMatchObject({ code, details: { path } })
  })
})
