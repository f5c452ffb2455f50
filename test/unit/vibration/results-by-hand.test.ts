import { describe, expect, it } from 'vitest'
import {
  bandStatistic,
  baseCurve,
  compareLinesToCriterion,
  compareToCriterion,
  customCriterion,
  decimate,
  expectedPeak,
  integrate,
  lineCriterion,
  pressureFromLevels,
  record,
  type Spectrogram,
  spectrogram,
  spectrogramBands,
  spectrumStatistic,
  welch,
} from '../../../src/vibration/index.js'

// Whole results, worked out by hand; where a number is not exact it is known to so many digits.
const near = (value: number, digits = 9) => expect.closeTo(value, digits)
const list = (...values: number[]) => Float64Array.of(...values)

describe('a verdict', () => {
  it('on lines holds every line that is whole and within the corners', () => {
    const frequency = [1, 10, 20, 40, 41, 100]
    const floor = { quantity: 'velocity', frequency, density: frequency.map(() => 1) } as const
    // 4 at 10 Hz and 1 at 40 Hz make 2 at 20 Hz; √(1·4 Hz) = 2
    const limit = lineCriterion({ frequency: [10, 40], velocity: [4, 1], lineWidth: 4, name: 'own' })
    expect(limit).toEqual({
      kind: 'LineCriterion',
      name: 'own',
      lineWidth: 4,
      frequency: list(10, 40),
      velocity: list(4, 1),
    })
    const worst = { nominal: 40, rms: near(2), limit: 1, ratio: near(2) }
    expect(compareLinesToCriterion(floor, limit)).toEqual({
      kind: 'CriterionComparison',
      criterion: 'own',
      edition: null,
      verdict: 'fail',
      worst,
      marginDecibels: near(-6.0206, 4),
      ratios: [
        { nominal: 10, rms: near(2), limit: 4, ratio: near(0.5) },
        { nominal: 20, rms: near(2), limit: near(2), ratio: near(1) },
        worst,
      ],
      doubts: [],
      judged: [10, 40],
      statistic: 'average',
      missing: [],
    })
    const wide = lineCriterion({ frequency: [1, 100], velocity: [2.1, 2.1], lineWidth: 4 })
    // Lines of 4 Hz around 1 and 100 Hz reach beyond the spectrum.
    expect(compareLinesToCriterion(floor, wide)).toMatchObject({ verdict: 'pass', judged: [10, 41] })
  })

  it('on lines counts those that end where the spectrum ends, and needs four of its own in a line', () => {
    const limit = (lineWidth: number) => lineCriterion({ frequency: [1, 9], velocity: [9, 9], lineWidth })
    const grid = (spacing: number) => Array.from({ length: 1 + 4 / spacing }, (_, k) => 2 + spacing * k)
    const floor = (spacing: number) =>
      ({ quantity: 'velocity', frequency: grid(spacing), density: grid(spacing).map(() => 1) }) as const
    // 2 to 6 Hz in lines of half a hertz reach from 1.75 to 6.25 Hz: a line of 2 Hz fits around 3 to 5 Hz.
    expect(compareLinesToCriterion(floor(0.5), limit(2)).judged).toEqual([3, 5])
    expect(() => compareLinesToCriterion(floor(0.5), limit(1.9))).toThrow('at most 0.475 Hz apart for lines of 1.9 Hz')
    const points = { ...floor(1), support: 'points' } as const
    expect(compareLinesToCriterion(points, limit(2)).judged).toEqual([3, 5])
  })

  it('on bands holds what was judged, and what was not', () => {
    const own = customCriterion({ frequency: [8, 12.5], velocity: [2, 2], name: 'own' })
    expect(own).toEqual({
      kind: 'Criterion',
      name: 'own',
      edition: null,
      frequency: list(8, 10, 12.5),
      velocity: list(2, 2, 2),
    })
    const bands = [10, 12.5, 16].map((nominal) => ({ nominal, rms: 1 }))
    const first = { nominal: 10, rms: 1, limit: 2, ratio: 0.5 }
    expect(compareToCriterion({ quantity: 'velocity', bands }, own)).toEqual({
      kind: 'CriterionComparison',
      criterion: 'own',
      edition: null,
      verdict: 'pass',
      // the first of two that are as near to their limit
      worst: first,
      marginDecibels: near(6.0206, 4),
      ratios: [first, { ...first, nominal: 12.5 }],
      doubts: [],
      judged: [10, 12.5],
      statistic: 'average',
      missing: [8],
    })
    expect(compareToCriterion({ quantity: 'velocity', bands }, 'VC-A', { edition: '1991' }).edition).toBe('1991')
  })

  it('on bands of a share of the time tells the share, unless it is said what they are', () => {
    const bands = [{ nominal: 10, rms: 1e-6 }]
    const levels = { quantity: 'velocity', bands, statistic: 'percentile', exceeded: 5 } as const
    expect(compareToCriterion(levels, 'VC-A')).toMatchObject({ statistic: 'percentile', exceeded: 5 })
    const told = compareToCriterion(levels, 'VC-A', { statistic: 'maximum' })
    expect([told.statistic, 'exceeded' in told]).toEqual(['maximum', false])
  })
})

