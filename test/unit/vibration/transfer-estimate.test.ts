import { describe, expect, it } from 'vitest'
import { transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const segment = Array.from({ length: 16 }, (_, n) => Math.sin(n * n) + 0.2)

/** Records of separate segments: the same shape in each, times a gain. */
const record = (gains: readonly number[]) => gains.flatMap((gain) => segment.map((value) => gain * value))
const separate = { sampleRate: 16, segmentLength: 16, overlap: 0, window: 'rectangular', detrend: 'none' } as const

describe('transferEstimate', () => {
  it('reads a delay as e^(−jωτ): Sxy = mean(conj(X)·Y)', () => {
    // A periodic record, delayed by one of 16 samples: −22.5° per line, gain 1 (closed form).
    const input = [...segment, ...segment]
    const output = input.map((_, n) => input[(n + 31) % 32] as number)
    const estimate = transferEstimate({ input, output, ...separate })
    expect(estimate.re[4]).toBeCloseTo(0, 12)
    expect(estimate.im[4]).toBeCloseTo(-1, 12)
    expect(estimate.coherence[4]).toBeCloseTo(1, 12)
  })

  it('is biased low by noise in the input, and the coherence falls with both noises', () => {
    // J. S. Bendat, A. G. Piersol, Random Data, chapter 6: H = 2, Gxx = 1, input noise 0.1, output noise 0.2 give
    // H1 = 1.818182 and coherence 0.86580087 (computed from the closed forms). The signs make the noises orthogonal.
    const input = record([1, 1, -1, -1].map((sign) => 1 + sign * Math.sqrt(0.1)))
    const output = record([1, -1, 1, -1].map((sign) => 2 + sign * Math.sqrt(0.2)))
    const estimate = transferEstimate({ input, output, ...separate })
    for (let k = 0; k < estimate.frequency.length; k++) {
      expect(estimate.re[k]).toBeCloseTo(1.818182, 6)
      expect(estimate.im[k]).toBeCloseTo(0, 12)
      expect(estimate.coherence[k]).toBeCloseTo(0.86580087, 8)
    }
  })

  // J. S. Bendat, A. G. Piersol, Random Data, chapter 9 (from memory), √(1 − γ²)/(γ √(2n)), computed from the closed form.
  it.each([
    [0.9, 100, 0.0235702],
    [0.5, 16, 0.176777],
    [0.5, 32, 0.125],
    [0.5, 64, 0.0883883],
    [0.5, 128, 0.0625],
    [0.9, 16, 0.0589256],
    [0.9, 32, 0.0416667],
    [0.9, 64, 0.0294628],
    [0.9, 128, 0.0208333],
    [0.99, 16, 0.0177667],
    [0.99, 32, 0.012563],
    [0.99, 64, 0.00888336],
    [0.99, 128, 0.00628149],
  ])('has the published random error for coherence %f and %i averages', (coherence, averages, expected) => {
    // Gains 1 ± d have coherence 1/(1 + d²).
    const d = Math.sqrt(1 / coherence - 1)
    const input = record(new Array(averages).fill(1))
    const output = record(Array.from({ length: averages }, (_, i) => 1 + (i % 2 === 0 ? d : -d)))
    const estimate = transferEstimate({ input, output, ...separate })
    expect(estimate.averages).toBe(averages)
    expect(estimate.coherence[3]).toBeCloseTo(coherence, 12)
    expect(Math.abs((estimate.randomError[3] as number) / expected - 1)).toBeLessThan(3e-6)
  })

  it('has the random error of independent averages where segments overlap', () => {
    // Two half-overlapping Hann segments: 1 + 2·(1 − 1/2)·(1/6)² = 1.027778 (P. D. Welch 1967, closed form)
    const input = Array.from({ length: 24 }, (_, n) => Math.sin(n * n))
    const estimate = transferEstimate({ input, output: input, sampleRate: 1, segmentLength: 16 })
    expect(2 / estimate.effectiveAverages).toBeCloseTo(1.027778, 6)
  })

  it('lists lines without input power and gives 0 there', () => {
    // One sine on line 3 of 16, removed mean, rectangular window: every other line is rounding.
    const input = Array.from({ length: 64 }, (_, n) => 100 + Math.sin((2 * Math.PI * 3 * n) / 16))
    const output = input.map((value, n) => 0.5 * value + Math.sin(n * n))
    const estimate = transferEstimate({ input, output, ...separate, detrend: 'mean' })
    expect(estimate.undefinedLines).toEqual([0, 1, 2, 4, 5, 6, 7, 8])
    for (const k of estimate.undefinedLines) {
      expect([estimate.re[k], estimate.im[k], estimate.coherence[k]]).toEqual([0, 0, 0])
      expect(estimate.randomError[k]).toBe(Infinity)
    }
    expect(estimate.frequency.length).toBe(9)
    expect(estimate.coherence[3]).toBeGreaterThan(0)
  })

  it('lists every line of an input that is zero, and none of an output that is', () => {
    const zero = new Float64Array(64)
    const noise = Array.from({ length: 64 }, (_, n) => Math.sin(n * n))
    const options = { sampleRate: 1, segmentLength: 15 }
    const all = Array.from({ length: 8 }, (_, k) => k)
    expect(transferEstimate({ input: zero, output: noise, ...options }).undefinedLines).toEqual(all)
    const silent = transferEstimate({ input: noise, output: zero, ...options })
    expect(silent.undefinedLines).toEqual([])
    expect([...silent.re, ...silent.im, ...silent.coherence].every((value) => value === 0)).toBe(true)
  })

  it('keeps its digits for an output far smaller than the input', () => {
    const input = Array.from({ length: 64 }, (_, n) => Math.sin(n * n))
    const output = input.map((value) => 1e-12 * value)
    const { re, coherence } = transferEstimate({ input, output, sampleRate: 1, segmentLength: 16 })
    for (const value of re) expect(value / 1e-12).toBeCloseTo(1, 12)
    for (const value of coherence) expect(value).toBeCloseTo(1, 12)
  })
})

describe('transferEstimate refuses', () => {
  const input = Array.from({ length: 32 }, (_, n) => Math.sin(n * n))

  it.each([
    ['records of different length', { output: input.slice(1) }, 'dimension-mismatch', 'output'],
    ['a single segment, whose coherence is always 1', { segmentLength: 32 }, 'out-of-range', 'segmentLength'],
    ['a gap in the output', { output: input.map((x, n) => (n === 5 ? Number.NaN : x)) }, 'not-finite', 'output[5]'],
    ['a missing output', { output: undefined }, 'invalid-option', 'output'],
    ['an option of welch only', { average: 'median' }, 'invalid-option', 'average'],
  ])('%s', (_, options, code, path) => {
    const error = refusal(() => transferEstimate({ input, output: input, sampleRate: 1, ...options } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
