import { describe, expect, it } from 'vitest'
import { convertSpectrum, oneThirdOctaveBands, rms, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

/** A few roundings of sums of this length. */
const rounding = 12

describe('rms of lines', () => {
  const frequency = Array.from({ length: 11 }, (_, k) => k)
  const lines = spectrum({ quantity: 'velocity', frequency, density: frequency.map((k) => k + 1) })

  it('shares a line across a limit inside of it', () => {
    // computed from the closed form: a quarter of line 2, all of line 3, half of line 4 (densities 3, 4, 5)
    expect(rms(lines, { from: 2.25, to: 4 }) ** 2).toBeCloseTo(0.25 * 3 + 4 + 0.5 * 5, rounding)
  })

  it('stays within one line', () => {
    expect(rms(lines, { from: 3.1, to: 3.2 }) ** 2).toBeCloseTo(0.4, rounding)
  })

  it('takes all lines whole without limits, half of the one at 0 Hz from 0', () => {
    // The sum of 1 to 11 is 66.
    expect(rms(lines) ** 2).toBeCloseTo(66, rounding)
    expect(rms(lines, { from: 0 }) ** 2).toBeCloseTo(65.5, rounding)
    expect(rms(lines, { to: 10 }) ** 2).toBeCloseTo(60.5, rounding)
  })

  it('reaches half a line beyond the last and no further', () => {
    expect(rms(lines, { from: 10, to: 10.5 }) ** 2).toBeCloseTo(5.5, rounding)
    const error = refusal(() => rms(lines, { from: 9, to: 10.6 }))
    expect([error.code, error.details.path, error.details.allowed]).toEqual(['out-of-range', 'to', '0 to 10.5 Hz'])
  })
})

describe('rms of points', () => {
  const points = (frequency: number[], density: number[]) =>
    spectrum({ quantity: 'acceleration', frequency, density, support: 'points' })

  it('integrates power laws exactly: a table in g²/Hz to acceleration, velocity and displacement', () => {
    // (1 Hz, 1e-12), (10 Hz, 1e-10), (100 Hz, 1e-10) g²/Hz: 96.61 µg, 6.622 µm/s, 240 nm, 10 Hz band 2.302 µm/s
    // (computed from the closed form ∫f^p df)
    const g = 9.80665
    const floor = points([1, 10, 100], [1e-12 * g * g, 1e-10 * g * g, 1e-10 * g * g])
    const velocity = convertSpectrum(floor, { to: 'velocity' })
    expect(rms(floor) / g / 96.61e-6).toBeCloseTo(1, 4)
    expect(rms(velocity) / 6.622e-6).toBeCloseTo(1, 4)
    expect(rms(convertSpectrum(floor, { to: 'displacement' })) / 240e-9).toBeCloseTo(1, 2)
    expect((oneThirdOctaveBands(velocity, { from: 10, to: 10 }).bands[0]?.rms as number) / 2.302e-6).toBeCloseTo(1, 3)
  })

  it('differs from that table joined linearly: nearly right as acceleration by luck, twice too much as displacement', () => {
    // saran87/Vibration-Signal-Analysis#1 (disputed formula); 97.23 µg and 555.2 nm computed as trapezoids
    const g = 9.80665
    const straight = (corner: readonly number[]) => {
      const frequency = Array.from({ length: 99001 }, (_, k) => 1 + k / 1000)
      const [a, b, c] = corner as [number, number, number]
      const density = frequency.map((f) => (f < 10 ? a + ((b - a) * (f - 1)) / 9 : b + ((c - b) * (f - 10)) / 90))
      return rms(points(frequency, density))
    }
    const floor = points([1, 10, 100], [1e-12 * g * g, 1e-10 * g * g, 1e-10 * g * g])
    expect((straight([...floor.density]) / g) * 1e6).toBeCloseTo(97.23, 2)
    const displacement = convertSpectrum(floor, { to: 'displacement' })
    expect(straight([...displacement.density]) * 1e9).toBeCloseTo(555.2, 1)
    expect(rms(displacement) * 1e9).toBeCloseTo(240, 0)
  })

  it('has no special case at slope −1', () => {
    // computed from the closed forms: ∫1/f from 1 to e² is 2, and the neighbours of that slope join smoothly
    const e2 = 7.38905609893065
    const at = (slope: number) => rms(points([1, e2], [1, e2 ** slope])) ** 2
    expect(at(-1)).toBeCloseTo(2, rounding)
    // The derivative with respect to the slope is ∫ln(f)/f = 2, and so these are 2 ± 2e-9.
    expect(at(-1 + 1e-9)).toBeCloseTo(2.000000002, rounding)
    expect(at(-1 - 1e-9)).toBeCloseTo(1.999999998, rounding)
  })

  it('integrates a part of a piece', () => {
    // S = f³ (three decades per decade), ∫ from 2 to 3 is (81 − 16)/4
    expect(rms(points([1, 10], [1, 1000]), { from: 2, to: 3 }) ** 2).toBeCloseTo(16.25, rounding)
  })

  it('joins linearly where a piece touches zero density or zero frequency', () => {
    // computed as triangles and trapezoids
    expect(rms(points([1, 3, 5], [4, 0, 0])) ** 2).toBeCloseTo(4, rounding)
    expect(rms(points([1, 3], [0, 4]), { from: 2, to: 3 }) ** 2).toBeCloseTo(3, rounding)
    expect(rms(points([0, 2], [1, 3]), { from: 0, to: 1 }) ** 2).toBeCloseTo(1.5, rounding)
  })

  it('survives pieces that span hundreds of decades', () => {
    // ∫ is dominated by the upper end, S·f/(p + 1) with p = 350·ln 10/ln 2: steep, and finite
    const steep = rms(points([1, 2], [1e-300, 1e50])) ** 2
    expect(steep / 1.7186931803638e47).toBeCloseTo(1, 11)
    // and by the lower end where it falls, S·f/(−p − 1)
    const falling = rms(points([1, 2], [1e50, 1e-300])) ** 2
    expect(falling / (1e50 / ((350 * Math.LN10) / Math.LN2 - 1))).toBeCloseTo(1, 11)
  })

  it('survives a ratio of frequencies beyond the range of numbers', () => {
    // computed from the closed form: density 1 over 1e50 Hz, and the lower end does not count
    expect(rms(points([1e-310, 1e50], [1, 1])) / 1e25).toBeCloseTo(1, 12)
  })

  it('covers exactly its points', () => {
    const flat = points([1, 3], [1, 1])
    expect(rms(flat, { from: 2, to: 2 })).toBe(0)
    expect(refusal(() => rms(flat, { from: 0.5, to: 2 })).details.allowed).toBe('1 to 3 Hz')
  })

  it('refuses limits out of order, negative or not finite', () => {
    const flat = points([1, 3], [1, 1])
    expect(refusal(() => rms(flat, { from: 3, to: 2 })).code).toBe('invalid-option')
    expect(refusal(() => rms(flat, { from: -1, to: 2 })).code).toBe('out-of-range')
    expect(refusal(() => rms(flat, { from: 1, to: Number.NaN })).code).toBe('not-finite')
    expect(refusal(() => rms(flat, { low: 1 } as never)).details.path).toBe('low')
  })
})
