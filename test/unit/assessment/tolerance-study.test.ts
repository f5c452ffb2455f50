import { describe, expect, it } from 'vitest'
import { rankCorrelation } from '../../../src/assessment/rank-correlation.js'
import {
  fromJson,
  IsolationError,
  passiveIsolation,
  stability,
  toJson,
  toleranceStudy,
  transferFunction,
  transmissibility,
} from '../../../src/index.js'
import { randomNumbers } from '../../../src/internal/random-numbers.js'
import { refusal } from '../refusal.js'

const box = { mass: { nominal: 100, relative: 0.2 }, stiffness: { nominal: 1e4, relative: 0.1 } }
const isolated = ({ mass, stiffness }: { mass: number; stiffness: number }) => {
  const model = passiveIsolation({ payload: { mass }, mount: { stiffness, damping: 100 } })
  const T = transmissibility(model, [1, 3, 10])
  return { pass: stiffness < 1.05e4, values: { omegaSquared: stiffness / mass }, transmissibility: T }
}

describe('yield', () => {
  it('is the share that passes, with its interval: 90 of 100', () => {
    let k = 0
    const study = toleranceStudy({
      tolerances: { x: { nominal: 1, absolute: 1 } },
      samples: 100,
      seed: 0,
      corners: 'none',
      evaluate: () => k++ % 10 !== 0 || k === 1,
    })
    // The nominal point is the first call; of the 100 samples the 10th, 20th, … 100th fail.
    // Wilson score interval at 95 %, computed from its closed form with 50 digits: 0.825634, 0.944771
    expect(study.yield).toMatchObject({ passed: 90, samples: 100, share: 0.9 })
    expect(study.yield.low).toBeCloseTo(0.825634, 6)
    expect(study.yield.high).toBeCloseTo(0.944771, 6)
  })

  it('has ends at 0 and 1 that are exact', () => {
    const all = (pass: boolean) =>
      toleranceStudy({ tolerances: box, samples: 10, seed: 1, evaluate: () => pass, corners: 'none' }).yield
    // Wilson 1927 at 0 of 10: z²/(n + z²) = 0.277533
    expect(all(false)).toMatchObject({ low: 0, share: 0 })
    expect(all(false).high).toBeCloseTo(0.277533, 6)
    expect(all(true)).toMatchObject({ high: 1, share: 1 })
  })

  it('comes near the true share: stiffness below +5 % of ±10 % is 3 of 4', () => {
    const study = toleranceStudy({ tolerances: box, samples: 2000, seed: 7, evaluate: isolated, corners: 'none' })
    expect(study.yield.low).toBeLessThan(0.75)
    expect(study.yield.high).toBeGreaterThan(0.75)
  })
})

describe('corners', () => {
  it('are all combinations of ends, and say which fail', () => {
    const { corners } = toleranceStudy({ tolerances: box, samples: 1, seed: 1, evaluate: isolated })
    expect(corners.tried).toBe(4)
    expect(corners.failing.map(({ parameters }) => parameters)).toEqual([
      { mass: 80, stiffness: 11000 },
      { mass: 120, stiffness: 11000 },
    ])
  })

  it('find the extremes that samples miss', () => {
    const { values } = toleranceStudy({ tolerances: box, samples: 5, seed: 1, evaluate: isolated })
    expect(values.omegaSquared.least).toBeCloseTo(9000 / 120, 12)
    expect(values.omegaSquared.largest).toBeCloseTo(11000 / 80, 12)
    expect(values.omegaSquared.atLargest).toEqual({ mass: 80, stiffness: 11000 })
  })

  it('one at a time are two per parameter', () => {
    const { corners } = toleranceStudy({
      tolerances: box,
      samples: 1,
      seed: 1,
      evaluate: isolated,
      corners: 'one-at-a-time',
    })
    expect(corners.tried).toBe(4)
    expect(corners.failing.map(({ parameters }) => parameters)).toEqual([{ mass: 100, stiffness: 11000 }])
  })
})

