import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  compareToCriterion,
  criterion,
  levelConfidence,
  recordLength,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const bands = (levels: Record<number, number>) => ({
  quantity: 'velocity' as const,
  bands: Object.entries(levels).map(([nominal, rms]) => ({ nominal: Number(nominal), rms })),
})

/** Width of the 1 Hz and of the 8 Hz band, 10^(±1/20) times the exact centre (IEC 61260-1:2014). */
const width = { 1: 0.2307676, 8: 1.833 }

describe('eight seconds of data and a 1 Hz band', () => {
  // J. S. Bendat, A. G. Piersol, Random Data, chapter 8; numbers computed from the closed form 4.343/√(BT) dB
  it('holds 1.85 independent values, a scatter of 3.2 dB; 1.13 dB in the 8 Hz band', () => {
    const short = levelConfidence({ bandwidth: width[1], duration: 8 })
    expect(short.degreesOfFreedom / 2).toBeCloseTo(1.85, 2)
    expect(short.standardDeviationDecibels).toBeCloseTo(3.2, 1)
    expect(levelConfidence({ bandwidth: width[8], duration: 8 }).standardDeviationDecibels).toBeCloseTo(1.13, 2)
  })

  it('needs 81.7 s for 1 dB with one standard deviation, 314 s with 95 %', () => {
    // 68.27 % is one standard deviation of a normal distribution
    expect(recordLength({ bandwidth: width[1], decibels: 1, confidence: 0.6826895 })).toBeCloseTo(81.7, 1)
    expect(recordLength({ bandwidth: width[1], decibels: 1 })).toBeCloseTo(314, 0)
  })

  it('has bounds of the chi-squared distribution', () => {
    // SciPy 1.10.1: √(ν/χ²) with ν = 3.7, χ² = 8.997136 (95 %) and 0.593865 (5 %)
    const { lower, upper } = levelConfidence({ bandwidth: 1.85, duration: 1 })
    expect(lower).toBeCloseTo(0.641282, 6)
    expect(upper).toBeCloseTo(2.496072, 6)
  })

  it('cannot decide a level near its limit, where a long record can', () => {
    const levels = bands({ 1: 5e-6 })
    const short = compareToCriterion(levels, 'VC-D', { duration: 8 })
    expect(short.verdict).toBe('undecided')
    expect(short.doubts).toHaveLength(1)
    expect(short.doubts[0]).toMatchObject({ nominal: 1, causes: ['record'] })
    expect(short.doubts[0]?.atLeast).toBeLessThan(5e-6)
    expect(short.doubts[0]?.atMost).toBeGreaterThan(6.25e-6)
    expect(compareToCriterion(levels, 'VC-D', { duration: 314 }).verdict).toBe('pass')
    expect(compareToCriterion(levels, 'VC-D', { duration: 8, confidence: 0.5 }).verdict).toBe('pass')
    expect(compareToCriterion(levels, 'VC-D').verdict).toBe('pass')
    expect(compareToCriterion(bands({ 1: 50e-6 }), 'VC-D', { duration: 8 }).verdict).toBe('fail')
  })
})

