import { describe, expect, it } from 'vitest'
import { naturalFrequency, standardGravity, staticDeflection, stiffnessFor } from '../../../src/elements/index.js'

describe('staticDeflection', () => {
  // Computed from the closed form g/(2πf)², in mm with the digits listed.
  it.each([
    [0.5, 993.621, 5e-4],
    [1, 248.4053, 5e-5],
    [1.5, 110.4024, 5e-5],
    [2, 62.1013, 5e-5],
    [3, 27.6006, 5e-5],
    [5, 9.93621, 5e-6],
    [10, 2.484053, 5e-7],
    [15, 1.104024, 5e-7],
    [25, 0.397449, 5e-7],
  ])('of %d Hz is %d mm', (frequency, millimetres, halfDigit) => {
    const found = 1000 * staticDeflection({ naturalFrequency: frequency })
    expect(Math.abs(found - millimetres)).toBeLessThanOrEqual(1.001 * halfDigit)
  })

  it('of rubber with a dynamic ratio of 1.4 at 8.339874 Hz is 5 mm', () => {
    // Computed from the closed form f = √(g·ratio/d)/2π, seven digits.
    expect(staticDeflection({ naturalFrequency: 8.339874, dynamicRatio: 1.4 })).toBeCloseTo(5e-3, 8)
    expect(staticDeflection({ naturalFrequency: 7.04848, dynamicRatio: 1 })).toBeCloseTo(5e-3, 8)
  })

  it('of 1 mm is 15.76088 Hz', () => {
    // Computed from the closed form √(g/d)/2π, 15.760880/√(d in mm).
    expect(1000 * staticDeflection({ naturalFrequency: 15.76088 })).toBeCloseTo(1, 7)
  })

  it('refuses what is not a frequency', () => {
    const call = () => staticDeflection({ naturalFrequency: -3 })
    expect(call).toThrow('staticDeflection: naturalFrequency must be a finite number above 0 [Hz], got -3')
    expect(() => staticDeflection({ naturalFrequency: 1e-170 })).toThrow('beyond the range of numbers')
  })
})

describe('naturalFrequency', () => {
  it('of 1000 kg on 88826.440 N/m is 1.5 Hz, and stiffnessFor goes back', () => {
    // Computed from the closed form k = m(2πf)², eight digits.
    expect(naturalFrequency({ mass: 1000, stiffness: 88826.44 })).toBeCloseTo(1.5, 7)
    expect(stiffnessFor({ mass: 1000, naturalFrequency: 1.5 })).toBeCloseTo(88826.44, 3)
  })

  it('of rubber that sags 5 mm with a dynamic ratio of 1.4 is 8.34 Hz', () => {
    // Computed from the closed form f = √(g·ratio/d)/2π.
    const mass = 250
    const sag = 5e-3
    expect(naturalFrequency({ mass, stiffness: (1.4 * mass * standardGravity) / sag })).toBeCloseTo(8.339874, 6)
  })

  it('stays finite at the ends of the range of numbers', () => {
    expect(naturalFrequency({ mass: 1e-300, stiffness: 1e300 })).toBeLessThan(1e300)
    expect(() => stiffnessFor({ mass: 1e300, naturalFrequency: 1e100 })).toThrow('beyond the range of numbers')
  })

  it.each([
    [{ mass: 0, stiffness: 1 }, 'out-of-range', 'mass'],
    [{ mass: 1, stiffness: Number.NaN }, 'not-finite', 'stiffness'],
    [{ mass: 1 }, 'invalid-option', 'stiffness'],
    [{ mass: 1, stiffness: 1, damping: 2 }, 'invalid-option', 'damping'],
    [null, 'invalid-option', ''],
  ])('refuses %o as %s at %s', (options, code, path) => {
    expect(() => naturalFrequency(options as never)).toThrow(
      expect.objectContaining({ code, details: expect.objectContaining({ function: 'naturalFrequency', path }) }),
    )
  })
})
