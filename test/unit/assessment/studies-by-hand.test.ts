import { describe, expect, it } from 'vitest'
import { mergeSweeps, sweep, toleranceStudy } from '../../../src/assessment/index.js'
import { rankCorrelation } from '../../../src/assessment/rank-correlation.js'
import type { Tolerance } from '../../../src/assessment/tolerance.js'
import { springMount } from '../../../src/elements/index.js'

describe('a sweep, shared out', () => {
  const parameters = { a: [1, 2, 3], b: [10, 20] }
  const evaluate = ({ a, b }: { a: number; b: number }) => ({ sum: a + b })
  const progress: [number, number, number][] = []
  const part = (index: number, more: object = {}) =>
    sweep({
      parameters,
      evaluate,
      shard: { index, count: 4 },
      onProgress: ({ done, total, row }) => progress.push([done, total, row.index]),
      ...more,
    })

  it('gives each shard the points that leave its number, and tells how far it has come', () => {
    expect(part(1).rows.map(({ index }) => index)).toEqual([1, 5])
    expect(part(3).rows).toEqual([{ index: 3, parameters: { a: 2, b: 20 }, result: { sum: 22 }, error: null }])
    expect(progress).toEqual([
      [1, 2, 1],
      [2, 2, 5],
      [1, 1, 3],
    ])
    expect(part(1)).toMatchObject({ kind: 'SweepResult', total: 6, failed: 0 })
  })

  it('keeps rows of an earlier run, and counts them as done', () => {
    progress.length = 0
    const kept = { index: 1, parameters: { a: 1, b: 20 }, result: { sum: -1 }, error: null }
    expect(part(1, { resume: [kept] }).rows.map(({ result }) => result)).toEqual([{ sum: -1 }, { sum: 23 }])
    expect(progress).toEqual([[2, 2, 5]])
  })

  it('is whole again when merged, with the number of its failures', () => {
    const broken = ({ a, b }: { a: number; b: number }) => {
      if (a === 2) throw new Error('no')
      return { sum: a + b }
    }
    const merged = mergeSweeps([3, 0, 2, 1].map((index) => part(index, { evaluate: broken })))
    expect([merged.total, merged.failed]).toEqual([6, 2])
    expect(merged.rows.map(({ index, result }) => [index, result?.sum ?? null])).toEqual([
      [0, 11],
      [1, 21],
      [2, null],
      [3, null],
      [4, 13],
      [5, 23],
    ])
  })

  it('of no points has none', () => {
    expect(mergeSweeps([{ kind: 'SweepResult', total: 0, rows: [], failed: 0 }])).toMatchObject({ total: 0, rows: [] })
    expect(sweep({ parameters: { a: [1] }, evaluate: ({ a }) => ({ a }), shard: { index: 2, count: 3 } }).rows).toEqual(
      [],
    )
  })

  it.each<[unknown, object | null]>([
    [{ y: Number.NaN }, { code: 'not-finite', message: 'sweep: evaluate returned NaN as y' }],
    [{ y: [1] }, { code: 'invalid-option', message: 'sweep: evaluate returned an array as y' }],
    [{ y: undefined }, { code: 'invalid-option', message: 'sweep: evaluate returned undefined as y' }],
    [null, { code: 'invalid-option', message: 'sweep: evaluate must return a record, got null' }],
    [3, { code: 'invalid-option', message: 'sweep: evaluate must return a record, got 3' }],
    [[1], { code: 'invalid-option', message: 'sweep: evaluate must return a record, got an array' }],
    [Float64Array.of(1), { code: 'invalid-option', message: 'sweep: evaluate must return a record, got an array' }],
    [{ y: null, text: 'a', truth: true, far: Infinity }, null],
  ])('of %o says what is wrong with it', (result, error) => {
    const { rows, failed } = sweep({ parameters: { x: [1] }, evaluate: () => result as object })
    expect(rows[0]).toEqual({ index: 0, parameters: { x: 1 }, result: error === null ? result : null, error })
    expect(failed).toBe(error === null ? 0 : 1)
  })

  it('keeps the code of an error of this package', () => {
    const { rows } = sweep({ parameters: { x: [-1] }, evaluate: ({ x }) => springMount({ stiffness: x }) })
    expect(rows[0].error).toEqual({
      code: 'out-of-range',
      message: 'springMount: stiffness must be a finite number above 0 [N/m], got -1',
    })
  })
})

