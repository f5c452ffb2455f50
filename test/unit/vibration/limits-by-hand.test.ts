import { describe, expect, it } from 'vitest'
import {
  averagesNeeded,
  compareToCriterion,
  criterion,
  customCriterion,
  decibelsToValue,
  feedforwardBound,
  lineCriterion,
  oneThirdOctaveBands,
  resolutionBias,
  rms,
  soundPressureForce,
  spectrum,
  welch,
} from '../../../src/vibration/index.js'

const ones = (length: number) => new Array<number>(length).fill(1)

describe('a grid is one of lines', () => {
  const support = (frequency: readonly number[]) =>
    spectrum({ quantity: 'velocity', frequency, density: ones(frequency.length) }).support

  it.each([
    ['up to a thousandth of the spacing', [0, 1.0009, 2, 3], 'lines'],
    ['no further', [0, 1.0012, 2, 3], 'points'],
    ['nor below', [0, 0.9988, 2, 3], 'points'],
    ['nor at its end', [0, 1, 2, 3, 4.02], 'points'],
    // 1000.125 and 1000.375 Hz with six digits
    ['as printed with six digits', [1000, 1000.13, 1000.25, 1000.38, 1000.5], 'lines'],
    ['not with five', [1000, 1000.1, 1000.3, 1000.4, 1000.5], 'points'],
  ])('%s', (_, frequency, expected) => {
    expect(support(frequency)).toBe(expected)
  })

  it('from two entries on where it is said so', () => {
    const two = { quantity: 'velocity', frequency: [1, 3], density: [1, 1] } as const
    // lines of 2 Hz from 0 to 4 Hz
    expect(rms(spectrum({ ...two, support: 'lines' }))).toBe(2)
    expect(rms(spectrum(two))).toBeCloseTo(Math.SQRT2, 14)
  })
})

describe('what a spectrum covers', () => {
  it('ends where its points end, up to rounding', () => {
    const flat = { quantity: 'velocity', frequency: [1, 3], density: [1, 1] } as const
    expect(rms(flat, { from: 1 - 5e-10, to: 3 + 1e-9 })).toBeCloseTo(Math.SQRT2, 9)
    expect(() => rms(flat, { from: 1 - 2e-9 })).toThrow('from must be within')
    expect(() => rms(flat, { to: 3 + 1e-8 })).toThrow('to must be within')
  })

  it('may be read over nothing, and in several pieces that add up', () => {
    const frequency = [1, 2, 4, 5, 8]
    const steps = { quantity: 'velocity', frequency, density: [1, 4, 2, 7, 3] } as const
    expect(rms(steps, { from: 4, to: 4 })).toBe(0)
    const square = (from: number, to: number) => rms(steps, { from, to }) ** 2
    expect(square(1, 3) + square(3, 4) + square(4, 8)).toBeCloseTo(square(1, 8), 12)
    // S = f² from 1 to 2 Hz: (8 − 1)/3
    expect(square(1, 2)).toBeCloseTo(7 / 3, 12)
  })
})

describe('bands', () => {
  const labels = (from: number, to: number) => {
    const flat = { quantity: 'velocity', frequency: [1e-4, 1e4], density: [1, 1] } as const
    return oneThirdOctaveBands(flat, { from, to }).bands.map(({ nominal }) => nominal)
  }

  it('hold both ends, in any decade', () => {
    expect(labels(0.063, 0.1)).toEqual([0.063, 0.08, 0.1])
    expect(labels(6.3, 8)).toEqual([6.3, 8])
    expect(labels(31.5, 31.5)).toEqual([31.5])
    expect(labels(790, 1260)).toEqual([800, 1000, 1250])
    expect(labels(801, 1249)).toEqual([1000])
  })
})

