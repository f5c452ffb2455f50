import { describe, expect, it } from 'vitest'
import { averagesNeeded, resolutionBias, transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const segment = Array.from({ length: 16 }, (_, n) => Math.sin(n * n) + 0.2)
const record = (gains: readonly number[]) => gains.flatMap((gain) => segment.map((value) => gain * value))
const separate = { sampleRate: 16, segmentLength: 16, overlap: 0, window: 'rectangular', detrend: 'none' } as const

describe('transferEstimate', () => {
  it('has H2, which noise in the output biases high, and H1/H2 is the coherence', () => {
    // J. S. Bendat, A. G. Piersol, Random Data, chapter 6: H = 2, Gxx = 1, input noise 0.1, output noise 0.2 give
    // H1 = 1.818182, H2 = 2.1 and coherence 0.86580087 (computed from the closed forms)
    const input = record([1, 1, -1, -1].map((sign) => 1 + sign * Math.sqrt(0.1)))
    const output = record([1, -1, 1, -1].map((sign) => 2 + sign * Math.sqrt(0.2)))
    const { re, h2, coherence } = transferEstimate({ input, output, ...separate })
    expect(h2[3]).toBeCloseTo(2.1, 12)
    expect((re[3] as number) / (h2[3] as number)).toBeCloseTo(0.86580087, 8)
    expect(coherence[3]).toBeCloseTo(0.86580087, 8)
  })

  it('has the published errors of the coherence', () => {
    // J. S. Bendat, A. G. Piersol, Random Data, chapter 9 (from memory): coherence 0.9 and 100 averages give a relative error
    // of the coherence of 0.0149071; bias (1 − 0.9)²/100
    const d = Math.sqrt(1 / 0.9 - 1)
    const input = record(new Array(100).fill(1))
    const output = record(Array.from({ length: 100 }, (_, i) => 1 + (i % 2 === 0 ? d : -d)))
    const estimate = transferEstimate({ input, output, ...separate })
    expect((estimate.coherenceError[3] as number) / 0.9).toBeCloseTo(0.0149071, 7)
    expect(estimate.coherenceBias[3]).toBeCloseTo(1e-4, 12)
  })

  // J. S. Bendat, A. G. Piersol, Random Data, chapter 9 (from memory), 1 − 0.05^(1/(n − 1)), computed from the closed form
  it.each([
    [16, 0.181036],
    [32, 0.0921141],
    [64, 0.0464385],
    [100, 0.0298067],
  ])('has the coherence that %i averages of unrelated records exceed once in twenty lines', (averages, expected) => {
    const input = record(Array.from({ length: averages }, (_, i) => 1 + Math.sin(i)))
    const estimate = transferEstimate({ input, output: input, ...separate })
    expect(estimate.significantCoherence).toBeCloseTo(expected, 6)
  })

  it('has an infinite H2 where nothing is coherent', () => {
    const input = record([1, 1])
    expect(transferEstimate({ input, output: input.map(() => 0), ...separate }).h2[3]).toBe(Infinity)
    // orthogonal to rounding only
    const estimate = transferEstimate({ input, output: record([1, -1]), ...separate })
    expect(estimate.coherence[3]).toBeLessThan(1e-30)
    expect(estimate.h2[3]).toBeGreaterThan(1e15)
  })
})

describe('averagesNeeded', () => {
  // The same table of random errors, read backwards
  it.each([
    [0.9, 0.0235703, 100],
    [0.5, 0.1767768, 16],
    [0.9, 0.0208334, 128],
    [0.99, 0.00888337, 64],
    [1, 0.01, 2],
  ])('for coherence %f and an error of %f', (coherence, relativeError, expected) => {
    expect(averagesNeeded({ coherence, relativeError })).toBe(expected)
  })

  it('refuses what no number of averages gives', () => {
    expect(refusal(() => averagesNeeded({ coherence: 0, relativeError: 0.1 })).details.path).toBe('coherence')
    expect(refusal(() => averagesNeeded({ coherence: 0.5, relativeError: 0 })).details.path).toBe('relativeError')
  })
})

describe('resolutionBias', () => {
  it('tends to −(4/3)/(B_r·T)² for narrow Hann lines', () => {
    // Second moment of |W|², 1/(3T²), computed from the closed form; B_r = 2ζf0 = 0.2 Hz, T = 400 s
    const bias = resolutionBias({ naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 400 })
    expect(bias / -2.0833e-4).toBeCloseTo(1, 1)
  })

  it('is what numerical integration gives', () => {
    // Python mpmath 1.3: quad of λ·e^(−λτ) times the closed form of the Hann autocorrelation, minus 1; λT = 8π, π/2
    expect(resolutionBias({ naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 40 })).toBeCloseTo(-0.0196996, 5)
    expect(resolutionBias({ naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 2.5 })).toBeCloseTo(-0.6115238, 5)
  })

  it('is 1/λT for a rectangular window and lines far narrower than the resonance', () => {
    // a = 1 − τ/T: (1 − e^(−λT))/λT, λT = 8π (closed form): 0.0397887
    const options = { naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 40, window: 'rectangular' } as const
    expect(resolutionBias(options)).toBeCloseTo(-0.0397887, 6)
  })

  it('never leaves −1 to 0', () => {
    const at = (segmentDuration: number) => resolutionBias({ naturalFrequency: 1, dampingRatio: 0.1, segmentDuration })
    expect(at(1e-9)).toBeCloseTo(-1, 6)
    expect(at(1e9)).toBeCloseTo(0, 6)
    expect(refusal(() => at(0)).details.path).toBe('segmentDuration')
  })
})
