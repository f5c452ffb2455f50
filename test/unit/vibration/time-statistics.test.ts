import { describe, expect, it } from 'vitest'
import { randomNumbers } from '../../../src/internal/random-numbers.js'
import {
  bandHistory,
  bandStatistic,
  bestCriterion,
  compareToCriterion,
  oneThirdOctaveBands,
  spectrogram,
  spectrogramBands,
  spectrumStatistic,
  welch,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

/** Gaussian noise of variance 1 by sums of twelve. */
function gaussian(length: number, seed = 5): Float64Array {
  const random = randomNumbers(seed)
  return Float64Array.from({ length }, () => {
    let sum = -6
    for (let i = 0; i < 12; i++) sum += random()
    return sum
  })
}

describe('ten minutes with twelve bursts of footsteps', () => {
  // scipy/scipy#8970 (median averaging against transients), scipy/scipy#17435 (max-hold request): 12 bursts of 2 s with 18 µm/s
  // rms in the 12.5 Hz band, 2 µm/s in between, 600 s; computed from the closed form √((24·18² + 576·2²)/600) = 4.099 µm/s
  const sampleRate = 100
  const samples = Float64Array.from({ length: 600 * sampleRate }, (_, n) => {
    const burst = Math.floor(n / sampleRate) % 50 >= 48
    return (burst ? 18e-6 : 2e-6) * Math.SQRT2 * Math.sin(2 * Math.PI * 0.125 * n)
  })
  const blocks = spectrogram({ samples, sampleRate, segmentLength: 200, window: 'rectangular', quantity: 'velocity' })
  const history = spectrogramBands(blocks, { from: 12.5, to: 12.5 })
  const verdict = (options: Parameters<typeof bandStatistic>[1]) => {
    const bands = bandStatistic(history, options)
    return [Number((bands.bands[0].rms * 1e6).toFixed(3)), bestCriterion(bands)]
  }

  it('is VC-D by the average, VC-E by the median and the 95th percentile, VC-B by the 97th and the maximum', () => {
    expect(verdict({})).toEqual([4.099, 'VC-D'])
    expect(verdict({ statistic: 'median' })).toEqual([2, 'VC-E'])
    expect(verdict({ statistic: 'percentile', exceeded: 5 })).toEqual([2, 'VC-E'])
    expect(verdict({ statistic: 'percentile', exceeded: 3 })).toEqual([18, 'VC-B'])
    expect(verdict({ statistic: 'maximum' })).toEqual([18, 'VC-B'])
  })

  it('is stated in the verdict', () => {
    const stated = (options: Parameters<typeof bandStatistic>[1], said = {}) => {
      const { statistic, exceeded } = compareToCriterion(bandStatistic(history, options), 'VC-D', said)
      return [statistic, exceeded]
    }
    expect(stated({})).toEqual(['average', undefined])
    expect(stated({ statistic: 'maximum' })).toEqual(['maximum', undefined])
    expect(stated({ statistic: 'percentile', exceeded: 5 })).toEqual(['percentile', 5])
    // The scatter of an average says nothing about a maximum.
    const error = refusal(() => stated({ statistic: 'maximum' }, { duration: 600 }))
    expect([error.code, error.details.path]).toEqual(['invalid-option', 'duration'])
  })

  it('has the average of a spectrum over all, in blocks or not', () => {
    const average = spectrumStatistic(blocks)
    const whole = welch({ samples, sampleRate, segmentLength: 200, window: 'rectangular', overlap: 0 })
    expect(average.averages).toBe(300)
    for (const [k, value] of whole.density.entries()) expect(average.density[k]).toBeCloseTo(value, 20)
    expect(average.density[25]).toBeCloseTo(2 * 4.0988e-6 ** 2, 14)
  })

  it('has a maximum hold, and a median that is a percentile', () => {
    // One line of 0.5 Hz holds the whole tone: 18² and 2² (µm/s)² over 0.5 Hz (closed form).
    const held = spectrumStatistic(blocks, { statistic: 'maximum' })
    expect([held.average, held.exceeded]).toEqual(['maximum', undefined])
    expect(held.density[25] * 1e12).toBeCloseTo(648, 9)
    expect(oneThirdOctaveBands(held, { from: 12.5, to: 12.5 }).statistic).toBe('maximum')
    const middle = spectrumStatistic(blocks, { statistic: 'median' })
    expect([middle.average, middle.exceeded]).toEqual(['percentile', 50])
    expect(middle.density[25] * 1e12).toBeCloseTo(8, 9)
  })

  it('has bands that still tell the share of the time in which their spectrum is exceeded', () => {
    const held = spectrumStatistic(blocks, { statistic: 'percentile', exceeded: 3 })
    const { statistic, exceeded, bands } = oneThirdOctaveBands(held, { from: 12.5, to: 12.5 })
    expect([statistic, exceeded]).toEqual(['percentile', 3])
    // 4 % of the blocks are bursts of 18 µm/s (invented record, as above)
    expect(bands[0].rms * 1e6).toBeCloseTo(18, 9)
  })
})

describe('statistics over the blocks of stationary noise', () => {
  const samples = gaussian(200000)

  it('have a median below the average by the stated bias', () => {
    const blocks = spectrogram({ samples, sampleRate: 100, segmentLength: 64 })
    // ln 2 (closed form: median of an exponential variable of mean 1)
    expect(blocks.medianBias).toBeCloseTo(Math.LN2, 9)
    const sum = (statistic: 'average' | 'median') =>
      spectrumStatistic(blocks, { statistic })
        .density.slice(2, -2)
        .reduce((total, value) => total + value, 0)
    // 3125 blocks and 29 lines: the sample median of each is known to 1.8 %, their mean to 0.4 % or so.
    expect(Math.abs(sum('median') / sum('average') - Math.LN2)).toBeLessThan(0.01)
  })

  it('have bands that scatter as their degrees of freedom say', () => {
    const histories = [
      bandHistory({ samples, sampleRate: 100, from: 10, to: 16, blockDuration: 4 }),
      spectrogramBands(spectrogram({ samples, sampleRate: 100, segmentLength: 100, blockDuration: 4 }), {
        from: 10,
        to: 16,
      }),
    ]
    for (const { bands, rms, time } of histories) {
      bands.forEach(({ degreesOfFreedom, nominal }, b) => {
        const squares = Array.from(time, (_, k) => rms[k * bands.length + b] ** 2)
        const mean = squares.reduce((sum, value) => sum + value / squares.length, 0)
        const variance = squares.reduce((sum, value) => sum + (value - mean) ** 2 / (squares.length - 1), 0)
        // √(2/ν), of some 490 blocks: 3 % at one standard deviation; the formula itself is good to a tenth.
        const ratio = Math.sqrt(variance) / mean / Math.sqrt(2 / degreesOfFreedom)
        expect(Math.abs(ratio - 1), `${nominal} Hz`).toBeLessThan(0.12)
      })
    }
    // 2·B·T of 2.3077 Hz and 4 s (closed form)
    expect(histories[0].bands[0].degreesOfFreedom).toBeCloseTo(18.4614, 3)
  })
})

describe('the bands of a spectrum', () => {
  it('rest on two lines and 3.2 dB in eight seconds, and are flagged', () => {
    // jmrplens/phonometry#47 (frequency resolution of third-octave results); python-acoustics/python-acoustics#244: 8 s at 1 kHz,
    // the 1 Hz band is 1.85 lines of a segment that is the record, B·T = 1.85
    const samples = gaussian(8000)
    const density = welch({ samples, sampleRate: 1000, segmentLength: 8000, quantity: 'velocity' })
    const { bands } = oneThirdOctaveBands(density, { from: 1, to: 80 })
    expect(bands[0].lines).toBeCloseTo(1.846, 3)
    expect(bands[0].flags).toEqual(['few-lines', 'short-record'])
    // A window leaves half of the record, and the first line counts whole: 2·(1 + 0.846/1.94), computed from the closed form
    expect(bands[0].degreesOfFreedom).toBeCloseTo(2.87, 1)
    // 1 dB takes B·T of 18.9 and twice that behind a single window: from 18.9·2/8 Hz = 4.7 Hz of bandwidth on
    const flagged = bands.filter(({ flags }) => flags.length > 0).map(({ nominal }) => nominal)
    expect(flagged).toEqual([1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16])
    expect(bands.at(-1)?.flags).toEqual([])
  })

  it('have 5 % fewer degrees of freedom than 2·B·T with half-overlapping Hann segments', () => {
    // P. D. Welch 1967: 1 + 2·(1/6)² = 1.0556; 1000 s, 0.2308 Hz: 2·B·T = 461.5
    const density = welch({ samples: gaussian(20000), sampleRate: 20, segmentLength: 2000 })
    const [band] = oneThirdOctaveBands(density, { from: 1, to: 1 }).bands
    expect((band.degreesOfFreedom as number) / 461.5).toBeCloseTo(0.95, 1)
    expect(band.flags).toEqual([])
  })

  it('have none where the spectrum does not tell how it was made', () => {
    const frequency = [1, 100]
    const [band] = oneThirdOctaveBands({ quantity: 'velocity', frequency, density: [1, 1] }, { from: 8, to: 8 }).bands
    expect([band.degreesOfFreedom, band.flags, band.lines]).toEqual([null, [], null])
  })
})

describe('refused', () => {
  const samples = gaussian(640)
  const blocks = spectrogram({ samples, sampleRate: 64, segmentLength: 64 })
  const history = spectrogramBands(blocks, { from: 10, to: 20 })
  it.each([
    [
      'a percentile of nothing',
      () => bandStatistic(history, { statistic: 'percentile' }),
      'invalid-option',
      'exceeded',
    ],
    ['a share without percentile', () => bandStatistic(history, { exceeded: 10 }), 'invalid-option', 'exceeded'],
    [
      'more than all of the time',
      () => spectrumStatistic(blocks, { statistic: 'percentile', exceeded: 101 }),
      'out-of-range',
      'exceeded',
    ],
    [
      'an unknown statistic',
      () => bandStatistic(history, { statistic: 'mode' } as never),
      'invalid-option',
      'statistic',
    ],
    ['a spectrum for a history', () => bandStatistic(blocks as never), 'invalid-option', 'history'],
    [
      'lists that do not fit',
      () => bandStatistic({ ...history, rms: new Float64Array(3) }),
      'dimension-mismatch',
      'history.rms',
    ],
    [
      'densities that do not fit',
      () => spectrumStatistic({ ...blocks, density: new Float64Array(3) }),
      'dimension-mismatch',
      'spectrogram.density',
    ],
    [
      'a spectrum for blocks',
      () => spectrumStatistic(welch({ samples, sampleRate: 64 }) as never),
      'invalid-option',
      'spectrogram',
    ],
    [
      'blocks that do not tell how they were averaged',
      () => spectrogramBands({ ...blocks, overlap: undefined } as never, { from: 10, to: 20 }),
      'invalid-option',
      'spectrogram.overlap',
    ],
    [
      'blocks that hold maxima, which have no degrees of freedom',
      () => spectrogramBands({ ...blocks, average: 'maximum' } as never, { from: 10, to: 20 }),
      'invalid-option',
      'spectrogram',
    ],
    ['a band beyond the lines', () => spectrogramBands(blocks, { from: 10, to: 40 }), 'out-of-range', 'to'],
    [
      'a block longer than the record',
      () => spectrogram({ samples, sampleRate: 64, blockDuration: 11 }),
      'out-of-range',
      'blockDuration',
    ],
    [
      'a segment longer than its block',
      () => spectrogram({ samples, sampleRate: 64, segmentLength: 65, blockDuration: 1 }),
      'out-of-range',
      'segmentLength',
    ],
  ])('%s', (_, call, code, path) => {
    const error = refusal(call)
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
