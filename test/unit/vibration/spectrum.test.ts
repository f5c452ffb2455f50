import { describe, expect, it } from 'vitest'
import {
  convertSpectrum,
  oneThirdOctaveBands,
  rms,
  type SpectrumLiteral,
  spectrum,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const table = { quantity: 'velocity', frequency: [1, 2, 3], density: [1, 4, 9] } as const

describe('spectrum', () => {
  it('squares an amplitude density', () => {
    const made = spectrum({ quantity: 'velocity', frequency: [1, 2, 3], amplitudeDensity: [1, 2, 3] })
    expect(made).toEqual(spectrum(table))
    expect(made.density).toBeInstanceOf(Float64Array)
  })

  it.each([
    [[0, 1, 2, 3], 'lines'],
    [[0.5, 1.5, 2.5], 'lines'],
    [[1, 10, 100], 'points'],
    [[1, 100], 'points'],
    [[0.0244141, 0.0488281, 0.0732422, 0.0976562], 'lines'],
    [[1, 1.01, 1.0201, 1.030301], 'points'],
    [[5], 'points'],
  ] as const)('takes %j as %s unless told', (frequency, support) => {
    const density = frequency.map(() => 1)
    expect(spectrum({ quantity: 'force', frequency, density }).support).toBe(support)
  })

  it('copies what it is given and changes nothing', () => {
    const density = Float64Array.of(1, 2, 3)
    const made = spectrum({ ...table, density })
    density[0] = 7
    expect(made.density[0]).toBe(1)
  })

  it('keeps a known number of averages', () => {
    expect(spectrum({ ...table, averages: 12 }).averages).toBe(12)
  })

  it.each([
    ['a grid that does not ascend', { frequency: [1, 3, 3] }, 'invalid-option', 'frequency[2]'],
    ['a negative frequency', { frequency: [-1, 0, 1] }, 'out-of-range', 'frequency[0]'],
    ['an empty table', { frequency: [], density: [] }, 'invalid-option', 'frequency'],
    ['a negative density', { density: [1, -1e-30, 1] }, 'out-of-range', 'density[1]'],
    ['a density that is not finite', { density: [1, 2, Infinity] }, 'not-finite', 'density[2]'],
    ['a density beyond every integral', { density: [1, 2, 1e250] }, 'out-of-range', 'density[2]'],
    ['a missing density', { density: [1, 2] }, 'dimension-mismatch', 'density'],
    ['both densities', { amplitudeDensity: [1, 2, 3] }, 'invalid-option', ''],
    ['neither density', { density: undefined }, 'invalid-option', ''],
    ['an unknown quantity', { quantity: 'mm/s' }, 'invalid-option', 'quantity'],
    ['an unknown option', { unit: 'g' }, 'invalid-option', 'unit'],
    ['an unknown support', { support: 'bins' }, 'invalid-option', 'support'],
    ['lines on an unequal grid', { frequency: [1, 2, 4], support: 'lines' }, 'invalid-option', 'support'],
    ['a single line', { frequency: [1], density: [1], support: 'lines' }, 'invalid-option', 'support'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => spectrum({ ...table, ...options } as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'spectrum'])
  })
})

describe('a spectrum written by hand', () => {
  it('is taken without kind and support by every function', () => {
    expect(rms(table)).toBe(rms(spectrum(table)))
    expect(convertSpectrum(table, { to: 'velocity' })).toEqual(spectrum(table))
  })

  it.each([
    ['a wrong kind', { kind: 'Bands' }, 'invalid-option', 'spectrum.kind'],
    ['a negative density', { density: [1, 2, -3] }, 'out-of-range', 'spectrum.density[2]'],
    ['an unknown key', { psd: [1] }, 'invalid-option', 'spectrum.psd'],
    ['an unknown window', { window: 'kaiser' }, 'invalid-option', 'spectrum.window'],
    ['half an average', { averages: 1.5 }, 'out-of-range', 'spectrum.averages'],
    ['an amplitude density', { amplitudeDensity: [1, 2, 3] }, 'invalid-option', 'spectrum.amplitudeDensity'],
  ])('is refused with %s', (_, change, code, path) => {
    for (const call of [
      (given: never) => rms(given),
      (given: never) => convertSpectrum(given, { to: 'velocity' }),
      (given: never) => oneThirdOctaveBands(given, { from: 1, to: 1 }),
    ]) {
      const error = refusal(() => call({ ...table, ...change } as never))
      expect([error.code, error.details.path]).toEqual([code, path])
    }
  })
})

describe('convertSpectrum', () => {
  const floor: SpectrumLiteral = { quantity: 'acceleration', frequency: [1, 4, 16], density: [1, 1, 1] }

  it('divides by (2πf)² per integration', () => {
    // computed from the closed form: 0.30 µg/√Hz white in acceleration gives band velocities of 0.225, 0.113 and 0.0565 µm/s
    const amplitude = 0.3e-6 * 9.80665
    const white = spectrum({ quantity: 'acceleration', frequency: [0.5, 20], amplitudeDensity: [amplitude, amplitude] })
    const velocity = convertSpectrum(white, { to: 'velocity' })
    const level = (nominal: number) =>
      oneThirdOctaveBands(velocity, { from: nominal, to: nominal }).bands[0]?.rms as number
    // The sources print three digits.
    expect(level(1)).toBeCloseTo(0.225e-6, 9)
    expect(level(4)).toBeCloseTo(0.113e-6, 9)
    expect(level(16)).toBeCloseTo(0.0565e-6, 10)
  })

  it('goes both ways, over one and two steps', () => {
    for (const quantity of ['displacement', 'velocity', 'acceleration'] as const) {
      const there = convertSpectrum(floor, { to: quantity })
      expect(there.quantity).toBe(quantity)
      const back = convertSpectrum(there, { to: 'acceleration' })
      back.density.forEach((value) => {
        expect(value).toBeCloseTo(1, 14)
      })
    }
    // computed from the closed form (2π·4)⁻⁴
    expect(convertSpectrum(floor, { to: 'displacement' }).density[1]).toBeCloseTo(2.506343323897543e-6, 18)
  })

  it('drops the entry at 0 Hz only where it would divide by it', () => {
    const lines = { quantity: 'velocity', frequency: [0, 1, 2, 3], density: [5, 1, 1, 1] } as const
    const down = convertSpectrum(lines, { to: 'displacement' })
    expect(Array.from(down.frequency)).toEqual([1, 2, 3])
    expect(down.support).toBe('lines')
    expect(convertSpectrum(lines, { to: 'acceleration' }).density[0]).toBe(0)
    expect(convertSpectrum(lines, { to: 'velocity' }).density[0]).toBe(5)
  })

  it.each([
    ['a spectrum of force', { quantity: 'force' }, 'velocity', 'unsupported', 'spectrum.quantity'],
    ['an unspecified one', { quantity: 'unspecified' }, 'velocity', 'unsupported', 'spectrum.quantity'],
    ['an unknown target', {}, 'jerk', 'invalid-option', 'to'],
    ['a force as target', {}, 'force', 'invalid-option', 'to'],
    ['nothing but 0 Hz', { frequency: [0], density: [1] }, 'velocity', 'out-of-range', 'spectrum.frequency'],
    ['a result beyond numbers', { frequency: [1e-90, 1, 2] }, 'displacement', 'out-of-range', 'spectrum.density[0]'],
  ])('refuses %s', (_, change, to, code, path) => {
    const error = refusal(() => convertSpectrum({ ...floor, ...change } as never, { to } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
