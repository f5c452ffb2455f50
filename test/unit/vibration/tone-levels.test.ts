import { describe, expect, it } from 'vitest'
import { rms, toneLevels, welch } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

// The 29.3 Hz line of a pump, 2 µm/s rms, sampled at 1 kHz.
const pump = Array.from({ length: 65536 }, (_, n) => 2e-6 * Math.SQRT2 * Math.sin((2 * Math.PI * 29.3 * n) / 1000))
const density = (segmentLength: number, more = {}) =>
  welch({ samples: pump, sampleRate: 1000, segmentLength, quantity: 'velocity', ...more })
const largest = (list: Float64Array) => Math.max(...list)

describe('a tone of 2 µm/s rms at 29.3 Hz', () => {
  it('has a density that grows with the segment: A²/(1.5·df) where it lies on a line', () => {
    // dsp.stackexchange 93576, differences in PSD for windowed and non-windowed spectra; computed from the closed form
    // A_rms²/(1.5·df): 2.731e-12 and 2.183e-11 (m/s)²/Hz for 1024 and 8192 samples. 29.3 Hz lies 0.0032 lines off line 30
    // and 0.026 lines off line 240, which costs less than 1e-3.
    expect(largest(density(1024).density) / 2.731e-12).toBeCloseTo(1, 3)
    expect(largest(density(8192).density) / 2.183e-11).toBeCloseTo(1, 3)
  })

  it('has the same level in power scaling and in the area under its peak', () => {
    for (const segmentLength of [1024, 8192]) {
      expect(largest(toneLevels(density(segmentLength))) / 2e-6).toBeCloseTo(1, 3)
      // The record is not a whole number of periods: the area is right to some 1e-4.
      expect(rms(density(segmentLength), { from: 20, to: 40 }) * 1e6).toBeCloseTo(2, 3)
    }
  })

  it('is read within 0.01 dB wherever it lies with a flat top, and 1.42 dB low between two lines with Hann', () => {
    // Scalloping: G. Heinzel, A. Rüdiger, R. Schilling, MPI 2002, appendix C: Hann −1.4236 dB, HFT95 −0.0039 dB.
    const between = Array.from({ length: 40000 }, (_, n) => Math.SQRT2 * Math.sin((2 * Math.PI * 20.5 * n) / 1000))
    const level = (window: 'hann' | 'hft95') =>
      20 * Math.log10(largest(toneLevels(welch({ samples: between, sampleRate: 1000, segmentLength: 1000, window }))))
    expect(level('hann')).toBeCloseTo(-1.4236, 3)
    expect(Math.abs(level('hft95'))).toBeLessThan(0.01)
  })

  it('and noise keeps its density, whatever the segment, while its tone level falls', () => {
    let state = 9
    const samples = Array.from({ length: 65536 }, () => {
      state = (1664525 * state + 1013904223) % 2 ** 32
      return state / 2 ** 31 - 1
    })
    const mean = (list: Float64Array) => list.reduce((sum, value) => sum + value, 0) / list.length
    for (const segmentLength of [512, 4096]) {
      const noise = welch({ samples, sampleRate: 1000, segmentLength })
      // White in (−1, 1): variance 1/3 over 500 Hz (closed form); the mean over all lines errs by 1/√(65536/2).
      expect(mean(noise.density) * 1500).toBeCloseTo(1, 1)
      const spacing = 1000 / segmentLength
      expect(mean(toneLevels(noise).map((value) => value ** 2)) * 1500).toBeCloseTo(1.5 * spacing, 1)
    }
  })

  it('needs to know the window', () => {
    const spectrum = { quantity: 'velocity', frequency: [0, 1, 2], density: [1, 1, 1] } as const
    expect(refusal(() => toneLevels(spectrum)).code).toBe('unsupported')
    expect(refusal(() => toneLevels({ ...spectrum, support: 'points', noiseBandwidth: 1 })).code).toBe('unsupported')
    expect(Array.from(toneLevels({ ...spectrum, noiseBandwidth: 4 }))).toEqual([2, 2, 2])
  })
})
