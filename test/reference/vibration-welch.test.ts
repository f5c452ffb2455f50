import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Detrend, rms, spectrum, transferEstimate, type WindowName, welch } from '../../src/vibration/index.js'
import { oneThirdOctaveBands } from '../../src/vibration/one-third-octave-bands.js'

interface Case {
  readonly options: { segmentLength: number; overlap: number; window: WindowName; detrend: Detrend }
  readonly average: 'mean' | 'median'
  readonly x: number[]
  readonly y?: number[]
  readonly frequency: number[]
  readonly density: number[]
  readonly outputDensity: number[]
  readonly re: number[]
  readonly im: number[]
  readonly coherence: number[]
}

const load = (name: string) => JSON.parse(readFileSync(new URL(`./data/${name}.json`, import.meta.url), 'utf8'))
const reference = load('welch') as { sampleRate: number; cases: Case[] }
const sampleRate = reference.sampleRate

/** Both sides are sums of a few hundred products in double precision: 1e-9 of the largest entry leaves ample room. */
function expectAllClose(actual: ArrayLike<number>, expected: readonly number[], relative = 1e-9): void {
  expect(actual.length).toBe(expected.length)
  const scale = Math.max(...expected.map(Math.abs))
  expected.forEach((value, k) => {
    expect(Math.abs(actual[k] - value), `entry ${k}`).toBeLessThanOrEqual(relative * scale)
  })
}

describe('agreement with SciPy on random records', () => {
  for (const { options, average, x, frequency, density } of reference.cases) {
    it(`density: ${JSON.stringify(options)}, ${average}`, () => {
      const result = welch({ samples: x, sampleRate, ...options, average })
      expectAllClose(result.frequency, frequency)
      expectAllClose(result.density, density)
    })
  }

  for (const { options, x, y, density, outputDensity, re, im, coherence } of reference.cases) {
    if (y === undefined) continue
    it(`transfer estimate: ${JSON.stringify(options)}`, () => {
      const result = transferEstimate({ input: x, output: y, sampleRate, ...options })
      expectAllClose(result.inputDensity, density)
      expectAllClose(result.outputDensity, outputDensity)
      expect(result.undefinedLines).toEqual([])
      expectAllClose(result.re, re)
      expectAllClose(result.im, im)
      expectAllClose(result.coherence, coherence)
    })
  }
})

describe('published traps', () => {
  const [segments, bands] = load('spectral-cases')

  it(`${segments.id}: ${segments.title}`, () => {
    const { x, y, fs, segment, overlap } = segments.input
    const { f, Sxx, Syy, Sxy, H1, coherence, sum_Sxx_df, segments: count } = segments.expected
    const options = { sampleRate: fs, segmentLength: segment, overlap: overlap / segment }
    const density = welch({ samples: x, ...options })
    expectAllClose(density.frequency, f)
    expectAllClose(density.density, Sxx)
    expect(density.averages).toBe(count)
    expect(Math.abs(rms(density) ** 2 / sum_Sxx_df - 1)).toBeLessThan(1e-9)
    const estimate = transferEstimate({ input: x, output: y, ...options })
    expectAllClose(estimate.outputDensity, Syy)
    // H1 and coherence at 0 Hz are not compared after detrending.
    for (let k = 1; k < f.length; k++) {
      expect(estimate.re[k]).toBeCloseTo(H1[k][0], 10)
      expect(estimate.im[k]).toBeCloseTo(H1[k][1], 10)
      expect(estimate.coherence[k]).toBeCloseTo(coherence[k], 10)
      expect(estimate.re[k] * estimate.inputDensity[k]).toBeCloseTo(Sxy[k][0], 12)
    }
  })

  it(`${bands.id}: ${bands.title}`, () => {
    const { S0, df } = bands.input
    const frequency = Array.from({ length: 1000 }, (_, k) => k * df)
    const floor = spectrum({ quantity: 'velocity', frequency, density: frequency.map(() => S0) })
    const all = oneThirdOctaveBands(floor, { from: 0.1, to: 100 }).bands
    for (const level of bands.expected.levels) {
      const band = all.find((entry) => Math.abs(entry.centre / level.centre - 1) < 1e-12)
      expect(band?.lower).toBeCloseTo(level.lower, 12)
      expect(band?.upper).toBeCloseTo(level.upper, 12)
      // 1e-9 as the case demands; lines are shared with a few roundings only.
      expect(Math.abs((band?.rms ?? 0) / level.rms - 1)).toBeLessThan(1e-9)
      expect(Math.abs((band?.rms ?? 0) ** 2 / level.mean_square - 1)).toBeLessThan(1e-9)
    }
  })
})