describe('a tolerance', () => {
  const drawn = (tolerance: Partial<Tolerance>, samples = 4000) => {
    const seen: number[] = []
    toleranceStudy({
      tolerances: { x: { nominal: 10, ...tolerance } },
      samples,
      seed: 3,
      corners: 'none',
      evaluate: ({ x }) => seen.push(x) > 0,
    })
    expect(seen[0]).toBe(10)
    return seen.slice(1)
  }
  const mean = (list: number[]) => list.reduce((sum, x) => sum + x, 0) / list.length

  it('that is even has its mean in the middle, a third of the squared half width for variance, and ends near its own', () => {
    const seen = drawn({ absolute: 2 })
    // Standard errors of 4000 samples: 0.018 of the mean, 0.019 of the variance of 4/3
    expect(Math.abs(mean(seen) - 10)).toBeLessThan(0.08)
    expect(Math.abs(mean(seen.map((x) => (x - 10) ** 2)) - 4 / 3)).toBeLessThan(0.08)
    expect([Math.min(...seen) >= 8, Math.max(...seen) <= 12]).toEqual([true, true])
    expect([Math.min(...seen) < 8.01, Math.max(...seen) > 11.99]).toEqual([true, true])
  })

  it('that is Gaussian has a third of its half width for standard deviation, on both sides alike', () => {
    const seen = drawn({ absolute: 3, distribution: 'normal' })
    // 0.97334 with what is beyond three standard deviations drawn again; standard error 0.016 of the mean
    expect(Math.abs(mean(seen) - 10)).toBeLessThan(0.07)
    expect(Math.abs(mean(seen.map((x) => (x - 10) ** 2)) - 0.97334)).toBeLessThan(0.08)
    // 68.27 % within one: tables of the normal distribution; standard error 0.7 %
    expect(Math.abs(seen.filter((x) => Math.abs(x - 10) < 1).length / 4000 - 0.6827)).toBeLessThan(0.03)
  })
})

