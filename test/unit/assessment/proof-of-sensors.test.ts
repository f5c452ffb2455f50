import { describe, expect, it } from 'vitest'
import { sideBySideNoise, smallestTransmissibility } from '../../../src/assessment/index.js'
import { spectrum, transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { gaussian } from './invented-records.js'

const flat = (density: number, quantity: 'velocity' | 'acceleration' = 'velocity') =>
  spectrum({ quantity, frequency: [1, 100], density: [density, density] })

describe('smallestTransmissibility', () => {
  const test = { floor: flat(1e-12), payloadSensorNoise: flat(1e-16), averages: 100 }

  it('is the one that makes the coherence significant', () => {
    // γ₀² = 1 − 0.05^(1/99) = 0.0298067; T² = γ₀²/(1 − γ₀²)·1e-4 (closed form)
    const { transmissibility, significantCoherence } = smallestTransmissibility(test)
    expect(significantCoherence).toBeCloseTo(0.0298067, 7)
    expect(transmissibility[0]).toBeCloseTo(1.7528e-3, 7)
  })

  it('grows with noise on the floor sensor, up to where nothing is coherent', () => {
    // T² = γ₀²·1.5·1e-4/(1 − 1.5·γ₀²) for noise of half the floor (closed form)
    const noisy = smallestTransmissibility({ ...test, floorSensorNoise: flat(0.5e-12) })
    expect(noisy.transmissibility[0]).toBeCloseTo(2.1634e-3, 7)
    expect(smallestTransmissibility({ ...test, floorSensorNoise: flat(1e-10) }).transmissibility[0]).toBe(Infinity)
  })

  it('is what an estimate of a payload at rest stays below, in 95 lines out of 100', () => {
    // 127 records of unrelated noise in 1024 lines: share above the bound 5 ± 1.4 %, twice the standard deviation
    const next = gaussian(5)
    const record = (size: number) => Float64Array.from({ length: 32_768 }, () => size * next())
    const estimate = transferEstimate({
      input: record(1),
      output: record(0.01),
      sampleRate: 200,
      segmentLength: 512,
      overlap: 0,
    })
    const { transmissibility } = smallestTransmissibility({
      floor: flat(1),
      payloadSensorNoise: flat(1e-4),
      averages: estimate.effectiveAverages,
    })
    const bound = transmissibility[0] as number
    const above = estimate.frequency.filter(
      (_, k) => Math.hypot(estimate.re[k] as number, estimate.im[k] as number) > bound,
    )
    expect(above.length / estimate.frequency.length).toBeGreaterThan(0.015)
    expect(above.length / estimate.frequency.length).toBeLessThan(0.095)
  })

  it('covers only what all spectra cover', () => {
    const narrow = spectrum({ quantity: 'velocity', frequency: [5, 50], density: [1e-16, 1e-16] })
    const floor = spectrum({ quantity: 'velocity', frequency: [1, 10, 100], density: [1, 1, 1] })
    expect([...smallestTransmissibility({ ...test, floor, payloadSensorNoise: narrow }).frequency]).toEqual([10])
  })

  it.each([
    [
      'noise of another quantity',
      { payloadSensorNoise: flat(1, 'acceleration') },
      'invalid-option',
      'payloadSensorNoise.quantity',
    ],
    [
      'nothing in common',
      { floor: spectrum({ quantity: 'velocity', frequency: [200, 300], density: [1, 1] }) },
      'out-of-range',
      'floor',
    ],
    ['a single average', { averages: 1 }, 'out-of-range', 'averages'],
    ['an unknown option', { noise: 1 }, 'invalid-option', 'noise'],
  ])('refuses %s', (_, change, code, path) => {
    const error = refusal(() => smallestTransmissibility({ ...test, ...change } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('sideBySideNoise', () => {
  const sampleRate = 200
  const count = 65_536
  const next = gaussian(9)
  const motion = Float64Array.from({ length: count }, () => next())
  const read = (gain: number, noise: number) => motion.map((value) => gain * (value + noise * next()))
  const mean = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0) / list.length
  /** One-sided density of white noise of unit variance: 2/f_s */
  const unit = 2 / sampleRate

  it('finds the noise of like sensors, ten times below the motion', () => {
    const result = sideBySideNoise({
      first: read(1, 0.1),
      second: read(1, 0.1),
      sampleRate,
      segmentLength: 512,
      quantity: 'velocity',
    })
    // noise density 0.01·2/f_s; the mean of 257 lines is good to a few per cent
    expect(mean(result.first.density) / (0.01 * unit)).toBeCloseTo(1, 1)
    expect(mean(result.second.density) / (0.01 * unit)).toBeCloseTo(1, 1)
    expect([result.first.kind, result.first.quantity]).toEqual(['Spectrum', 'velocity'])
    expect(mean(result.ratio)).toBeCloseTo(1, 1)
  })

  it('scatters by its stated error', () => {
    const { first, relativeError } = sideBySideNoise({
      first: read(1, 0.1),
      second: read(1, 0.1),
      sampleRate,
      segmentLength: 512,
    })
    const lines = first.density.subarray(2, 255)
    const average = mean(lines)
    const spread = Math.sqrt(mean(lines.map((value) => (value / average - 1) ** 2)))
    // about 253 half-independent lines: spread good to a tenth
    expect(spread / (relativeError[100] as number)).toBeGreaterThan(0.8)
    expect(spread / (relativeError[100] as number)).toBeLessThan(1.2)
  })

  it('holds for like sensors of different calibration, and shows that in the ratio', () => {
    const result = sideBySideNoise({ first: read(1, 0.1), second: read(0.74, 0.1), sampleRate, segmentLength: 512 })
    expect(mean(result.first.density) / (0.01 * unit)).toBeCloseTo(1, 1)
    expect(mean(result.second.density) / (0.01 * unit * 0.74 ** 2)).toBeCloseTo(1, 1)
    expect(mean(result.ratio)).toBeCloseTo(0.74, 2)
    expect(mean(result.coherence)).toBeGreaterThan(0.97)
  })

  it('takes unrelated records for noise altogether', () => {
    const other = Float64Array.from({ length: count }, () => next())
    const result = sideBySideNoise({ first: motion, second: other, sampleRate, segmentLength: 512 })
    expect(mean(result.first.density) / unit).toBeGreaterThan(0.9)
  })

  it('refuses what transferEstimate refuses', () => {
    expect(refusal(() => sideBySideNoise({ first: [1, 2], second: [1], sampleRate: 1 })).code).toBe(
      'dimension-mismatch',
    )
    expect(
      refusal(() => sideBySideNoise({ first: [1], second: [1], sampleRate: 1, input: 1 } as never)).details.path,
    ).toBe('input')
  })
})