describe('limits', () => {
  it('from corners hold both corners, and one alone', () => {
    const { frequency, velocity } = customCriterion({ frequency: [8, 12.5], acceleration: [1, 2], statistic: 'rms' })
    expect([...frequency]).toEqual([8, 10, 12.5])
    // a/(2πf); a grows as f^(ln 2/ln 1.5625)
    const middle = 1.25 ** (Math.LN2 / Math.log(1.5625))
    const expected = [1 / 8, middle / 10, 2 / 12.5].map((value) => value / (2 * Math.PI))
    expected.forEach((value, k) => {
      expect(velocity[k]).toBeCloseTo(value, 14)
    })
    expect([...customCriterion({ frequency: [10], velocity: [3] }).velocity]).toEqual([3])
    expect(lineCriterion({ frequency: [10], velocity: [3], lineWidth: 1 }).name).toBe('custom')
  })

  it('of a record are those of its form', () => {
    const bands = [{ nominal: 10, rms: 6.3e-6 }]
    const verdict = (limit: Parameters<typeof compareToCriterion>[1]) => {
      const { verdict: found, edition } = compareToCriterion({ quantity: 'velocity', bands }, limit)
      return [found, edition]
    }
    // 6.25 and 6.35 µm/s
    expect(verdict(criterion('VC-D', { edition: '1991' }))).toEqual(['fail', '1991'])
    expect(verdict(criterion('VC-D', { convention: 'inch' }))).toEqual(['pass', '2005'])
  })

  it('are met on the limit of either convention', () => {
    const judge = (level: number) => {
      const bands = [{ nominal: 10, rms: level }]
      return compareToCriterion({ quantity: 'velocity', bands }, 'VC-D', { convention: 'either' }).verdict
    }
    // 6.25 µm/s, and 250 µin/s = 6.35 µm/s
    const [metric, inch] = (['metric', 'inch'] as const).map(
      (convention) => criterion('VC-D', { convention }).velocity[9],
    )
    expect([metric, inch]).toEqual([6.25e-6, expect.closeTo(6.35e-6, 12)])
    expect([judge(metric), judge(inch), judge(inch * 1.001)]).toEqual(['pass', 'undecided', 'fail'])
  })
})

describe('at the end of what there is', () => {
  it('a resonance that outlasts its segment altogether is not seen', () => {
    const options = { naturalFrequency: 1e-50, dampingRatio: 1e-300, segmentDuration: 1 }
    expect(resolutionBias(options)).toBeCloseTo(-1, 12)
  })

  it('levels may be ±6000 dB', () => {
    expect(decibelsToValue({ decibels: 6000, reference: 1 })).toBeCloseTo(1e300, -290)
    expect(decibelsToValue({ decibels: -6000, reference: 1 }) * 1e300).toBeCloseTo(1, 12)
  })

  it('a number of averages is whole, at least two', () => {
    // (1 − γ²)/(2γ²ε²) = 12.5 and 0.5
    expect(averagesNeeded({ coherence: 0.5, relativeError: 0.2 })).toBe(13)
    expect(averagesNeeded({ coherence: 0.5, relativeError: 1 })).toBe(2)
  })

  it('feedforward cancels all that is coherent, and nothing that is not', () => {
    const bound = feedforwardBound({ frequency: [0, 1, 2], coherence: Float64Array.of(0, 0.75, 1) })
    expect([...bound]).toEqual([1, 0.5, 0])
  })

  it('the medium does not matter to the force on one face', () => {
    const room = { quantity: 'pressure', frequency: [10], density: [4] } as const
    expect([...soundPressureForce(room, { area: 2, faces: 'one-face', speedOfSound: 1007 }).density]).toEqual([16])
  })

  it('two samples make a segment', () => {
    // 1 and 3 alternate about 2: 1² at half the rate, one line of 5 Hz
    const options = { sampleRate: 10, segmentLength: 2, window: 'rectangular', detrend: 'linear' } as const
    const { frequency, density, averages } = welch({ samples: [1, 3, 1, 3], ...options, detrend: 'mean' })
    expect([[...frequency], [...density], averages]).toEqual([[0, 5], [0, 0.2], 3])
    const straight = welch({ samples: [1, 3, 5, 7], ...options }).density
    expect(Math.max(...straight)).toBeLessThan(1e-30)
  })

  it('a segment of a third overlaps by whole samples', () => {
    const options = { samples: new Float64Array(30), sampleRate: 1, segmentLength: 9 }
    const { overlap, averages } = welch({ ...options, overlap: 2 / 3 })
    expect([overlap, averages]).toEqual([6 / 9, 8])
    // no further than all but one
    expect(welch({ ...options, overlap: 1 - 1e-12 })).toMatchObject({ overlap: 8 / 9, averages: 22 })
    expect(welch({ ...options, overlap: 0 })).toMatchObject({ overlap: 0, averages: 3 })
  })
})