describe('a spectrogram', () => {
  const plain = { window: 'rectangular', detrend: 'none' } as const

  it('has a block per segment, its instants in the middle, and leaves the rest out', () => {
    const samples = [1, 1, 1, 1, 2, 2, 2, 2, 9, 9]
    // v² over one line of 2 Hz at 0 Hz; the noise bandwidth of no window is one line
    expect(spectrogram({ samples, sampleRate: 8, segmentLength: 4, quantity: 'force', ...plain })).toEqual({
      kind: 'Spectrogram',
      quantity: 'force',
      time: list(0.25, 0.75),
      frequency: list(0, 2, 4),
      density: list(0.5, 0, 0, 2, 0, 0),
      blockDuration: 0.5,
      segmentLength: 4,
      overlap: 0.5,
      ...plain,
      averages: 1,
      effectiveAverages: 1,
      noiseBandwidth: 2,
      // ln 2: median of an exponential variable
      medianBias: near(Math.LN2),
    })
  })

  it('averages the segments within a block', () => {
    const samples = Array.from({ length: 13 }, (_, n) => (n < 6 ? 1 : 3) * (-1) ** n)
    const { quantity, time, density, blockDuration, averages, effectiveAverages, medianBias } = spectrogram({
      samples,
      sampleRate: 8,
      segmentLength: 4,
      blockDuration: 0.75,
      ...plain,
    })
    expect([quantity, blockDuration, averages]).toEqual(['unspecified', 0.75, 2])
    expect([...time]).toEqual([0.375, 1.125])
    expect([...density]).toEqual([0, 0, 0.5, 0, 0, 4.5])
    // half-overlapping segments without window share half: 2/(1 + 2·(1 − 1/2)·(1/2)²); χ² of 3.2 at one half over 3.2 (SciPy 1.17)
    expect(effectiveAverages).toBeCloseTo(1.6, 12)
    expect(medianBias).toBeCloseTo(0.801122586, 8)
    // without segmentLength the largest power of two in a quarter of a block
    const long = spectrogram({ samples: new Float64Array(80), sampleRate: 8, blockDuration: 5 })
    expect([long.segmentLength, long.averages, long.time.length]).toEqual([8, 9, 2])
  })
})

const told = { segmentLength: 4, overlap: 0, window: 'rectangular', detrend: 'none' } as const
const estimated = { ...told, averages: 2, effectiveAverages: 1.5, noiseBandwidth: 1 }

