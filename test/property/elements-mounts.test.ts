import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  airSpring,
  dynamicStiffness,
  elastomerMount,
  type Mount,
  mountsInParallel,
  mountsInSeries,
  naturalFrequency,
  relaxationMount,
  stiffnessFor,
} from '../../src/elements/index.js'

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)
const grid = Array.from({ length: 41 }, (_, k) => 10 ** (-3 + k / 5))

/** A passive mount with up to four branches over nine decades of stiffness and eight of time. */
const passive: fc.Arbitrary<Mount> = fc.record({
  stiffness: decades(0, 9),
  damping: fc.oneof(fc.constant(0), decades(-2, 5)),
  relaxations: fc.array(fc.record({ stiffness: decades(0, 9), time: decades(-5, 3) }), { maxLength: 4 }),
})

/** Largest difference of two mounts over the grid, relative to the modulus of the second. */
function difference(a: Mount, expected: (k: number) => { re: number; im: number }): number {
  const K = dynamicStiffness(a, grid)
  return Math.max(
    ...grid.map((_, k) => {
      const { re, im } = expected(k)
      return Math.hypot((K.re[k] as number) - re, (K.im[k] as number) - im) / Math.hypot(re, im)
    }),
  )
}

describe('mounts', () => {
  it('are passive: Im K is not negative and Re K never below K(0)', () => {
    fc.assert(
      fc.property(passive, (mount) => {
        const K = dynamicStiffness(mount, grid)
        return grid.every((_, k) => (K.im[k] as number) >= 0 && (K.re[k] as number) >= mount.stiffness)
      }),
    )
  })

  it('in parallel add their dynamic stiffness', () => {
    // Sums of at most ten positive parts, each rounded a few times.
    const rounding = 20 * Number.EPSILON
    fc.assert(
      fc.property(passive, passive, (a, b) => {
        const [one, two] = [dynamicStiffness(a, grid), dynamicStiffness(b, grid)]
        const sum = (k: number) => ({
          re: (one.re[k] as number) + (two.re[k] as number),
          im: (one.im[k] as number) + (two.im[k] as number),
        })
        expect(difference(mountsInParallel(a, b), sum)).toBeLessThan(rounding)
      }),
    )
  })

  it('in series add their compliance', () => {
    // Poles of the result are found to rounding; neighbours may lie close, which costs a few digits in single branches but
    // not in their sum.
    const tolerance = 1e-10
    fc.assert(
      fc.property(passive, passive, (a, b) => {
        const [one, two] = [dynamicStiffness(a, grid), dynamicStiffness(b, grid)]
        const series = mountsInSeries(a, b)
        const harmonic = (k: number) =>
          inverse(sum(inverse({ re: one.re[k], im: one.im[k] }), inverse({ re: two.re[k], im: two.im[k] })))
        expect(series.relaxations.every(({ stiffness, time }) => stiffness >= 0 && time > 0)).toBe(true)
        expect(difference(series, harmonic)).toBeLessThan(tolerance)
      }),
      { numRuns: 500 },
    )
  })

  it('in series do not mind branch times that are equal or almost equal', () => {
    const tolerance = 1e-10
    const nudge = fc.integer({ min: 0, max: 3 }).map((steps) => 1 + steps * Number.EPSILON)
    fc.assert(
      fc.property(passive, decades(-3, 1), nudge, nudge, (mount, time, first, second) => {
        const a = {
          stiffness: 3,
          relaxations: [
            { stiffness: 5, time },
            { stiffness: 2, time: time * first },
          ],
        }
        const b = { ...mount, relaxations: [...(mount.relaxations ?? []), { stiffness: 4, time: time * second }] }
        const [one, two] = [dynamicStiffness(a, grid), dynamicStiffness(b, grid)]
        const harmonic = (k: number) =>
          inverse(sum(inverse({ re: one.re[k], im: one.im[k] }), inverse({ re: two.re[k], im: two.im[k] })))
        expect(difference(mountsInSeries(a, b), harmonic)).toBeLessThan(tolerance)
      }),
    )
  })
})

describe('naturalFrequency and stiffnessFor', () => {
  it('undo each other', () => {
    fc.assert(
      fc.property(decades(-6, 9), decades(-6, 6), (mass, frequency) => {
        const back = naturalFrequency({ mass, stiffness: stiffnessFor({ mass, naturalFrequency: frequency }) })
        expect(Math.abs(back / frequency - 1)).toBeLessThan(8 * Number.EPSILON)
      }),
    )
  })
})

