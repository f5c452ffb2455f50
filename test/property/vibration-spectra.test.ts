import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  convertSpectrum,
  oneThirdOctaveBands,
  rms,
  type SpectrumLiteral,
  transferEstimate,
  type WindowName,
  welch,
} from '../../src/vibration/index.js'

const sample = fc.double({ min: -1, max: 1, noNaN: true })
const windows: WindowName[] = [
  'rectangular',
  'hann',
  'hamming',
  'blackman-harris',
  'bartlett',
  'parabolic',
  'flat-top',
  'hft95',
]
const levels = fc.double({ min: -14, max: -6, noNaN: true }).map((power) => 10 ** power)

/** Points over 0.5 to 200 Hz, or lines of 0.5 Hz; some densities are zero. */
const density = fc.oneof({ weight: 9, arbitrary: levels }, { weight: 1, arbitrary: fc.constant(0) })
const points: fc.Arbitrary<SpectrumLiteral> = fc.array(density, { minLength: 2, maxLength: 40 }).map((values) => ({
  quantity: 'velocity',
  support: 'points',
  frequency: values.map((_, k) => 0.5 * 400 ** (k / (values.length - 1))),
  density: values,
}))
const lines: fc.Arbitrary<SpectrumLiteral> = fc.array(density, { minLength: 401, maxLength: 401 }).map((values) => ({
  quantity: 'velocity',
  support: 'lines',
  frequency: values.map((_, k) => k / 2),
  density: values,
}))

describe('bands', () => {
  it('hold together what the density holds between their outer edges', () => {
    fc.assert(
      fc.property(fc.oneof(points, lines), (spectrum) => {
        const { bands } = oneThirdOctaveBands(spectrum, { from: 1, to: 100 })
        const together = bands.reduce((sum, band) => sum + band.rms ** 2, 0)
        const [from, to] = [bands[0]?.lower, bands.at(-1)?.upper]
        const whole = rms(spectrum, { from, to }) ** 2
        // Sums of up to some hundred terms, and differences of logarithms whose error grows with the slope.
        expect(Math.abs(together - whole)).toBeLessThanOrEqual(1e-11 * whole)
      }),
    )
  })

  it('have contiguous edges, to the last bit', () => {
    fc.assert(
      fc.property(fc.integer({ min: -40, max: 20 }), fc.integer({ min: 1, max: 20 }), (first, count) => {
        const [from, to] = [10 ** (first / 10) * 0.97, 10 ** ((first + count) / 10) * 1.03]
        const flat = { quantity: 'velocity', frequency: [from / 2, to * 2], density: [1, 1] } as const
        const { bands } = oneThirdOctaveBands(flat, { from, to })
        expect(bands.length).toBe(count + 1)
        for (let i = 1; i < bands.length; i++) expect(bands[i]?.lower).toBe(bands[i - 1]?.upper)
      }),
    )
  })

  it('grow with the square root of the density', () => {
    fc.assert(
      fc.property(points, levels, (spectrum, factor) => {
        const scaled = { ...spectrum, density: Array.from(spectrum.density, (value) => value * factor) }
        const expected = rms(spectrum) * Math.sqrt(factor)
        expect(Math.abs(rms(scaled) - expected)).toBeLessThanOrEqual(1e-11 * expected)
      }),
    )
  })
})

describe('criteria', () => {
  it('lose exactly one letter when the floor doubles, in the flat part', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 1, noNaN: true }), { minLength: 11, maxLength: 11 }),
        fc.integer({ min: 1, max: 11 }),
        (shape, letter) => {
          // The largest level lies in the upper half of the interval of its letter: safe from rounding at its ends.
          const largest = Math.max(...shape)
          const scale = (0.9 * 50e-6) / 2 ** letter / largest
          const labels = [8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80]
          const floor = (factor: number) => ({
            quantity: 'velocity' as const,
            bands: labels.map((nominal, i) => ({ nominal, rms: factor * scale * (shape[i] as number) })),
          })
          const name = (letterIndex: number) => `VC-${'ABCDEFGHIJKLM'[letterIndex]}`
          expect(bestCriterion(floor(1))).toBe(name(letter))
          expect(bestCriterion(floor(2))).toBe(name(letter - 1))
        },
      ),
    )
  })
})

