import { describe, expect, it } from 'vitest'
import { type BandHistory, bandStatistic, levelConfidence, oneThirdOctaveBands } from '../../../src/vibration/index.js'

const near = (value: number, digits: number) => expect.closeTo(value, digits)
const list = (...values: number[]) => Float64Array.of(...values)
const told = { segmentLength: 4, overlap: 0, window: 'rectangular' } as const

describe('degrees of freedom', () => {
  const history = (degreesOfFreedom: number, lines: number | null): BandHistory => ({
    kind: 'BandHistory',
    quantity: 'velocity',
    bands: [{ nominal: 1, centre: 1, lower: 0.5, upper: 1.5, lines, delay: 0, degreesOfFreedom, medianBias: 0.9 }],
    time: list(1, 2, 3),
    rms: list(1, 1, 1),
    blockDuration: 1,
    timeConstant: 5,
    skipped: 0,
  })

  // Three blocks of a second and a band of 1 Hz know 2·1·3 = 6, whatever the average that was read, or what one reading knows.
  it.each([
    [1, 3],
    [1.9, 5.7],
    [2.1, 6],
    [5, 6],
    [10, 10],
  ])('of three readings of %f each: %f', (single, expected) => {
    expect(bandStatistic(history(single, null)).bands[0].degreesOfFreedom).toBeCloseTo(expected, 12)
  })

  it('leave no doubt from four lines and from 1 dB on', () => {
    const flags = (freedom: number, lines: number | null) => bandStatistic(history(freedom, lines)).bands[0].flags
    // 2·(10/ln 10)² = 37.722 make a standard deviation of 1 dB (closed form)
    expect(flags(37.8, 4)).toEqual([])
    expect(flags(37.8, 3.99)).toEqual(['few-lines'])
    expect(flags(37.7, 4)).toEqual(['short-record'])
    expect(flags(37.8, null)).toEqual([])
  })

  it('of a band are those of its lines and segments', () => {
    const flat = (estimation: object) => {
      const frequency = Array.from({ length: 41 }, (_, k) => k / 2)
      const [band] = oneThirdOctaveBands(
        { quantity: 'velocity', frequency, density: frequency.map(() => 1), ...estimation },
        { from: 10, to: 10 },
      ).bands
      return band.degreesOfFreedom
    }
    const lines = 4.615350323
    const hann = { ...told, window: 'hann', segmentLength: 64 } as const
    // Closed forms, w the window: neighbours share L·Σw⁴/(Σw²)², 1 for no window and 35/18 for Hann.
    expect(flat({ ...told, averages: 3, effectiveAverages: 3 })).toBeCloseTo(2 * 3 * lines, 8)
    expect(flat({ ...hann, averages: 3, effectiveAverages: 3 })).toBeCloseTo(6 * (1 + (lines - 1) / (35 / 18)), 8)
    // Two half-overlapping Hann segments are 2/(1 + 1/36) = 1.945946 independent ones, and what they share is
    // (36/37)·(35/18)·(1 + 3/70) = 73/37, since Σw⁴ of one and Σw²w² of both are as 70 to 3
    const half = { ...hann, overlap: 0.5, averages: 2, effectiveAverages: 72 / 37 }
    expect(flat(half)).toBeCloseTo(2 * (72 / 37) * (1 + (lines - 1) / (73 / 37)), 7)
    for (const key of ['window', 'segmentLength', 'overlap', 'averages', 'effectiveAverages']) {
      expect(flat({ ...half, [key]: undefined })).toBeNull()
    }
    expect(flat({ ...half, average: 'mean' })).not.toBeNull()
    expect(flat({ ...half, average: 'median' })).toBeNull()
  })

  it('of a level are twice bandwidth times duration', () => {
    // √(ν/χ²) of ν = 10 (SciPy 1.17): χ² is 18.307038 at 95 % and 3.940299 at 5 %; (10/ln 10)/√5 dB
    expect(levelConfidence({ bandwidth: 2, duration: 2.5 })).toEqual({
      kind: 'LevelConfidence',
      degreesOfFreedom: 10,
      standardDeviationDecibels: near(1.942224, 6),
      lower: near(0.739079, 6),
      upper: near(1.593072, 6),
      confidence: 0.95,
    })
  })
})
