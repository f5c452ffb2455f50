import { describe, expect, it } from 'vitest'
import { rms, type Spectrum, toneLevels, welch } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const sine = (amplitude: number, lines: number, length: number) =>
  Float64Array.from({ length }, (_, n) => amplitude * Math.sin((2 * Math.PI * lines * n) / 1024))

/** Repeatable numbers in (−1, 1): a linear congruential recursion. */
function noise(length: number, seed = 1): Float64Array {
  let state = seed
  return Float64Array.from({ length }, () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return state / 2 ** 31 - 1
  })
}

const at = (spectrum: Spectrum, k: number): number => spectrum.density[k] as number

describe('welch', () => {
  it('scales a sine on a line: peak density A²/(2·1.5), area A²/2', () => {
    // G. Heinzel, A. Rüdiger, R. Schilling, Spectrum and spectral density estimation by the DFT, MPI 2002, section 9:
    // A = 3, Hann, f_s = N = 1024 (computed from the closed form)
    const density = welch({ samples: sine(3, 100, 1024), sampleRate: 1024, segmentLength: 1024 })
    expect(at(density, 100)).toBeCloseTo(3, 12)
    expect(density.density.reduce((sum, value) => sum + value, 0)).toBeCloseTo(4.5, 11)
    expect(density.noiseBandwidth).toBeCloseTo(1.5, 12)
    // as a power spectrum A²/2 = 4.5, S1 and S2 apart by the noise bandwidth
    expect((toneLevels(density)[100] as number) ** 2).toBeCloseTo(4.5, 12)
  })

  it('gives a tone between lines the same area whatever the segment: 2 µm/s rms at 29.3 Hz', () => {
    // computed from the closed form A²/2; the peak of the density depends on the segment, the area does not
    const samples = Array.from(
      { length: 65536 },
      (_, n) => 2e-6 * Math.SQRT2 * Math.sin((2 * Math.PI * 29.3 * n) / 1000),
    )
    for (const segmentLength of [1024, 8192]) {
      const density = welch({ samples, sampleRate: 1000, segmentLength, quantity: 'velocity' })
      // The window leaves a few 1e-5 of the power outside of this range and the record is not a whole number of periods.
      expect(rms(density, { from: 20, to: 40 }) / 2e-6).toBeCloseTo(1, 3)
    }
  })

  it('doubles neither 0 Hz nor, for an even segment, half the sample rate', () => {
    // A constant of 3 and an alternation of ±2 hold 9 and 4; without window the lines are 1 Hz wide.
    const samples = Array.from({ length: 16 }, (_, n) => 3 + 2 * (-1) ** n)
    const density = welch({ samples, sampleRate: 8, segmentLength: 8, window: 'rectangular', detrend: 'none' })
    expect(Array.from(density.density)).toEqual([9, 0, 0, 0, 4])
  })

  it('doubles the last line of an odd segment', () => {
    // A sine on line 2 of 5 with amplitude 1 holds 1/2 (closed form A²/2).
    const samples = Array.from({ length: 10 }, (_, n) => Math.sin((2 * Math.PI * 2 * n) / 5))
    const density = welch({ samples, sampleRate: 5, segmentLength: 5, window: 'rectangular' })
    expect(Array.from(density.frequency)).toEqual([0, 1, 2])
    expect(at(density, 2)).toBeCloseTo(0.5, 14)
  })

  it('removes a straight line with detrend linear, and only a constant with mean', () => {
    const samples = Array.from({ length: 64 }, (_, n) => 5 - 0.25 * n)
    const options = { samples, sampleRate: 1, segmentLength: 16 } as const
    expect(rms(welch({ ...options, detrend: 'linear' }))).toBeLessThan(1e-14)
    expect(rms(welch({ ...options, detrend: 'mean', window: 'rectangular' }))).toBeCloseTo(1.1524430571616109, 12)
    // computed from the closed form 0.25·√((16² − 1)/12)
  })

  it('cuts segments from 0, one hop apart, and leaves the rest of the record out', () => {
    const samples = noise(100)
    const options = { sampleRate: 10, segmentLength: 32 } as const
    const whole = welch({ samples, ...options })
    expect(whole.averages).toBe(5)
    expect(welch({ samples: samples.slice(0, 96), ...options }).density).toEqual(whole.density)
    expect(welch({ samples, ...options, overlap: 0 }).averages).toBe(3)
    expect(welch({ samples, ...options, segmentLength: 30, overlap: 2 / 3 }).averages).toBe(8)
  })

  it('carries window, overlap in whole samples, averages and detrending', () => {
    const { window, overlap, averages, detrend, segmentLength, support, quantity } = welch({
      samples: noise(31),
      sampleRate: 10,
      segmentLength: 7,
    })
    expect({ window, detrend, averages, segmentLength, support, quantity }).toEqual({
      window: 'hann',
      detrend: 'mean',
      averages: 7,
      segmentLength: 7,
      support: 'lines',
      quantity: 'unspecified',
    })
    expect(overlap).toBeCloseTo(3 / 7, 15)
  })

  it('counts overlapping segments as fewer independent ones', () => {
    // P. D. Welch 1967: half-overlapping Hann segments have 1 + 2·(1/6)² = 1.05556 of the variance, for many segments
    const { averages, effectiveAverages } = welch({ samples: noise(102400), sampleRate: 1, segmentLength: 64 })
    expect((averages as number) / (effectiveAverages as number)).toBeCloseTo(1.05556, 4)
    const apart = welch({ samples: noise(1024), sampleRate: 1, segmentLength: 64, overlap: 0 })
    expect(apart.effectiveAverages).toBe(16)
    // and of the same long record 0.52778 of the variance that segments without overlap leave
    const separate = welch({ samples: noise(102400), sampleRate: 1, segmentLength: 64, overlap: 0 })
    expect((separate.effectiveAverages as number) / (effectiveAverages as number)).toBeCloseTo(0.52778, 3)
  })

  it('takes the largest power of two in a quarter of the record by default', () => {
    const length = (count: number) => welch({ samples: noise(count), sampleRate: 1 }).segmentLength
    expect([8, 15, 16, 4095, 4096, 4097].map(length)).toEqual([2, 2, 4, 512, 1024, 1024])
  })

  it('ignores a disturbance in one segment with the median, which is corrected for its bias', () => {
    const quiet = noise(40960)
    const disturbed = quiet.map((value, n) => value + (n < 200 ? 100 : 0) * Math.sin(n))
    const options = { sampleRate: 1, segmentLength: 256 } as const
    const expected = rms(welch({ samples: quiet, ...options }))
    // 319 averages and 129 lines: the rms of a random record is known to about a percent.
    expect(rms(welch({ samples: disturbed, ...options, average: 'median' })) / expected).toBeCloseTo(1, 1)
    expect(rms(welch({ samples: disturbed, ...options })) / expected).toBeGreaterThan(5)
  })

  it('takes plain arrays and Float64Arrays alike and changes neither', () => {
    const samples = noise(64)
    const copy = samples.slice()
    expect(welch({ samples: [...samples], sampleRate: 1 })).toEqual(welch({ samples, sampleRate: 1 }))
    expect(samples).toEqual(copy)
  })

  it('gives the one segment there is', () => {
    const { averages, effectiveAverages } = welch({ samples: noise(9), sampleRate: 1, segmentLength: 9 })
    expect([averages, effectiveAverages]).toEqual([1, 1])
  })
})