describe('a study', () => {
  const study = (more: object) =>
    toleranceStudy({
      tolerances: { a: { nominal: 10, absolute: 1 }, b: { nominal: 5, absolute: 5 } },
      samples: 40,
      seed: 2,
      evaluate: ({ a, b }: { a: number; b: number }) => ({ pass: a > 9.5, values: { a, less: -b, even: 1 } }),
      ...more,
    })

  it('says where each value is least and largest, and what moves it, the strongest first', () => {
    const { values, influence, kind, nominal, stability } = study({})
    expect(kind).toBe('ToleranceStudy')
    expect(nominal).toEqual({
      parameters: { a: 10, b: 5 },
      pass: true,
      values: { a: 10, less: -5, even: 1 },
      error: null,
    })
    expect([values.a.least, values.a.largest, values.less.least, values.less.largest]).toEqual([9, 11, -10, -0])
    expect([values.a.atLeast.a, values.less.atLeast.b, values.less.atLargest.b]).toEqual([9, 10, 0])
    expect(Object.keys(influence)).toEqual(['a', 'less', 'even', 'pass'])
    expect(influence.a[0]).toEqual({ parameter: 'a', correlation: expect.closeTo(1, 12) })
    expect(influence.less[0]).toEqual({ parameter: 'b', correlation: expect.closeTo(-1, 12) })
    expect(Math.abs(influence.a[1].correlation)).toBeLessThan(0.5)
    // What does not move has no rank.
    expect(influence.even).toEqual([])
    expect(influence.pass[0].parameter).toBe('a')
    expect(influence.pass[0].correlation).toBeGreaterThan(0.5)
    expect(stability).toBeNull()
  })

  it('keeps ten failures at most, random ones alone, and counts corners apart', () => {
    const { failures, corners, yield: share } = study({ evaluate: () => false })
    expect([failures.length, corners.tried, corners.failing.length]).toEqual([10, 4, 4])
    expect(share).toMatchObject({ passed: 0, samples: 40, share: 0, low: 0 })
    const some = study({})
    expect(some.failures.every(({ parameters, pass }) => !pass && parameters.a <= 9.5)).toBe(true)
    expect(some.yield.passed + some.failures.length).toBe(40)
  })

  it('has each end by itself, the lower one first, or none', () => {
    const ends = (corners: string) => study({ corners, evaluate: () => false }).corners
    expect(ends('one-at-a-time').failing.map(({ parameters }) => parameters)).toEqual([
      { a: 9, b: 5 },
      { a: 11, b: 5 },
      { a: 10, b: 0 },
      { a: 10, b: 10 },
    ])
    expect(ends('none')).toEqual({ tried: 0, failing: [] })
    expect(ends('all').failing.map(({ parameters }) => parameters)).toEqual([
      { a: 9, b: 0 },
      { a: 11, b: 0 },
      { a: 9, b: 10 },
      { a: 11, b: 10 },
    ])
  })

  it('goes through all corners up to six parameters, and each end beyond', () => {
    const of = (count: number) => {
      const tolerances = Object.fromEntries(
        Array.from({ length: count }, (_, k) => [`x${k}`, { nominal: 1, relative: 0.1 }]),
      )
      return toleranceStudy({ tolerances, samples: 1, seed: 1, evaluate: () => true }).corners.tried
    }
    expect([of(6), of(7)]).toEqual([64, 14])
  })

  it('has an envelope of all that came to an end, and none without a transmissibility', () => {
    const frequency = Float64Array.of(1, 2)
    const { envelope } = study({
      samples: 3,
      evaluate: ({ a, b }: { a: number; b: number }) => ({
        pass: true,
        // |3 a + 4 a j| = 5 a at 1 Hz, b at 2 Hz
        transmissibility: {
          kind: 'ComplexSeries',
          frequency,
          re: Float64Array.of(3 * a, b),
          im: Float64Array.of(4 * a, 0),
        },
      }),
    })
    expect(envelope).toEqual({
      frequency,
      nominal: Float64Array.of(50, 5),
      low: Float64Array.of(45, 0),
      high: Float64Array.of(55, 10),
    })
    expect(study({}).envelope).toBeNull()
  })
})

describe('a rank correlation', () => {
  // Spearman 1904; by hand from 1 − 6Σd²/(n³ − n), or from Pearson's formula on mean ranks where there are ties
  it.each([
    [[1, 2, 3, 4, 5], [1, 2, 3, 4, 5], 1],
    [[1, 2, 3, 4, 5], [50, 40, 30, 20, 10], -1],
    // d = 1, −1, 0, 2, −2
    [[10, 20, 30, 40, 50], [2, 1, 3, 6, 4], 1 - (6 * 4) / 120],
    // ranks 0.5 0.5 2.5 2.5 against 0 1 2 3: 4/√(4·5)
    [[1, 1, 2, 2], [0, 1, 2, 3], 4 / Math.sqrt(20)],
    // three alike in the middle: 0 2 2 2 4 against 0 1 2 3 4: 8/√(8·10)
    [[1, 5, 5, 5, 9], [1, 2, 3, 4, 5], 8 / Math.sqrt(80)],
  ])('of %o and %o is %d', (a, b, expected) => {
    expect(rankCorrelation(a, b)).toBeCloseTo(expected, 12)
    expect(rankCorrelation(b, a)).toBeCloseTo(expected, 12)
  })

  it('of a constant is none', () => {
    expect([rankCorrelation([1, 1, 1], [1, 2, 3]), rankCorrelation([1, 2, 3], [4, 4, 4])]).toEqual([null, null])
  })
})
