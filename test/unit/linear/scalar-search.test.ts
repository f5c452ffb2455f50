import { describe, expect, it } from 'vitest'
import { bracketedRoot, localMinimum } from '../../../src/linear/scalar-search.js'

describe('bracketedRoot', () => {
  it.each([
    // by hand
    ['a line', (x: number) => 2 * x - 3, 0, 10, 1.5],
    ['from the right', (x: number) => x * x - 2, 3, 0, Math.SQRT2],
    ['a cubic', (x: number) => x ** 3 - 2, 0, 2, 1.2599210498948732],
    ['a step', (x: number) => (x < 0.3 ? -1 : 1), 0, 1, 0.3],
    ['a flat root', (x: number) => (x - 1) ** 5, -3, 4, 1],
    // x e^x = 1, the omega constant
    ['a steep function', (x: number) => x * Math.exp(x) - 1, -5, 20, 0.5671432904097838],
    ['one over eight decades', (x: number) => Math.log(x / 3e-4), 1e-8, 1e8, 3e-4],
  ] as const)('finds the root of %s', (name, f, a, b, root) => {
    // A flat root of order five is only seen to where f underflows in its last digits; all others to a few ε.
    const digits = name === 'a flat root' ? 1e-12 : 8 * Number.EPSILON
    expect(Math.abs(bracketedRoot(f, a, b) - root)).toBeLessThanOrEqual(digits * root)
  })

  it('returns an end that is a root, and takes known values at the ends', () => {
    expect(bracketedRoot((x) => x, 0, 5)).toBe(0)
    let calls = 0
    const f = (x: number) => {
      calls += 1
      return x - 1
    }
    bracketedRoot(f, 0, 2, -1, 1)
    expect(calls).toBeLessThan(5)
  })

  it('comes to an end on a function that is not a number inside', () => {
    const root = bracketedRoot((x) => (x > 0.4 && x < 0.6 ? Number.NaN : x - 0.7), 0, 1)
    expect(Number.isFinite(root)).toBe(true)
  })
})

describe('a search', () => {
  // Far fewer places than halving (53) or golden sections (43 for 1e-9) would look at, on functions that are smooth: measured 9, 16,
  // 9, 24 and 21
  it('comes to its end in some steps where the function is smooth', () => {
    const places = (run: (watch: (g: (x: number) => number) => (x: number) => number) => unknown): number => {
      let count = 0
      run((g) => (x) => {
        count += 1
        return g(x)
      })
      return count
    }
    expect(places((watch) => bracketedRoot(watch((x) => x ** 3 - 2), 0, 2))).toBeLessThan(12) // biome-ignore format: one line
    expect(places((watch) => bracketedRoot(watch((x) => x * Math.exp(x) - 1), -5, 20))).toBeLessThan(20) // biome-ignore format: one line
    expect(places((watch) => bracketedRoot(watch((x) => Math.cos(x) - x), 0, 1))).toBeLessThan(12) // biome-ignore format: one line
    expect(places((watch) => localMinimum(watch((x) => Math.cosh(x - 2)), -1, 10))).toBeLessThan(29) // biome-ignore format: one line
    expect(places((watch) => localMinimum(watch((x) => -Math.sin(x)), 0, 3))).toBeLessThan(26) // biome-ignore format: one line
  })
})

describe('localMinimum', () => {
  // A minimum shows in f only to √ε of its place (Brent 1973, chapter 5).
  const place = 1e-7

  it('finds the place and value of a minimum', () => {
    const { x, value } = localMinimum((x) => (x - 2) ** 2 + 5, -1, 10)
    expect(Math.abs(x - 2)).toBeLessThan(2 * place)
    expect(value).toBeCloseTo(5, 14)
  })

  it('goes to the end where there is none inside', () => {
    expect(localMinimum((x) => x, 3, 4).x).toBeCloseTo(3, 7)
    expect(localMinimum((x) => -x, 3, 4).x).toBeCloseTo(4, 7)
  })

  it('is right about a kink', () => {
    expect(localMinimum((x) => Math.abs(x - 1e-3), 0, 1).x).toBeCloseTo(1e-3, 9)
  })
})