describe('welch refuses', () => {
  const samples = noise(64)
  const refused = (options: object) => refusal(() => welch({ samples, sampleRate: 1, ...options } as never))

  it.each([
    ['a sample that is not finite', { samples: [1, 2, Number.NaN, 4] }, 'not-finite', 'samples[2]'],
    ['the same in a Float64Array', { samples: Float64Array.of(0, 1, Infinity) }, 'not-finite', 'samples[2]'],
    ['samples of another type', { samples: 'abc' }, 'invalid-option', 'samples'],
    ['a short record', { samples: [1, 2, 3] }, 'out-of-range', 'samples'],
    ['an empty record', { samples: [], segmentLength: 2 }, 'out-of-range', 'samples'],
    ['a segment longer than the record', { segmentLength: 65 }, 'out-of-range', 'segmentLength'],
    ['a segment of one sample', { segmentLength: 1 }, 'out-of-range', 'segmentLength'],
    ['half a sample', { segmentLength: 8.5 }, 'out-of-range', 'segmentLength'],
    ['full overlap', { overlap: 1 }, 'out-of-range', 'overlap'],
    ['a sample rate of 0', { sampleRate: 0 }, 'out-of-range', 'sampleRate'],
    ['an unknown window', { window: 'hanning' }, 'invalid-option', 'window'],
    ['an unknown detrending', { detrend: 'constant' }, 'invalid-option', 'detrend'],
    ['an unknown average', { average: 'max' }, 'invalid-option', 'average'],
    ['an unknown quantity', { quantity: 'speed' }, 'invalid-option', 'quantity'],
    ['an unknown option', { nperseg: 16 }, 'invalid-option', 'nperseg'],
    ['squares beyond the range of numbers', { samples: samples.map((x) => x * 1e200) }, 'out-of-range', 'samples'],
  ])('%s', (_, options, code, path) => {
    const error = refused(options)
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'welch'])
  })
})
