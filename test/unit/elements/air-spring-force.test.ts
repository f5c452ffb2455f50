import { describe, expect, it } from 'vitest'
import { airSpring, airSpringForce } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

const plain = airSpring({ area: 0.02, volume: 4e-3, gaugePressure: 2.5e5 })

describe('airSpringForce', () => {
  it('has the tabulated forces, stiffer in compression than in extension', () => {
    // Computed from the closed form p_abs·A·(V/(V − A·z))ⁿ − p_atm·A − m·g, digits as listed.
    const { travel, force } = airSpringForce(plain, { travel: [1e-3, 5e-3, 1e-2, -1e-2] })
    expect(Array.from(travel)).toEqual([1e-3, 5e-3, 1e-2, -1e-2])
    const expected = [49.482295, 253.520271, 523.13583, -463.928745]
    expected.forEach((value, i) => {
      expect(force[i]).toBeCloseTo(value, 6)
    })
  })

  it('starts with the stiffness of the spring, 49185.5 N/m', () => {
    // Same source: the linear part.
    const { force, stiffness } = airSpringForce(plain, { travel: [0, 1e-9] })
    expect(force[0]).toBe(0)
    expect(stiffness[0]).toBeCloseTo(49185.5, 6)
    // The quadratic term is 1e-8 of the linear one here.
    expect((force[1] as number) / 1e-9).toBeCloseTo(49185.5, 2)
  })

  // Computed from numerical integrals of the swept volume and central differences (1e-9 of the force, 1e-6 of the slope):
  // area gradient −0.03 m²/m, diaphragm 500 N/m, damping chamber of 6 litres.
  it.each([
    [0.01, 1.4, 'both', 127.02428401675479, 12729.34],
    [0.01, 1, 'both', 70.16618336479132, 6978.968],
    [0.01, 1.4, 'spring', 441.1811539657265, 46142.999],
    [-0.01, 1.4, 'both', -126.43471995070286, 12611.559],
    [-0.01, 1, 'both', -70.86921984512082, 7119.652],
    [-0.01, 1.4, 'spring', -404.2167545854645, 38735.036],
  ] as const)(
    'at %d m with exponent %d and chambers %s gives %d N',
    (z, polytropicExponent, chambers, force, slope) => {
      const spring = airSpring({
        area: 0.02,
        volume: 4e-3,
        gaugePressure: 2.5e5,
        areaGradient: -0.03,
        diaphragmStiffness: 500,
        dampingChamber: { volume: 6e-3, flowResistance: 1e7 },
      })
      const found = airSpringForce(spring, { travel: [z], polytropicExponent, chambers })
      expect(found.force[0]).toBeCloseTo(force, 7)
      expect(found.stiffness[0]).toBeCloseTo(slope, 2)
    },
  )

  it.each([
    [{ travel: [0, 0.2] }, 'out-of-range', 'travel[1]'],
    [{ travel: [Number.NaN] }, 'not-finite', 'travel[0]'],
    [{ travel: 0.1 }, 'invalid-option', 'travel'],
    [{ travel: [0], chambers: 'all' }, 'invalid-option', 'chambers'],
    [{ travel: [0], polytropicExponent: 0.5 }, 'out-of-range', 'polytropicExponent'],
    [{ travel: [0], height: 1 }, 'invalid-option', 'height'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    const error = refusal(() => airSpringForce(plain, options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a travel at which a taper has no area left', () => {
    const tapered = airSpring({ area: 0.02, volume: 4e-3, gaugePressure: 2.5e5, areaGradient: -0.1 })
    expect(refusal(() => airSpringForce(tapered, { travel: [0.21] })).code).toBe('out-of-range')
  })
})
