import { describe, expect, it } from 'vitest'
import { dynamicStiffness, relaxationMount } from '../../../src/elements/index.js'
import { transmissibilityOf } from './transmissibility-of.js'

// With mass 1 kg and stiffness (2π)² N/m the undamped frequency is 1 Hz, so that r is the frequency in hertz.
const unit = { mass: 1, stiffness: (2 * Math.PI) ** 2 }
const optimal = (stiffnessRatio: number) => relaxationMount({ ...unit, stiffnessRatio, damping: 'optimal' })

describe('relaxationMount', () => {
  // J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958 (from memory), and confirmed
  // by a numerical min-max search: optimum, r_c and least peak, eight digits.
  it.each([
    [0.5, 0.186339, 1.09544512, 5],
    [1, 0.30618622, 1.15470054, 3],
    [2, 0.47140452, 1.22474487, 2],
    [3, 0.59292706, 1.26491106, 1.66666667],
    [4, 0.69282032, 1.29099445, 1.5],
    [5, 0.77951196, 1.30930734, 1.4],
    [10, 1.11340443, 1.3540064, 1.2],
  ])('at stiffness ratio %d has the optimum %d, the fixed point %d and the least peak %d', (ratio, z, fixed, peak) => {
    const mount = optimal(ratio)
    const branch = mount.relaxations[0] as { stiffness: number; time: number }
    expect((branch.stiffness * branch.time) / (2 * 2 * Math.PI)).toBeCloseTo(z, 8)
    // The slope at the peak is zero, so eight digits of the frequency give more of the value.
    expect(transmissibilityOf(mount, 1, fixed).modulus).toBeCloseTo(peak, 8)
    const highest = Math.max(...sweep(0.3, 3, 20000).map((r) => transmissibilityOf(mount, 1, r).modulus))
    expect(highest).toBeCloseTo(peak, 6)
  })

  it('at stiffness ratio 3 has the tabulated transmissibility', () => {
    // Computed from the closed form of K and T, digits as listed.
    const table = [
      [0.5, 1.20895502, -6.3315],
      [1, 1.57762128, -32.3115],
      [1.26491106, 1.66666667, -53.1301],
      [Math.SQRT2, 1.63299316, -65.9052],
      [2, 1.1055416, -107.5484],
      [5, 0.16620721, -157.1707],
      [10, 0.04039776, -168.997],
      [20, 0.01002497, -174.5481],
    ] as const
    for (const [r, modulus, degrees] of table) {
      const found = transmissibilityOf(optimal(3), 1, r)
      expect(found.modulus).toBeCloseTo(modulus, 8)
      expect(found.degrees).toBeCloseTo(degrees, 4)
    }
  })

  // Computed from the closed form |T| = 1 and T(10), six digits.
  it.each([
    [1, 1.752246, 0.020203],
    [2, 1.960186, 0.030303],
    [3, 2.113306, 0.040398],
    [5, 2.339444, 0.06056],
    [10, 2.708013, 0.11066],
  ])('at stiffness ratio %d isolates only from r = %d on', (ratio, from, atTen) => {
    expect(transmissibilityOf(optimal(ratio), 1, from).modulus).toBeCloseTo(1, 5)
    expect(transmissibilityOf(optimal(ratio), 1, 10).modulus).toBeCloseTo(atTen, 6)
  })

  it('off the optimum peaks higher', () => {
    // Computed from the closed form by search over r, stiffness ratio 3.
    const table = [
      [0.05, 10.08976],
      [0.1, 5.17661],
      [0.3, 2.13476],
      [1, 2.04655],
    ] as const
    for (const [z, peak] of table) {
      const mount = relaxationMount({ stiffness: unit.stiffness, stiffnessRatio: 3, damping: 4 * Math.PI * z })
      const highest = Math.max(...sweep(0.5, 3, 20000).map((r) => transmissibilityOf(mount, 1, r).modulus))
      expect(highest).toBeCloseTo(peak, 4)
    }
  })

  it('of ratio 3 and damping 0.4 passes 0.7853599 at r = 2', () => {
    // Computed from the closed form |T|² = (1 + 4((N + 1)/N)²z²r²)/((1 − r²)² + (4/N²)z²r²(N + 1 − r²)²).
    const mount = relaxationMount({ stiffness: unit.stiffness, stiffnessRatio: 3, damping: 1.6 * Math.PI })
    expect(transmissibilityOf(mount, 1, 2).modulus).toBeCloseTo(0.7853599, 7)
  })

  it('has its largest loss factor, 0.75 at ratio 3, where ω = (k₁/c)/√(1 + N)', () => {
    // Computed from the closed form N/(2√(1 + N)).
    const mount = relaxationMount({ stiffness: 1e4, stiffnessRatio: 3, damping: 600 })
    const centre = 3e4 / 600 / 2 / (2 * Math.PI)
    const loss = (frequency: number) => {
      const K = dynamicStiffness(mount, [frequency])
      return (K.im[0] as number) / (K.re[0] as number)
    }
    expect(loss(centre)).toBeCloseTo(0.75, 12)
    expect(loss(0.99 * centre)).toBeLessThan(0.75)
    expect(loss(1.01 * centre)).toBeLessThan(0.75)
  })

  it.each([
    [{ stiffness: 1, stiffnessRatio: 3, damping: 'optimal' }, 'invalid-option', 'mass'],
    [{ stiffness: 1, stiffnessRatio: 3, damping: 'best', mass: 1 }, 'invalid-option', 'damping'],
    [{ stiffness: 1, stiffnessRatio: 3, damping: 0 }, 'out-of-range', 'damping'],
    [{ stiffness: 1, stiffnessRatio: 0, damping: 1 }, 'out-of-range', 'stiffnessRatio'],
    [{ stiffness: 1, stiffnessRatio: 3, damping: 1, mass: -1 }, 'out-of-range', 'mass'],
    [{ stiffness: 1, stiffnessRatio: 3 }, 'invalid-option', 'damping'],
    [{ stiffness: 1e200, stiffnessRatio: 1e200, damping: 1 }, 'out-of-range', ''],
  ])('refuses %o as %s at "%s"', (options, code, path) => {
    expect(() => relaxationMount(options as never)).toThrow(
      expect.objectContaining({ code, details: expect.objectContaining({ path }) }),
    )
  })
})

function sweep(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, k) => from * (to / from) ** (k / (count - 1)))
}
