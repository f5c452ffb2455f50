import { describe, expect, it } from 'vitest'
import {
  type ComplexSeries,
  channel,
  decibels,
  delay,
  frequencyResponse,
  logFrequencies,
  magnitude,
  phaseDegrees,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const seriesOf = (values: readonly (readonly [number, number])[]): ComplexSeries => ({
  kind: 'ComplexSeries',
  frequency: Float64Array.from(values, (_, k) => k + 1),
  re: Float64Array.from(values, ([re]) => re),
  im: Float64Array.from(values, ([, im]) => im),
})

describe('magnitude', () => {
  it('is the modulus, without overflow', () => {
    // by hand
    const [first, zero, large] = magnitude(
      seriesOf([
        [3, -4],
        [0, 0],
        [3e200, 4e200],
      ]),
    )
    expect([first, zero]).toEqual([5, 0])
    expect(large / 5e200).toBeCloseTo(1, 15)
  })
})

describe('decibels', () => {
  it('is twenty times the logarithm, minus infinity at zero', () => {
    // IEC 60027-3: level of a field quantity, 20 lg |z|
    const levels = decibels(seriesOf([[10, 0], [0, -1], [0.6, 0.8], [0, 0]])) // biome-ignore format: one line
    expect(levels[0]).toBe(20)
    expect(levels[1]).toBe(0)
    expect(levels[2]).toBeCloseTo(0, 14)
    expect(levels[3]).toBe(Number.NEGATIVE_INFINITY)
  })
})

describe('phaseDegrees', () => {
  it('starts between −180 and 180 and goes on without jumps', () => {
    // by hand: the third and fourth quadrants follow on −90
    const turning = seriesOf([[1, 0], [0, -1], [-1, -1e-9], [-1, 1e-9], [0, 1], [1, 0]]) // biome-ignore format: one line
    const phase = phaseDegrees(turning)
    const wanted = [0, -90, -180, -180, -270, -360]
    // the two samples beside −180° lie 6e-8 degrees from it
    wanted.forEach((value, k) => {
      expect(phase[k]).toBeCloseTo(value, 6)
    })
    expect(phaseDegrees(seriesOf([[-1, 0]]))[0]).toBe(180)
  })

  it('follows a delay through many turns', () => {
    const grid = Float64Array.from({ length: 401 }, (_, k) => k / 4)
    const phase = phaseDegrees(channel(frequencyResponse(delay({ seconds: 0.4 }), grid), { input: 'u1', output: 'y1' }))
    // by hand: −360°·0.4 s·100 Hz
    expect(phase[400]).toBeCloseTo(-14400, 8)
  })
})

describe('all three', () => {
  it.each([
    ['magnitude', magnitude],
    ['decibels', decibels],
    ['phaseDegrees', phaseDegrees],
  ])('%s refuses what is no series', (name, f) => {
    const bad = seriesOf([[1, 2]])
    const refused = (value: unknown) => refusal(() => f(value as ComplexSeries))
    expect(refused([1, 2])).toMatchObject({ code: 'invalid-option', details: { function: name } })
    expect(refused(undefined).code).toBe('invalid-option')
    expect(refused({ ...bad, im: [2] }).code).toBe('invalid-option')
    expect(refused({ ...bad, im: Float64Array.of(1, 2) }).code).toBe('dimension-mismatch')
    expect(refused({ ...bad, re: Float64Array.of(Number.NaN) }).code).toBe('not-finite')
    expect(refused({ ...bad, im: Float64Array.of(Number.POSITIVE_INFINITY) }).code).toBe('not-finite')
  })

  it('leave the series alone', () => {
    const series = seriesOf([[3, 4]])
    magnitude(series)
    decibels(series)
    phaseDegrees(series)
    expect(series).toEqual(seriesOf([[3, 4]]))
  })
})

describe('logFrequencies', () => {
  it('has equal ratios and both ends exact', () => {
    const grid = logFrequencies({ from: 0.3, to: 700, count: 50 })
    expect([grid.length, grid[0], grid[49]]).toEqual([50, 0.3, 700])
    // computed from the closed form (700/0.3)^(1/49)
    for (let k = 1; k < 50; k++) expect(grid[k] / grid[k - 1]).toBeCloseTo(1.1714782239312254, 14)
  })

  it('spans the whole range of numbers', () => {
    // by hand: equal ratios of 1e150; a power is good to ε times its exponent
    const grid = logFrequencies({ from: 1e-300, to: 1e300, count: 5 })
    for (const [k, value] of [1e-300, 1e-150, 1, 1e150, 1e300].entries()) expect(grid[k] / value).toBeCloseTo(1, 12)
  })

  it('refuses more frequencies than there are numbers between the ends', () => {
    expect(Array.from(logFrequencies({ from: 1, to: 2, count: 2 }))).toEqual([1, 2])
    const error = refusal(() => logFrequencies({ from: 1, to: 1 + 1e-14, count: 1000 }))
    expect(error).toMatchObject({ code: 'out-of-range', details: { path: 'count', value: 1000 } })
  })

  it.each([
    [{ from: 0, to: 1, count: 3 }, 'out-of-range', 'from'],
    [{ from: -1, to: 1, count: 3 }, 'out-of-range', 'from'],
    [{ from: Number.NaN, to: 1, count: 3 }, 'not-finite', 'from'],
    [{ from: 2, to: 1, count: 3 }, 'out-of-range', 'to'],
    [{ from: 2, to: 2, count: 3 }, 'out-of-range', 'to'],
    [{ from: 2, to: Number.POSITIVE_INFINITY, count: 3 }, 'not-finite', 'to'],
    [{ from: 1, to: 2, count: 1 }, 'out-of-range', 'count'],
    [{ from: 1, to: 2, count: 2.5 }, 'out-of-range', 'count'],
    [{ from: 1, to: 2, count: '3' }, 'invalid-option', 'count'],
    [{ from: 1, to: 2, count: 3, per: 'decade' }, 'invalid-option', 'per'],
    [undefined, 'invalid-option', ''],
  ])('refuses %o', (options, code, path) => {
    const call = () => logFrequencies(options as { from: number; to: number; count: number })
    expect(refusal(call)).toMatchObject({ code, details: { function: 'logFrequencies', path } })
  })
})