describe('statistics of blocks', () => {
  const blocks: Spectrogram = {
    kind: 'Spectrogram',
    quantity: 'velocity',
    time: list(1, 3, 5),
    frequency: list(8, 9),
    density: list(1, 8, 3, 2, 2, 5),
    blockDuration: 2,
    ...estimated,
    medianBias: 0.7,
  }
  const whole = {
    kind: 'Spectrum',
    quantity: 'velocity',
    frequency: list(8, 9),
    support: 'lines',
    ...told,
    averages: 6,
    effectiveAverages: 4.5,
    noiseBandwidth: 1,
  }

  it.each([
    [{}, [2, 5], { average: 'mean' }],
    [{ statistic: 'maximum' }, [3, 8], { average: 'maximum' }],
    [{ statistic: 'median' }, [2, 5], { average: 'percentile', exceeded: 50 }],
    // rank 0.75 of 0 to 1 lies midway between the second and the third of three
    [{ statistic: 'percentile', exceeded: 25 }, [2.5, 6.5], { average: 'percentile', exceeded: 25 }],
    [{ statistic: 'percentile', exceeded: 100 }, [1, 2], { average: 'percentile', exceeded: 100 }],
    [{ statistic: 'percentile', exceeded: 0 }, [3, 8], { average: 'percentile', exceeded: 0 }],
  ] as const)('%j', (options, density, said) => {
    const { density: found, ...rest } = spectrumStatistic(blocks, options)
    expect(Array.from(found)).toEqual(density.map((value) => near(value, 14)))
    expect(rest).toEqual({ ...whole, ...said })
    expect([...blocks.density]).toEqual([1, 8, 3, 2, 2, 5])
  })

  it('are those of bands, too, each with its own lines', () => {
    const grid = list(8, 9, 10, 11, 12)
    const density = list(1, 1, 1, 1, 1, 4, 4, 4, 4, 4, 9, 9, 9, 9, 9)
    const history = spectrogramBands(
      { ...blocks, frequency: grid, density, effectiveAverages: 2 },
      { from: 10, to: 10 },
    )
    // 2.307675 Hz between the edges of IEC 61260-1:2014; lines without window or overlap are independent: 2·2 each
    const band = {
      nominal: 10,
      centre: 10,
      lower: near(8.912509381),
      upper: near(11.220184543),
      lines: near(2.307675162),
    }
    expect(history).toEqual({
      kind: 'BandHistory',
      quantity: 'velocity',
      bands: [
        {
          ...band,
          delay: 0,
          degreesOfFreedom: near(9.230700647), // χ² at one half over 9.2307 (SciPy 1.17)
          medianBias: near(0.92877872, 8),
        },
      ],
      time: list(1, 3, 5),
      rms: expect.anything(),
      blockDuration: 2,
      timeConstant: null,
      skipped: 0,
    })
    const root = 1.5191034072
    expect(Array.from(history.rms)).toEqual([1, 2, 3].map((factor) => near(factor * root)))
    expect(bandStatistic(history, { statistic: 'percentile', exceeded: 25 })).toEqual({
      kind: 'Bands',
      quantity: 'velocity',
      // between 4 and 9, in squares: 6.5
      bands: [{ ...band, rms: near(Math.sqrt(6.5) * root), degreesOfFreedom: null, flags: ['few-lines'] }],
      statistic: 'percentile',
      exceeded: 25,
    })
    expect(bandStatistic(history)).toEqual({
      kind: 'Bands',
      quantity: 'velocity',
      // (1 + 4 + 9)/3, and three times the degrees of freedom of a block
      bands: [
        {
          ...band,
          rms: near(Math.sqrt(14 / 3) * root),
          degreesOfFreedom: near(27.69210194),
          flags: ['few-lines', 'short-record'],
        },
      ],
      statistic: 'average',
    })
  })
})

describe('a record', () => {
  it('is what was measured, in SI units', () => {
    expect(record({ samples: [1, -2, 4], sampleRate: 5, quantity: 'velocity', sensitivity: 2 })).toEqual({
      kind: 'VibrationRecord',
      samples: list(0.5, -1, 2),
      sampleRate: 5,
      quantity: 'velocity',
      findings: [],
    })
  })

  it('integrated tells the line that was taken out, per second', () => {
    // 1 + 3·t at 2 Hz: nothing is left
    expect(integrate({ samples: [1, 2.5, 4, 5.5], sampleRate: 2, detrend: 'linear', quantity: 'velocity' })).toEqual({
      kind: 'VibrationRecord',
      samples: expect.anything(),
      sampleRate: 2,
      quantity: 'displacement',
      findings: [],
      removed: { constant: near(1), slope: near(3) },
    })
  })

  it('decimated keeps its first sample and every third', () => {
    const { samples, ...rest } = decimate({ samples: new Float64Array(7).fill(2), sampleRate: 6, factor: 3 })
    expect(rest).toEqual({ kind: 'VibrationRecord', sampleRate: 2, quantity: 'unspecified', findings: [] })
    expect(Array.from(samples)).toEqual([near(2), near(2), near(2)])
  })
})

