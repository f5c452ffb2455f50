import { describe, expect, it } from 'vitest'
import { rms, spectrum, weightedSpectrum, weighting } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

/** Exact centres of bands by their number: 10^(n/10) Hz. */
const centres = [-3, 0, 3, 6, 7, 8, 9, 12, 15, 19].map((n) => 10 ** (n / 10))

describe('weighting', () => {
  // Computed from the definitions of ISO 2631-1 and ISO 2631-2 (constants from memory) at 0.5, 1, 2, 4, 5, 6.3, 8, 16, 31.5
  // and 80 Hz
  it.each([
    ['Wk', [0.4188, 0.4825, 0.5308, 0.9648, 1.0392, 1.0544, 1.0374, 0.7743, 0.4031, 0.1339]],
    ['Wd', [0.854, 1.011, 0.8913, 0.5143, 0.4081, 0.3226, 0.255, 0.1266, 0.063, 0.0213]],
    ['Wm', [0.3684, 0.8329, 0.9319, 0.8184, 0.7498, 0.6692, 0.5819, 0.3375, 0.176, 0.0604]],
    // BS 6841:1987: corners and quality factors; gains 0.4 and 0.42
    ['Wb', [0.3347, 0.3853, 0.4168, 0.885, 1.0261, 1.0545, 1.0264, 0.8144, 0.4906, 0.1734]],
    ['Wg', [0.1617, 0.4237, 0.6757, 1.0023, 1.05, 1.0088, 0.8939, 0.4908, 0.2471, 0.0837]],
  ] as const)('%s has the values of its definition', (name, expected) => {
    weighting(name, centres).forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k] as number, 4)
    })
  })

  it('is nothing at 0 Hz and far above', () => {
    expect(weighting('Wk', [0, 1e6])[0]).toBe(0)
    expect(weighting('Wk', [0, 1e6])[1]).toBeLessThan(1e-12)
  })

  it('refuses other names and grids', () => {
    expect(refusal(() => weighting('Wx' as never, [1])).details.path).toBe('name')
    expect(refusal(() => weighting('Wk', [2, 1])).code).toBe('invalid-option')
  })
})

describe('weightedSpectrum', () => {
  it('weighs velocity as the acceleration it is', () => {
    const flat = spectrum({ quantity: 'velocity', frequency: [7.9432823, 7.9432824], density: [1e-10, 1e-10] })
    // (2π·7.943)²·1e-10·1.0374² (closed form, with the value of Wk above)
    expect(weightedSpectrum(flat, 'Wk').density[0]).toBeCloseTo(2.6807e-7, 10)
    expect(weightedSpectrum(flat, 'Wk').quantity).toBe('acceleration')
  })

  it('keeps lines that a record gave, and loses the one at 0 Hz to the weighting', () => {
    const lines = spectrum({ quantity: 'acceleration', frequency: [0, 1, 2, 3], density: [5, 1, 1, 1] })
    const weighted = weightedSpectrum(lines, 'Wd')
    expect([weighted.density[0], weighted.support]).toEqual([0, 'lines'])
    expect(rms(weighted)).toBeLessThan(rms(lines))
  })

  it('refuses forces', () => {
    const force = spectrum({ quantity: 'force', frequency: [1, 2], density: [1, 1] })
    expect(refusal(() => weightedSpectrum(force, 'Wk')).code).toBe('unsupported')
  })
})
