import { describe, expect, it } from 'vitest'
import { type ChangeOptions, differentiate, integrate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const sine = (frequency: number, length: number, sampleRate: number, phase = 0) =>
  Float64Array.from({ length }, (_, n) => Math.sin((2 * Math.PI * frequency * n) / sampleRate + phase))
const largest = (list: Float64Array) => list.reduce((most, value) => Math.max(most, Math.abs(value)), 0)

describe('integrate', () => {
  it('in time adds trapezoids from 0: exact for a straight line', () => {
    // closed form ∫(3 + 2t)dt = 3t + t²
    const samples = Array.from({ length: 11 }, (_, n) => 3 + 2 * (n / 10))
    const { samples: sum, removed } = integrate({ samples, sampleRate: 10, detrend: 'none' })
    sum.forEach((value, n) => {
      expect(value).toBeCloseTo(3 * (n / 10) + (n / 10) ** 2, 14)
    })
    expect(removed).toEqual({ constant: 0, slope: 0 })
  })

  it('returns the trend it took out', () => {
    const samples = sine(2, 1000, 100).map((value, n) => value + 0.5 - 0.3 * (n / 100))
    const byMean = integrate({ samples, sampleRate: 100 })
    // mean of 0.5 − 0.3·t over 0 to 9.99 s: 0.5 − 0.3·4.995
    expect(byMean.removed?.constant).toBeCloseTo(-0.9985, 10)
    expect(byMean.removed?.slope).toBe(0)
    const byLine = integrate({ samples, sampleRate: 100, detrend: 'linear' })
    // The sine itself has a slope of −12/(2π·f·T²) = −0.0095 per s over ten seconds (closed form).
    expect(byLine.removed?.slope).toBeCloseTo(-0.3095, 3)
  })

  it('in time gives (πfT)/tan(πfT) of the amplitude, in frequency all of it', () => {
    // closed form of the trapezoid; 10 Hz at 100 Hz: 0.9669, and 1/(2π·10) = 0.0159155
    const samples = sine(10, 1000, 100, Math.PI / 2)
    const swing = (list: Float64Array) => (Math.max(...list) - Math.min(...list)) / 2
    const inTime = integrate({ samples, sampleRate: 100, detrend: 'none' }).samples
    const inFrequency = integrate({ samples, sampleRate: 100, method: 'frequency', band: [5, 15] }).samples
    // Crests of the sine fall up to a quarter of a sample beside the samples: compare mean squares instead.
    const meanSquare = (list: Float64Array) => list.reduce((sum, value) => sum + value * value, 0) / list.length
    expect(Math.sqrt(2 * meanSquare(inTime)) / 0.0159155).toBeCloseTo(0.9669, 4)
    expect(Math.sqrt(2 * meanSquare(inFrequency)) / 0.0159155).toBeCloseTo(1, 5)
    expect(swing(inFrequency)).toBeLessThanOrEqual(0.0159156)
  })

  it('with a high-pass leaves no drift of an offset, and half the power at the corner', () => {
    const samples = sine(0.5, 40000, 100).map((value) => value + 0.02)
    const drifting = integrate({ samples, sampleRate: 100, detrend: 'none' }).samples
    const held = integrate({ samples, sampleRate: 100, detrend: 'none', highPass: 0.5 }).samples
    // closed form: 0.02·400 s = 8 drifts away; amplitude 1/(2π·0.5)/√2 = 0.22508 behind the filter
    expect(drifting.at(-1)).toBeCloseTo(8, 1)
    const late = held.slice(20000)
    const mean = late.reduce((sum, value) => sum + value, 0) / late.length
    expect((Math.max(...late) - Math.min(...late)) / 2).toBeCloseTo(0.22508, 4)
    // The filter starts under the first sample; what the trapezoids gathered until it was at rest stays.
    expect(Math.abs(mean)).toBeLessThan(0.5)
  })

  it('knows what comes of what', () => {
    const options = { samples: [1, 2, 1], sampleRate: 1 } as const
    expect(integrate({ ...options, quantity: 'acceleration' }).quantity).toBe('velocity')
    expect(integrate({ ...options, quantity: 'velocity' }).quantity).toBe('displacement')
    expect(integrate(options).quantity).toBe('unspecified')
    expect(differentiate({ ...options, quantity: 'displacement' }).quantity).toBe('velocity')
    expect(differentiate({ ...options, quantity: 'velocity' }).quantity).toBe('acceleration')
    expect(refusal(() => integrate({ ...options, quantity: 'displacement' })).code).toBe('unsupported')
    expect(refusal(() => integrate({ ...options, quantity: 'force' })).code).toBe('unsupported')
    expect(refusal(() => differentiate({ ...options, quantity: 'acceleration' })).code).toBe('unsupported')
    expect(refusal(() => differentiate({ ...options, quantity: 'force' })).code).toBe('unsupported')
  })

  it.each([
    ['two samples', { samples: [1, 2] }, 'out-of-range', 'samples'],
    ['a band in time', { band: [1, 2] }, 'invalid-option', 'band'],
    ['no band in frequency', { method: 'frequency' }, 'invalid-option', 'band'],
    ['a band of one', { method: 'frequency', band: [1] }, 'invalid-option', 'band'],
    ['a band that descends', { method: 'frequency', band: [3, 2] }, 'out-of-range', 'band[1]'],
    ['a band from 0', { method: 'frequency', band: [0, 2] }, 'out-of-range', 'band[0]'],
    ['a high-pass in frequency', { method: 'frequency', band: [1, 2], highPass: 1 }, 'invalid-option', 'highPass'],
    ['a corner above half the rate', { highPass: 6 }, 'out-of-range', 'highPass'],
    ['an overflow', { samples: [1e308, -1e308, 1e308, 1e308] }, 'out-of-range', 'samples'],
    ['another word', { detrend: 'offset' }, 'invalid-option', 'detrend'],
    ['an unknown key', { order: 1 }, 'invalid-option', 'order'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => integrate({ samples: [1, 2, 3, 4], sampleRate: 10, ...options } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('differentiate', () => {
  it('in time is exact for a parabola, ends included', () => {
    // closed form d/dt(1 + 3t − 2t²) = 3 − 4t
    const samples = Array.from({ length: 9 }, (_, n) => 1 + 3 * (n / 4) - 2 * (n / 4) ** 2)
    const { samples: slope } = differentiate({ samples, sampleRate: 4 })
    slope.forEach((value, n) => {
      expect(value).toBeCloseTo(3 - n, 12)
    })
  })

  it('in frequency gives all of a sine within the band and nothing outside', () => {
    const options: ChangeOptions = { samples: sine(10, 1000, 100), sampleRate: 100, method: 'frequency', band: [5, 15] }
    differentiate(options).samples.forEach((value, n) => {
      expect(value / (20 * Math.PI)).toBeCloseTo(Math.cos(0.2 * Math.PI * n), 10)
    })
    expect(largest(differentiate({ ...options, band: [11, 15] }).samples)).toBeLessThan(1e-9)
  })

  it('takes integration back, in frequency, for any length', () => {
    for (const length of [64, 97, 1000]) {
      const samples = sine(0.13, length, 1)
      const options = { sampleRate: 1, method: 'frequency', band: [0.05, 0.45] } as const
      const there = integrate({ samples, ...options, detrend: 'none' })
      const back = differentiate({ samples: there.samples, ...options })
      const again = integrate({ samples: back.samples, ...options, detrend: 'none' })
      again.samples.forEach((value, n) => {
        expect(value).toBeCloseTo(there.samples[n] as number, 11)
      })
    }
  })
})
