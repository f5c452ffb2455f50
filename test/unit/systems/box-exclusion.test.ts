import { describe, expect, it } from 'vitest'
import { type BoxFamily, nodes, notExcluded } from '../../../src/systems/box-exclusion.js'
import { beyond, departure, polynomialAt } from '../../../src/systems/box-family.js'

const roots = (...re: number[]) => ({ re: Float64Array.from(re), im: new Float64Array(re.length) })
/** s + pole + gain·e^(−sτ), τ from `from` to `to` */
const late = (pole: number, gain: number, from: number, to: number): BoxFamily => ({
  members: nodes.map((share) => ({
    seconds: [from + share * (to - from)],
    states: 1,
    polynomials: [
      { gain: 1, roots: roots(-pole) },
      { gain, roots: roots() },
    ],
  })),
  sizes: [Math.max(pole, 1e-6)],
})
const whole = { from: [0], to: [1] }

describe('how far a term may depart from its tangent', () => {
  // Series of what it is made of, by hand
  it.each<[string, number, number[], number, number, number]>([
    ['a delay alone: e^(hτ) − 1 − hτ', 1, [], 1, 1, Math.E - 2],
    ['that of a gain of −3', -3, [], 1, 1, 3 * (Math.E - 2)],
    ['that of twice the step at half the delay', 1, [], 0.5, 2, Math.E - 2],
    ['one root without delay, which is straight: nothing', 5, [-2], 0, 7, 0],
    // (2 + h)(3 + h) − 6 − 5h, over 2·3 for sizes 2 and 3
    ['two roots without delay: h²', 1, [-2, -3], 0, 7, 49 / 6],
    // ((2 + h) e^h − 2 − h (1 + 2))/2 at h = 1
    ['a root and a delay', 1, [-2], 1, 1, (3 * Math.E - 5) / 2],
  ])('%s', (_, gain, list, seconds, step, expected) => {
    const sizes = list.map((root) => -root)
    expect(departure({ gain, roots: roots(...list) }, 0, sizes, seconds, step)).toBeCloseTo(expected, 12)
  })

  it('nothing for a term that is not there', () => {
    expect(departure(null, 1, [1], 1, 1)).toBe(0)
    expect(beyond(null, 1, [1], false)).toBe(0)
    expect(polynomialAt(null, 1, [1])).toEqual({ re: 0, im: 0, slopeRe: 0, slopeIm: 0 })
  })

  it('is a bound on what it does depart, along the axis', () => {
    const three = { re: Float64Array.of(-1, -1, 0.5), im: Float64Array.of(3, -3, 0) }
    const sizes = [0.5, Math.sqrt(10), Math.sqrt(10)]
    const [omega, seconds] = [2, 0.7]
    const late = (at: number) => {
      const { re, im, slopeRe, slopeIm } = polynomialAt({ gain: 2, roots: three }, at, sizes)
      // Over the same product of sizes everywhere
      const scale = sizes.reduce((product, size) => (product * Math.hypot(at, size)) / Math.hypot(omega, size), 1)
      const [cos, sin] = [scale * Math.cos(at * seconds), -scale * Math.sin(at * seconds)]
      const [sr, si] = [slopeRe + seconds * im, slopeIm - seconds * re]
      return [re * cos - im * sin, re * sin + im * cos, sr * cos - si * sin, sr * sin + si * cos]
    }
    const [re, im, slopeRe, slopeIm] = late(omega)
    for (const step of [0.01, 0.1, 0.5, 2]) {
      const [x, y] = late(omega + step)
      const off = Math.hypot(x - re - step * slopeRe, y - im - step * slopeIm)
      const bound = departure({ gain: 2, roots: three }, omega, sizes, seconds, step)
      expect(off).toBeLessThanOrEqual(bound)
      expect(off).toBeGreaterThan(bound / 100)
    }
  })
})

it('what is left beyond a frequency is told for the leading term from 1, for the others from 0', () => {
  // Σ |z + size|/|jω + size| at ω = 4, size 3: (s − 2)/(s + 3) is 1 within 1 + 5/5; 7 over |jω + 3| = 5 for a constant
  expect(beyond({ gain: 1, roots: roots(2) }, 4, [3], true)).toBeCloseTo(1, 12)
  expect(beyond({ gain: -1, roots: roots(2) }, 4, [3], false)).toBeCloseTo(2, 12)
  expect(beyond({ gain: 7, roots: roots() }, 4, [3], false)).toBeCloseTo(7 / 5, 12)
})

describe('what cannot be excluded', () => {
  it('is a zero anywhere on the arc of a delay, up to half a turn and beyond', () => {
    // jω + e^(−jωτ) = 0 at ω = 1, τ = π/2
    for (const to of [1.6, 2.5, 3.5, 5, 20]) expect(notExcluded(late(0, 1, 0, to), whole, 1)).toBe(1)
  })

  it('is not stepped over by a tangent that looks away from it', () => {
    // 1 + jω + 1.2·e^(−jωτ): at ω = 0 value and tangent keep 2.2 to the right for ever, but |1 + jω| = 1.2 at ω = 0.6633, where it
    // vanishes if ωτ = π − atan 0.6633: τ = 3.8530
    const place = notExcluded(late(1, 1.2, 3.8, 3.9), whole, 0) as number
    expect(Math.abs(place - Math.sqrt(1.2 ** 2 - 1))).toBeLessThan(0.05)
  })

  it('is nothing where the gain is below the pole, whatever the delay', () => {
    expect(notExcluded(late(1, 0.99, 0, 30), whole, 0)).toBeNull()
  })
})
