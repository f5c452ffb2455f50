import { describe, expect, it } from 'vitest'
import { expectedPeak, welch } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

describe('expectedPeak of 4 µm/s rms near 10 Hz, held for a minute', () => {
  // Eng-Tips 247589 "RMS in vibration analysis": 600 cycles; exact for 600 Rayleigh cycles 3.72 σ = 14.88 µm/s, for a meter that
  // takes both signs 3.90 σ = 15.61 µm/s
  const meter = { rms: 4e-6, frequency: 10, duration: 60 } as const

  it('is 14.88 µm/s for one sign and 15.61 µm/s for both', () => {
    const one = expectedPeak({ ...meter, sign: 'one' })
    expect(one.peakFactor).toBeCloseTo(3.72, 2)
    expect(one.peak * 1e6).toBeCloseTo(14.88, 2)
    expect(one.cycles).toBe(600)
    const both = expectedPeak(meter)
    expect(both.peakFactor).toBeCloseTo(3.9, 2)
    expect(both.peak * 1e6).toBeCloseTo(15.61, 2)
  })

  it('has bounds, so that a reading of 15 µm/s is no surprise', () => {
    // computed from the closed form √(2 ln(N/−ln p)), N = 1200, p = 0.05 and 0.95: 3.46205 and 4.48559
    const { lower, upper } = expectedPeak(meter)
    expect(lower * 1e6).toBeCloseTo(13.848, 3)
    expect(upper * 1e6).toBeCloseTo(17.942, 3)
  })

  it('grows with the time it is held, to the asymptote', () => {
    // √(2 ln N) + 0.5772/√(2 ln N) at N = 1e6 (S. O. Rice 1945; A. G. Davenport 1964): 5.36633, the integral 5.36009
    expect(expectedPeak({ rms: 1, frequency: 10, duration: 1e5, sign: 'one' }).peak).toBeCloseTo(5.36009, 5)
  })
})

describe('expectedPeak of a spectrum', () => {
  it('takes rms and zero crossings from its moments', () => {
    // Flat from 8.912509 to 11.220185 Hz: ν₀ = √((b³ − a³)/(3(b − a))), computed from the closed form; 1e-12·2.307676 (m/s)²
    const flat = { quantity: 'velocity', frequency: [1, 100], density: [1e-12, 1e-12] } as const
    const { rms, frequency } = expectedPeak({ spectrum: flat, from: 8.9125093813, to: 11.220184543, duration: 60 })
    expect(rms * 1e6).toBeCloseTo(1.519103, 6)
    expect(frequency).toBeCloseTo(10.088366, 6)
  })

  it('finds a tone between its lines', () => {
    const samples = Array.from({ length: 4096 }, (_, n) => Math.sin((2 * Math.PI * n) / 8))
    const density = welch({ samples, sampleRate: 80, segmentLength: 512 })
    const { rms, frequency } = expectedPeak({ spectrum: density, duration: 10 })
    expect(rms).toBeCloseTo(Math.SQRT1_2, 6)
    // The window spreads the tone over three lines of 0.156 Hz: √(10² + 0.156²/3) = 10.0004 Hz (closed form).
    expect(frequency).toBeCloseTo(10, 2)
  })

  it.each([
    ['fewer than ten cycles', { rms: 1, frequency: 10, duration: 0.9 }, 'out-of-range', 'duration'],
    ['nothing to go by', { duration: 60 }, 'invalid-option', 'rms'],
    ['limits without spectrum', { rms: 1, frequency: 10, duration: 60, to: 20 }, 'invalid-option', 'to'],
    ['both', { rms: 1, spectrum: flatOne(), duration: 60 }, 'invalid-option', 'rms'],
    ['silence', { spectrum: { ...flatOne(), density: [0, 0] }, duration: 60 }, 'out-of-range', 'spectrum'],
    ['limits that are not covered', { spectrum: flatOne(), duration: 60, to: 200 }, 'out-of-range', 'to'],
    ['limits in reverse', { spectrum: flatOne(), duration: 60, from: 20, to: 10 }, 'out-of-range', 'to'],
    ['an unknown sign', { rms: 1, frequency: 10, duration: 60, sign: 'both' }, 'invalid-option', 'sign'],
    ['an unknown option', { rms: 1, frequency: 10, time: 60 }, 'invalid-option', 'time'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => expectedPeak(options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

function flatOne() {
  return { quantity: 'velocity', frequency: [1, 100], density: [1, 1] } as const
}
