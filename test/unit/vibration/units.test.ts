import { describe, expect, it } from 'vitest'
import { decibelsToValue, oneThirdOctaveBands, spectrum, units, valueToDecibels } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

describe('three site reports in three units', () => {
  // ucum-org/ucum#98 (unit of amplitude densities), rodralez/NaveGo#139 (root-PSD called PSD), Eomys/SciDataTool#22 (decibels);
  // values computed from the closed forms
  it('250 micro-inch/s are 6.35 µm/s', () => {
    expect(250 * units.microinchPerSecond).toBeCloseTo(6.35e-6, 18)
  })

  it('0.30 µg/√Hz are 0.225, 0.113 and 0.0565 µm/s rms in the 1, 4 and 16 Hz bands', () => {
    const level = 0.3 * units.microgravity
    expect(level * 1e6).toBeCloseTo(2.942, 3)
    const noise = spectrum({ quantity: 'acceleration', frequency: [0.5, 50], amplitudeDensity: [level, level] })
    const velocity = spectrum({
      quantity: 'velocity',
      frequency: noise.frequency,
      density: noise.density.map((value, k) => value / (2 * Math.PI * (noise.frequency[k] as number)) ** 2),
    })
    const { bands } = oneThirdOctaveBands(velocity, { from: 1, to: 16 })
    const rms = (nominal: number) => (bands.find((band) => band.nominal === nominal)?.rms ?? 0) * 1e6
    expect(rms(1)).toBeCloseTo(0.225, 3)
    expect(rms(4)).toBeCloseTo(0.113, 3)
    expect(rms(16)).toBeCloseTo(0.0565, 4)
  })

  it('74 dB re 1 nm/s and 40 dB re 50 nm/s are the same level, 5 µm/s', () => {
    expect(decibelsToValue({ decibels: 74, reference: 1e-9 }) * 1e6).toBeCloseTo(5.012, 3)
    expect(decibelsToValue({ decibels: 40, reference: 50e-9 }) * 1e6).toBeCloseTo(5, 12)
  })

  it('3.12 µm/s are 69.88 dB re 1 nm/s, 3.125 µm/s 69.90 dB', () => {
    expect(valueToDecibels({ value: 3.12e-6, reference: 1e-9 })).toBeCloseTo(69.88, 2)
    expect(valueToDecibels({ value: 3.125e-6, reference: 1e-9 })).toBeCloseTo(69.9, 2)
  })
})

describe('levels', () => {
  it('of a power are ten logarithms, of an amplitude twenty', () => {
    expect(decibelsToValue({ decibels: -166.4, reference: 1, of: 'power' })).toBeCloseTo(10 ** -16.64, 30)
    expect(valueToDecibels({ value: 1e-12, reference: 1, of: 'power' })).toBeCloseTo(-120, 12)
    expect(valueToDecibels({ value: 1e-6, reference: 1, of: 'amplitude' })).toBeCloseTo(-120, 12)
  })

  it.each([
    ['no reference', () => decibelsToValue({ decibels: 1 } as never), 'invalid-option', 'reference'],
    ['a reference of 0', () => valueToDecibels({ value: 1, reference: 0 }), 'out-of-range', 'reference'],
    ['a value of 0', () => valueToDecibels({ value: 0, reference: 1 }), 'out-of-range', 'value'],
    ['an overflow', () => decibelsToValue({ decibels: 6000, reference: 1e10 }), 'out-of-range', 'decibels'],
    ['another word', () => valueToDecibels({ value: 1, reference: 1, of: 'level' as never }), 'invalid-option', 'of'],
  ])('refuse %s', (_, call, code, path) => {
    const error = refusal(call)
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('units', () => {
  it('are those of the standards', () => {
    // 1959 international inch 0.0254 m; standard gravity 9.80665 m/s²
    expect(units.inchPerSecond).toBe(0.0254)
    expect(units.microinchPerSecond).toBe(2.54e-8)
    expect(units.mil).toBe(2.54e-5)
    expect([units.gravity, units.milligravity, units.microgravity]).toEqual([9.80665, 9.80665e-3, 9.80665e-6])
    expect([units.gal, units.millimetrePerSecond, units.micrometrePerSecond]).toEqual([0.01, 0.001, 1e-6])
    expect([units.micrometre, units.nanometre]).toEqual([1e-6, 1e-9])
  })
})