describe('compareToCriterion cannot tell', () => {
  it('between two conventions 1.6 % apart', () => {
    const judge = (rms: number) => compareToCriterion(bands({ 10: rms }), 'VC-D', { convention: 'either' })
    expect(judge(6.24e-6).verdict).toBe('pass')
    expect(judge(6.36e-6).verdict).toBe('fail')
    const open = judge(6.3e-6)
    expect(open.verdict).toBe('undecided')
    expect(open.doubts).toEqual([{ nominal: 10, atLeast: 6.3e-6, atMost: 6.3e-6, causes: ['convention'] }])
    // by one convention it is clear: above 6.25, below 6.35 µm/s
    expect(compareToCriterion(bands({ 10: 6.3e-6 }), 'VC-D').verdict).toBe('fail')
    expect(compareToCriterion(bands({ 10: 6.3e-6 }), 'VC-D', { convention: 'inch' }).verdict).toBe('pass')
    expect(bestCriterion(bands({ 10: 6.3e-6 }))).toBe('VC-C')
    expect(bestCriterion(bands({ 10: 6.3e-6 }), { convention: 'inch' })).toBe('VC-D')
  })

  it('a floor from the noise of its sensor; a reading below the limit still passes', () => {
    const judge = (rms: number, noise: number) =>
      compareToCriterion(bands({ 10: rms }), 'VC-D', { sensorNoise: bands({ 10: noise }) })
    expect(judge(8e-6, 7e-6).doubts).toEqual([
      // √(8² − 7²) = 3.872983 µm/s (closed form)
      { nominal: 10, atLeast: expect.closeTo(3.872983e-6, 12), atMost: 8e-6, causes: ['sensor'] },
    ])
    expect(judge(8e-6, 9e-6).doubts[0]?.atLeast).toBe(0)
    expect(judge(8e-6, 1e-6).verdict).toBe('fail')
    expect(judge(6e-6, 5.9e-6).verdict).toBe('pass')
  })

  it('for the sum of two causes, neither of which would do alone', () => {
    const noise = { sensorNoise: bands({ 10: 3.5e-6 }) }
    const levels = bands({ 10: 7.3e-6 })
    // √(7.3² − 3.5²) = 6.41 µm/s is above 6.25 and 6.35; of 30 s in the 10 Hz band the lower bound is above 6.25
    expect(compareToCriterion(levels, 'VC-D', noise).verdict).toBe('fail')
    expect(compareToCriterion(levels, 'VC-D', { duration: 30 }).verdict).toBe('fail')
    const both = compareToCriterion(levels, 'VC-D', { ...noise, duration: 30 })
    expect([both.verdict, both.doubts[0]?.causes]).toEqual(['undecided', ['sensor', 'record']])
  })

  it('and names of several causes those that would do alone', () => {
    // a record of years and a sensor without noise leave nothing open, the 1.6 % between conventions do
    const known = { convention: 'either', duration: 1e8, sensorNoise: bands({ 10: 1e-9 }) } as const
    const { doubts } = compareToCriterion(bands({ 10: 6.3e-6 }), 'VC-D', known)
    expect(doubts.map(({ causes }) => causes)).toEqual([['convention']])
    // 8 µm/s with 7 µm/s of noise: the sensor alone
    const noisy = { convention: 'either', duration: 1e8, sensorNoise: bands({ 10: 7e-6 }) } as const
    expect(compareToCriterion(bands({ 10: 8e-6 }), 'VC-D', noisy).doubts[0]?.causes).toEqual(['sensor'])
  })

  it('and fails all the same where one band is above its limit beyond doubt', () => {
    const result = compareToCriterion(bands({ 10: 6.3e-6, 20: 7e-6 }), 'VC-D', { convention: 'either' })
    expect([result.verdict, result.doubts.length]).toEqual(['fail', 1])
  })

  it('but states margin and statistic', () => {
    const result = compareToCriterion(bands({ 10: 3.125e-6 }), 'VC-D', { statistic: 'maximum' })
    // half of the limit: 20·log10 2 = 6.0206 dB (closed form)
    expect(result.marginDecibels).toBeCloseTo(6.0206, 4)
    expect(result.statistic).toBe('maximum')
    expect(compareToCriterion(bands({ 10: 0 }), 'VC-D').marginDecibels).toBe(Infinity)
  })

  it.each([
    ['noise of another band only', { sensorNoise: bands({ 20: 1e-6 }) }, 'invalid-option', 'sensorNoise'],
    [
      'noise of acceleration',
      { sensorNoise: { ...bands({ 10: 1 }), quantity: 'acceleration' } },
      'unsupported',
      'sensorNoise.quantity',
    ],
    ['a record without length', { duration: 0 }, 'out-of-range', 'duration'],
    ['a confidence without record', { confidence: 0.9 }, 'invalid-option', 'confidence'],
    ['certainty', { duration: 8, confidence: 1 }, 'out-of-range', 'confidence'],
    ['scatter of a maximum', { duration: 8, statistic: 'maximum' }, 'invalid-option', 'duration'],
    ['an unknown convention', { convention: 'both' }, 'invalid-option', 'convention'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => compareToCriterion(bands({ 10: 1e-6 }), 'VC-D', options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a convention beside a record, which has its own', () => {
    const call = () => compareToCriterion(bands({ 10: 1e-6 }), criterion('VC-D'), { convention: 'either' })
    expect(refusal(call).details.path).toBe('convention')
  })
})