describe('a spectrum', () => {
  it('of levels has two points per band, within its edges', () => {
    // 20 µPa at 0 dB over 2.307675 Hz, and ten times the power over 2.905191 Hz (edges of IEC 61260-1:2014)
    const { frequency, density, ...rest } = pressureFromLevels({ nominal: [10, 12.5], level: [0, 10] })
    expect(rest).toEqual({ kind: 'Spectrum', quantity: 'pressure', support: 'points' })
    expect(Array.from(frequency)).toEqual([8.912509381, 11.220184543, 11.220184543, 14.125375446].map((f) => near(f)))
    expect(frequency[1]).toBeLessThan(frequency[2])
    const [low, high] = [4e-10 / 2.307675162, 4e-9 / 2.905190903]
    expect(Array.from(density)).toEqual([low, low, high, high].map((value) => near(value, 18)))
  })

  it('of a record tells how it was made', () => {
    const { density, ...rest } = welch({
      samples: new Float64Array(8),
      sampleRate: 4,
      segmentLength: 4,
      average: 'median',
    })
    expect(rest).toEqual({
      kind: 'Spectrum',
      quantity: 'unspecified',
      frequency: list(0, 1, 2),
      support: 'lines',
      segmentLength: 4,
      overlap: 0.5,
      window: 'hann',
      detrend: 'mean',
      averages: 3,
      // 3/(1 + 2·(2/3)·(1/6)²), P. D. Welch 1967; of four samples of Hann, 0, ½, 1, ½, half overlap is (½·0 + …) = 1/6 as well
      effectiveAverages: expect.any(Number),
      noiseBandwidth: near(1.5),
      average: 'median',
    })
  })
})

describe('a criterion of comfort', () => {
  it('is named after its direction and multiplier', () => {
    const { name, kind, edition, frequency } = baseCurve({ direction: 'horizontal', multiplier: 1.4 })
    expect([kind, name, edition]).toEqual(['Criterion', 'horizontal base curve x 1.4', null])
    expect([frequency[0], frequency.at(-1), frequency.length]).toEqual([1, 80, 20])
    expect(baseCurve({ direction: 'vertical' }).name).toBe('vertical base curve x 1')
  })
})

describe('an expected peak', () => {
  it('of N cycles is ∫ 1 − exp(−N e^(−x²/2)) dx', () => {
    // mpmath 1.3, quad with 30 digits
    const factor = (cycles: number, sign: 'one' | 'either') =>
      expectedPeak({ rms: 1, frequency: 2, duration: cycles / 2, sign }).peakFactor
    expect(factor(10, 'one')).toBeCloseTo(2.343177457, 8)
    expect(factor(10, 'either')).toBeCloseTo(2.63300472, 8)
    expect(factor(600, 'one')).toBeCloseTo(3.719946399, 8)
    expect(factor(600, 'either')).toBeCloseTo(3.903064894, 8)
  })

  it('of a spectrum counts what lies between the limits', () => {
    // Density 2 from 2 to 4 Hz: rms √4; ∫f²S = 2·(64 − 8)/3, so ν₀ = √(28/3) = 3.055050 Hz
    const spectrum = { quantity: 'velocity', frequency: [1, 10], density: [2, 2] } as const
    expect(expectedPeak({ spectrum, from: 2, to: 4, duration: 1000 / Math.sqrt(28 / 3), confidence: 0.5 })).toEqual({
      kind: 'ExpectedPeak',
      peak: expect.any(Number),
      peakFactor: expect.any(Number),
      // √(2·ln(2000/ln 2)) of both: half of the peaks are above and below
      lower: near(7.983691, 6),
      upper: near(7.983691, 6),
      confidence: 0.5,
      rms: near(2),
      frequency: near(Math.sqrt(28 / 3)),
      cycles: near(2000),
    })
    // from lines that begin at 0 Hz: the one at 0 counts whole, and has no crossings
    const lines = { quantity: 'velocity', frequency: [0, 1, 2], density: [1, 0, 1] } as const
    const { rms, frequency } = expectedPeak({ spectrum: lines, duration: 100 })
    expect([rms, frequency]).toEqual([near(Math.SQRT2), near(Math.SQRT2)])
  })
})