describe('airSpring', () => {
  const spring = fc.record({
    area: decades(-4, 0),
    volume: decades(-5, 0),
    load: decades(1, 6),
    polytropicExponent: fc.double({ min: 1, max: 1.7, noNaN: true }),
    dampingChamber: fc.record({
      volume: decades(-5, 0),
      flowResistance: fc.oneof(decades(3, 10), fc.constant('optimal' as const)),
    }),
  })

  it('with two chambers is an elastically supported damper of ratio V₂/V₁', () => {
    fc.assert(
      fc.property(spring, (options) => {
        const made = airSpring(options)
        const resistance = made.dampingChamber?.flowResistance as number
        // c = R·A²·(V₂/(V₁ + V₂))²
        const share = options.dampingChamber.volume / (options.volume + options.dampingChamber.volume)
        const twin = dynamicStiffness(
          relaxationMount({
            stiffness: made.stiffness,
            stiffnessRatio: options.dampingChamber.volume / options.volume,
            damping: resistance * (options.area * share) ** 2,
          }),
          grid,
        )
        // Some twenty roundings on either side.
        expect(difference(made, (k) => ({ re: twin.re[k] as number, im: twin.im[k] as number }))).toBeLessThan(
          40 * Number.EPSILON,
        )
      }),
    )
  })

  it('is stiffer in vibration than under slow load, and carries its load', () => {
    fc.assert(
      fc.property(spring, (options) => {
        const made = airSpring(options)
        expect(made.stiffness).toBeGreaterThanOrEqual(made.staticStiffness)
        expect(Math.abs(made.load / options.load - 1)).toBeLessThan(4 * Number.EPSILON)
      }),
    )
  })

  it('and every other mount leaves its options as they are', () => {
    const options = {
      area: 0.01,
      volume: 1e-3,
      load: 3e3,
      dampingChamber: { volume: 3e-3, flowResistance: 'optimal' as const },
    }
    const before = structuredClone(options)
    airSpring(options)
    expect(options).toEqual(before)
    const mount = { stiffness: 3, relaxations: [{ stiffness: 1, time: 2 }] }
    const frozen = Object.freeze({ ...mount, relaxations: Object.freeze(mount.relaxations) })
    expect(() => mountsInSeries(frozen, mountsInParallel(frozen, frozen))).not.toThrow()
  })
})

describe('elastomerMount', () => {
  it('keeps what it promises for any loss factor and band', () => {
    fc.assert(
      fc.property(decades(-3, 0.47), decades(-2, 3), decades(0.01, 6), (lossFactor, lower, width) => {
        const mount = elastomerMount({ stiffness: 1, lossFactor, band: [lower, lower * width] })
        expect(mount.fit.stiffnessDeviation).toBeLessThan(0.02)
        expect(mount.fit.lossFactorDeviation).toBeLessThan(0.05)
      }),
      { numRuns: 100 },
    )
  })

  it('does not depend on the unit of time or of stiffness', () => {
    fc.assert(
      fc.property(decades(-2, 0), decades(-3, 3), decades(-6, 9), (lossFactor, scale, stiffness) => {
        const plain = elastomerMount({ stiffness: 1, lossFactor, band: [1, 100] })
        const scaled = elastomerMount({ stiffness, lossFactor, band: [scale, 100 * scale] })
        const K = dynamicStiffness(plain, [3, 30])
        const L = dynamicStiffness(scaled, [3 * scale, 30 * scale])
        // The branches are found by least squares; their sum is far better determined than each of them.
        expect(Math.abs((L.re[0] as number) / stiffness / (K.re[0] as number) - 1)).toBeLessThan(1e-9)
        expect(Math.abs((L.im[1] as number) / stiffness / (K.im[1] as number) - 1)).toBeLessThan(1e-9)
      }),
      { numRuns: 50 },
    )
  })
})

function inverse({ re, im }: { re: number; im: number }): { re: number; im: number } {
  const modulus = Math.hypot(re, im)
  return { re: re / modulus / modulus, im: -im / modulus / modulus }
}

function sum(a: { re: number; im: number }, b: { re: number; im: number }): { re: number; im: number } {
  return { re: a.re + b.re, im: a.im + b.im }
}