describe('welch', () => {
  it('holds the mean square of the windowed record: Parseval, for any length, window and detrending', () => {
    fc.assert(
      fc.property(
        fc.array(sample, { minLength: 2, maxLength: 70 }),
        fc.constantFrom(...windows),
        fc.constantFrom('none', 'mean'),
        (samples, window, detrend) => {
          const length = samples.length
          const unit = welch({
            samples: samples.map(() => 1),
            sampleRate: 10,
            segmentLength: length,
            window,
            detrend: 'none',
          })
          fc.pre(Number.isFinite(unit.noiseBandwidth as number))
          const total =
            rms(welch({ samples, sampleRate: 10, segmentLength: length, window: 'rectangular', detrend })) ** 2
          const mean = detrend === 'mean' ? samples.reduce((sum, value) => sum + value, 0) / length : 0
          const expected = samples.reduce((sum, value) => sum + (value - mean) ** 2, 0) / length
          expect(Math.abs(total - expected)).toBeLessThanOrEqual(1e-13 * length)
        },
      ),
    )
  })

  it('does not depend on the sample rate but for the axis', () => {
    fc.assert(
      fc.property(
        fc.array(sample, { minLength: 16, maxLength: 60 }),
        fc.constantFrom(...windows),
        (samples, window) => {
          const slow = welch({ samples, sampleRate: 1, window })
          const fast = welch({ samples, sampleRate: 1024, window })
          slow.density.forEach((value, k) => {
            expect((fast.density[k] as number) * 1024).toBeCloseTo(value, 12)
            expect(fast.frequency[k]).toBe((slow.frequency[k] as number) * 1024)
          })
        },
      ),
    )
  })
})

describe('transferEstimate', () => {
  it('of a pure gain is that gain with coherence 1, on every line that has power', () => {
    fc.assert(
      fc.property(
        fc.array(sample, { minLength: 24, maxLength: 90 }),
        fc.double({ min: 0.001, max: 1000, noNaN: true }),
        fc.constantFrom(-1, 1),
        fc.integer({ min: 2, max: 12 }),
        (input, size, sign, segmentLength) => {
          const gain = sign * size
          const output = input.map((value) => gain * value)
          const estimate = transferEstimate({ input, output, sampleRate: 1, segmentLength })
          const strongest = Math.max(...estimate.inputDensity)
          for (let k = 0; k < estimate.frequency.length; k++) {
            if (estimate.undefinedLines.includes(k)) continue
            // Rounding stands at ε of the strongest line, and so grows with the square root of the ratio of the two.
            const error = 1e-14 * segmentLength * Math.sqrt(strongest / (estimate.inputDensity[k] as number))
            const off = Math.hypot((estimate.re[k] as number) / gain - 1, (estimate.im[k] as number) / gain)
            expect(off).toBeLessThanOrEqual(error + 1e-13)
            expect(1 - (estimate.coherence[k] as number)).toBeLessThanOrEqual(2 * (error + 1e-13))
          }
        },
      ),
    )
  })
})

describe('convertSpectrum', () => {
  it('there and back is the identity', () => {
    const motion = fc.constantFrom('displacement', 'velocity', 'acceleration')
    fc.assert(
      fc.property(points, motion, motion, (spectrum, from, to) => {
        const start = { ...spectrum, quantity: from }
        const back = convertSpectrum(convertSpectrum(start, { to }), { to: from })
        back.density.forEach((value, k) => {
          const expected = start.density[k] as number
          expect(Math.abs(value - expected)).toBeLessThanOrEqual(1e-14 * expected)
        })
      }),
    )
  })
})
