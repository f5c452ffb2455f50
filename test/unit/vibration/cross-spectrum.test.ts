import { describe, expect, it } from 'vitest'
import { crossSpectrum, transferEstimate, welch } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const noise = (length: number, seed: number) => {
  let state = seed
  return Float64Array.from({ length }, () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return state / 2 ** 31 - 1
  })
}

describe('crossSpectrum', () => {
  it('has a negative phase where y lags x: a delay of three samples turns by −2π·f·3/f_s', () => {
    const x = noise(20000, 3)
    const y = Float64Array.from(x, (_, n) => (n < 3 ? 0 : (x[n - 3] as number)))
    const { frequency, re, im } = crossSpectrum({ x, y, sampleRate: 100, segmentLength: 100 })
    for (const k of [2, 5, 10]) {
      // Closed form −2π·f·0.03 s; the window of a segment moves by three of 100 samples.
      const expected = -2 * Math.PI * (frequency[k] as number) * 0.03
      expect(Math.atan2(im[k] as number, re[k] as number)).toBeCloseTo(expected, 1)
    }
  })

  it('holds the densities of welch and the ratio of transferEstimate', () => {
    const options = { sampleRate: 10, segmentLength: 37, window: 'nuttall', overlap: 0.6 } as const
    const [x, y] = [noise(500, 1), noise(500, 2)]
    const cross = crossSpectrum({ x, y, ...options })
    const density = welch({ samples: y, ...options }).density
    const estimate = transferEstimate({ input: x, output: y, ...options })
    cross.yDensity.forEach((value, k) => {
      expect(value).toBeCloseTo(density[k] as number, 14)
      expect((cross.im[k] as number) / (cross.xDensity[k] as number)).toBeCloseTo(estimate.im[k] as number, 12)
    })
  })

  it('of independent records has a coherence of about one over the averages', () => {
    const { coherence, averages } = crossSpectrum({
      x: noise(51200, 11),
      y: noise(51200, 12345),
      sampleRate: 1,
      segmentLength: 512,
      overlap: 0,
    })
    // J. S. Bendat, A. G. Piersol, Random Data, chapter 9 (from memory): bias 1/n = 0.01 for n = 100.
    expect(averages).toBe(100)
    const inner = coherence.slice(1, -1)
    expect(inner.reduce((sum, value) => sum + value, 0) / inner.length).toBeCloseTo(0.01, 2)
    expect(inner.reduce((sum, value) => sum + value, 0) / inner.length).toBeGreaterThan(0.008)
  })

  it('has coherence 0 where a record is silent', () => {
    const cross = crossSpectrum({ x: noise(64, 1), y: new Float64Array(64), sampleRate: 1, segmentLength: 16 })
    expect(Array.from(cross.coherence)).toEqual(Array.from({ length: 9 }, () => 0))
  })

  it.each([
    ['records of different length', { x: [1, 2, 3], y: [1, 2], sampleRate: 1 }, 'dimension-mismatch', 'y'],
    ['NaN', { x: [1, 2, 3], y: [1, Number.NaN, 2], sampleRate: 1 }, 'not-finite', 'y[1]'],
    [
      'a segment longer than the record',
      { x: [1, 2], y: [1, 2], sampleRate: 1, segmentLength: 3 },
      'out-of-range',
      'segmentLength',
    ],
    ['an unknown key', { x: [1], y: [1], sampleRate: 1, input: [] }, 'invalid-option', 'input'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => crossSpectrum(options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