describe('stability over the whole box', () => {
  // Levelling of one chamber is stable exactly for κ < c/m (Routh): at the ends of ±20 % of 300 kg and ±10 % of c, for κ below
  // 0.9·c/360 kg = 1.5 1/s with c = 600 N·s/m. Poles of m·s³ + c·s² + k·s + k·κ, all the stiffness in the gas
  const study = (rate: number, bound = true) => {
    const system = ({ mass, damping }: { mass: number; damping: number }) =>
      transferFunction({ numerator: [1], denominator: [mass, damping, 2e4, 2e4 * rate] })
    return toleranceStudy({
      tolerances: { mass: { nominal: 300, relative: 0.2 }, damping: { nominal: 600, relative: 0.1 } },
      samples: 5,
      seed: 1,
      evaluate: (point) => stability(system(point)).verdict === 'stable',
      ...(bound && { system }),
    })
  }

  it('is proven with the ends of all tolerances just inside the limit', () => {
    expect(study(1.499).stability).toMatchObject({ verdict: 'proven', powers: { mass: -1, damping: 1 } })
  })

  it('is disproved just outside, by the heaviest payload with the least damping', () => {
    expect(study(1.501).stability?.counterexample).toEqual({ mass: 360, damping: 540 })
  })

  it('is not spoken of without a system, and refused for more parameters than can be proven', () => {
    expect(study(1, false).stability).toBeNull()
    const tolerances = Object.fromEntries(Array.from({ length: 7 }, (_, k) => [`x${k}`, { nominal: 1, relative: 0.1 }]))
    const system = () => transferFunction({ numerator: [1], denominator: [1, 1] })
    const many = () => toleranceStudy({ tolerances, samples: 1, seed: 1, evaluate: () => true, system })
    expect(refusal(many)).toMatchObject({ code: 'out-of-range', details: { path: 'system' } })
  })
})

describe('what strays', () => {
  it('lies inside the envelope, the nominal curve too', () => {
    const { envelope } = toleranceStudy({ tolerances: box, samples: 50, seed: 3, evaluate: isolated })
    expect(Array.from(envelope?.frequency ?? [])).toEqual([1, 3, 10])
    // Far above resonance |T| falls with mass and rises with stiffness, so the corners bound it: 10 Hz, closed form of
    // |T| with m = 120, k = 9000 and m = 80, k = 11000, c = 100
    expect(envelope?.low[2]).toBeCloseTo(0.0232, 3)
    expect(envelope?.high[2]).toBeCloseTo(0.0416, 3)
    expect(envelope?.nominal[2]).toBeGreaterThan(envelope?.low[2] ?? 1)
  })

  it('is blamed on the parameter that moves it: mass ±20 % before stiffness ±10 %', () => {
    const { influence } = toleranceStudy({ tolerances: box, samples: 400, seed: 3, evaluate: isolated })
    expect(influence.omegaSquared.map(({ parameter }) => parameter)).toEqual(['mass', 'stiffness'])
    expect(influence.omegaSquared[0].correlation).toBeLessThan(-0.8)
    expect(influence.omegaSquared[1].correlation).toBeGreaterThan(0.2)
    expect(influence.pass[0].parameter).toBe('stiffness')
  })
})

describe('widths', () => {
  const ends = (tolerance: object) =>
    toleranceStudy({
      tolerances: { x: { nominal: 10, ...tolerance } },
      samples: 200,
      seed: 1,
      evaluate: ({ x }) => ({ pass: true, values: { x } }),
    })

  it('are a share, an amount or decibels', () => {
    expect(ends({ relative: 0.1 }).values.x).toMatchObject({ least: 9, largest: 11 })
    expect(ends({ absolute: 2 }).values.x).toMatchObject({ least: 8, largest: 12 })
    expect(ends({ decibels: 20 }).values.x).toMatchObject({ least: 1, largest: 100 })
  })

  it('hold three standard deviations of a Gaussian', () => {
    const seen: number[] = []
    toleranceStudy({
      tolerances: { x: { nominal: 0, absolute: 3, distribution: 'normal' } },
      samples: 4000,
      seed: 5,
      corners: 'none',
      evaluate: ({ x }) => seen.push(x) > 0,
    })
    const meanSquare = seen.reduce((sum, x) => sum + x * x, 0) / seen.length
    // Standard deviation 1, cut at 3: variance 0.97334 (closed form); standard error of 4000 squares about 0.02
    expect(meanSquare).toBeGreaterThan(0.97334 - 0.06)
    expect(meanSquare).toBeLessThan(0.97334 + 0.06)
    expect(Math.max(...seen.map(Math.abs))).toBeLessThanOrEqual(3)
  })
})

it('gives the same study for the same seed and another one for another', () => {
  const study = (seed: number) => toleranceStudy({ tolerances: box, samples: 20, seed, evaluate: isolated })
  expect(study(1)).toEqual(study(1))
  expect(study(1)).not.toEqual(study(2))
})

