import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  convertSpectrum,
  decimate,
  oneThirdOctaveBands,
  rms,
  welch,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const tone = (frequency: number, length = 20000, sampleRate = 1000) =>
  Float64Array.from({ length }, (_, n) => Math.SQRT2 * Math.sin((2 * Math.PI * frequency * n) / sampleRate))
const level = (samples: Float64Array) =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length)
/** What is left of a tone of rms 1, behind the start of the filter; 1 s at the new rate is a whole number of periods. */
const passed = (frequency: number) =>
  level(decimate({ samples: tone(frequency), sampleRate: 1000, factor: 10 }).samples.slice(200, 1200))

describe('decimate', () => {
  it('keeps amplitudes within 0.1 % up to 0.28 of the new rate', () => {
    for (const frequency of [1, 10, 20, 28]) expect(Math.abs(passed(frequency) - 1)).toBeLessThan(1e-3)
    // Butterworth: 1/√2 at the corner (closed form)
    expect(passed(35)).toBeCloseTo(Math.SQRT1_2, 4)
  })

  it('lets less than 1e-5 of what would fold into that range pass', () => {
    for (const frequency of [72, 118, 128, 272, 409, 499]) expect(passed(frequency)).toBeLessThan(1e-5)
  })

  it('has a corner of choice, and no step at the start for an offset', () => {
    const samples = tone(20).map((value) => value + 5)
    const kept = decimate({ samples, sampleRate: 1000, factor: 4, cutoff: 2 })
    expect(kept.sampleRate).toBe(250)
    // The tone itself starts with a step of its slope; 10/cutoff later it is gone.
    expect(Math.max(...kept.samples.slice(1250).map((value) => Math.abs(value - 5)))).toBeLessThan(1e-3)
    const still = decimate({ samples: samples.map(() => 5), sampleRate: 1000, factor: 4, cutoff: 2 }).samples
    expect(Math.max(...still.map((value) => Math.abs(value - 5)))).toBeLessThan(1e-9)
  })

  it('stands ten-thousandfold decimation', () => {
    const samples = Float64Array.from({ length: 400000 }, (_, n) => Math.sin((2 * Math.PI * n) / 80000))
    const { samples: slow, sampleRate } = decimate({ samples, sampleRate: 1, factor: 10000 })
    expect([sampleRate, slow.length]).toEqual([1e-4, 40])
    // Amplitude 1, 8 samples per period: the largest of them is at least cos(π/8) = 0.924 (closed form).
    expect(Math.max(...slow.slice(20))).toBeGreaterThan(0.92)
    expect(Math.max(...slow.slice(20))).toBeLessThan(1.001)
  })

  it.each([
    ['a factor of 1', { factor: 1 }, 'out-of-range', 'factor'],
    ['a broken factor', { factor: 2.5 }, 'out-of-range', 'factor'],
    ['a corner above half the new rate', { factor: 10, cutoff: 51 }, 'out-of-range', 'cutoff'],
    ['no samples', { samples: [] }, 'out-of-range', 'samples'],
    ['NaN', { samples: [Number.NaN] }, 'not-finite', 'samples[0]'],
    ['an unknown key', { order: 3 }, 'invalid-option', 'order'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => decimate({ samples: [1, 2], sampleRate: 1000, factor: 2, ...options } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('a pump line at 118 Hz, 8 µm/s, over a floor of 1 µm/s in the 20 Hz band, kept at 100 Hz', () => {
  // imcs-compsim/munich-bridge-data driver script (slices of arrays); computed from the closed form √(1² + 8²) = 8.06 µm/s.
  // The floor is a comb of 40 tones of one level within the band, with phases far apart.
  const length = 200000
  const floor = new Float64Array(length)
  for (let k = 0; k < 40; k++) {
    const [frequency, phase] = [18.05 + k * 0.1, 1.7 * k * k]
    const amplitude = 1e-6 * Math.sqrt(2 / 40)
    for (let n = 0; n < length; n++) {
      floor[n] = (floor[n] as number) + amplitude * Math.sin((2 * Math.PI * frequency * n) / 1000 + phase)
    }
  }
  const samples = floor.map((value, n) => value + 8e-6 * Math.SQRT2 * Math.sin((2 * Math.PI * 118 * n) / 1000))
  const bandsOf = (slow: Float64Array) => {
    const density = welch({ samples: slow, sampleRate: 100, segmentLength: 2000, quantity: 'velocity' })
    return oneThirdOctaveBands(convertSpectrum(density, { to: 'velocity' }), { from: 5, to: 25 })
  }
  const band20 = (slow: Float64Array) => (bandsOf(slow).bands.find(({ nominal }) => nominal === 20)?.rms ?? 0) * 1e6

  it('reads 8.06 µm/s there and VC-C where every tenth sample was kept: 118 Hz folds to 18 Hz', () => {
    const sliced = samples.filter((_, n) => n % 10 === 0)
    // Some per cent of the comb leak out of the band.
    expect(band20(sliced)).toBeCloseTo(8.06, 1)
    expect(bestCriterion(bandsOf(sliced))).toBe('VC-C')
    const line = welch({ samples: sliced, sampleRate: 100, segmentLength: 2000 })
    expect(line.frequency[line.density.indexOf(Math.max(...line.density))]).toBe(18)
  })

  it('reads 1 µm/s and VC-F behind the low-pass', () => {
    const slow = decimate({ samples, sampleRate: 1000, factor: 10, quantity: 'velocity' })
    // The start of the filter is left out.
    const settled = slow.samples.slice(100)
    expect(band20(settled)).toBeCloseTo(1, 1)
    expect(bestCriterion(bandsOf(settled))).toBe('VC-F')
    expect(rms(welch({ samples: settled, sampleRate: 100, quantity: 'velocity' })) * 1e6).toBeCloseTo(1, 1)
  })
})