it('counts what this package refuses as not passed, and lets other errors through', () => {
  const study = toleranceStudy({
    tolerances: box,
    samples: 30,
    seed: 1,
    evaluate: ({ mass }) => {
      if (mass > 100) throw new IsolationError('unstable', 'no steady state', { function: 'assess', path: 'model' })
      return { pass: true, values: { mass } }
    },
  })
  expect(study.yield.passed).toBeLessThan(30)
  expect(study.failures[0].error).toBe('no steady state')
  const broken = () =>
    toleranceStudy({
      tolerances: box,
      samples: 1,
      seed: 1,
      evaluate: () => {
        throw new TypeError('typing error')
      },
    })
  expect(broken).toThrow(TypeError)
})

it('refuses what is no study', () => {
  const refused = (options: object) =>
    refusal(() => toleranceStudy({ tolerances: box, samples: 2, seed: 1, evaluate: isolated, ...options }))
  const path = (options: object) => refused(options).details.path
  expect(path({ tolerances: {} })).toBe('tolerances')
  expect(path({ tolerances: { mass: { nominal: 1 } } })).toBe('tolerances.mass')
  expect(path({ tolerances: { mass: { nominal: 1, relative: 1, absolute: 1 } } })).toBe('tolerances.mass')
  expect(path({ tolerances: { mass: { nominal: 0, relative: 1 } } })).toBe('tolerances.mass')
  expect(path({ tolerances: { mass: { nominal: 1, relative: 0 } } })).toBe('tolerances.mass.relative')
  expect(path({ tolerances: { mass: { nominal: 1, relative: 1, distribution: 'even' } } })).toBe(
    'tolerances.mass.distribution',
  )
  expect(path({ samples: 0 })).toBe('samples')
  expect(path({ seed: -1 })).toBe('seed')
  expect(path({ evaluate: 1 })).toBe('evaluate')
  expect(path({ system: 1 })).toBe('system')
  expect(path({ evaluate: () => ({}) })).toBe('evaluate')
  expect(path({ evaluate: () => ({ pass: true, values: { x: Number.NaN } }) })).toBe('evaluate')
  let k = 0
  expect(path({ evaluate: () => ({ pass: true, values: { [`x${k++}`]: 1 } }) })).toBe('evaluate')
  const many = Object.fromEntries(Array.from({ length: 13 }, (_, i) => [`x${i}`, { nominal: 1, relative: 0.1 }]))
  expect(path({ tolerances: many, corners: 'all' })).toBe('corners')
  const T = (f: number[]) => ({
    kind: 'ComplexSeries',
    frequency: Float64Array.from(f),
    re: Float64Array.from(f),
    im: Float64Array.from(f),
  })
  expect(path({ evaluate: () => ({ pass: true, transmissibility: T([++k]) }) })).toBe('evaluate')
})

it('survives JSON', () => {
  const study = toleranceStudy({ tolerances: box, samples: 3, seed: 1, evaluate: isolated })
  expect(fromJson(toJson(study), { kind: 'ToleranceStudy' })).toEqual(study)
})

describe('pieces', () => {
  it('random numbers are even over [0, 1): mean and variance of 1e5', () => {
    const next = randomNumbers(42)
    const row = Array.from({ length: 1e5 }, next)
    const mean = row.reduce((sum, x) => sum + x, 0) / row.length
    const variance = row.reduce((sum, x) => sum + (x - mean) ** 2, 0) / row.length
    // Standard errors: 0.0009 of the mean, 0.00024 of the variance
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.004)
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(0.001)
    expect(Math.min(...row)).toBeGreaterThanOrEqual(0)
    expect(Math.max(...row)).toBeLessThan(1)
  })

  it('rank correlation of a textbook row with ties', () => {
    // 1 − 6·Σd²/(n³ − n) = 1 − 6·4/(4³ − 4) = 0.6 for ranks without ties (Spearman 1904)
    expect(rankCorrelation([1, 2, 3, 4], [2, 1, 4, 3])).toBeCloseTo(0.6, 12)
    // Pearson's formula on mean ranks 0.5 0.5 2 3 and 0 1 2 3: 4.5/√(4.5·5), computed by hand
    expect(rankCorrelation([1, 1, 5, 9], [0, 1, 2, 3])).toBeCloseTo(0.9486832980505138, 12)
    expect(rankCorrelation([1, 1], [1, 2])).toBeNull()
  })
})
