import { describe, expect, it } from 'vitest'
import {
  channel,
  delay,
  type FrequencyResponse,
  type FrequencyResponseOptions,
  frequencyResponse,
  gain,
  integrator,
  parallel,
  type StateSpace,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const oscillator = stateSpace({
  A: [
    [0, 1],
    [-100, -2],
  ],
  B: [[0], [1]],
  C: [
    [1, 0],
    [0, 1],
  ],
  inputs: ['force'],
  outputs: ['displacement', 'velocity'],
})
const hertz = (omega: number) => omega / (2 * Math.PI)

/** Two inputs, three outputs, every channel another constant. */
const table = gain(
  [
    [1, 2],
    [3, 4],
    [5, 6],
  ],
  { inputs: ['a', 'b'], outputs: ['p', 'q', 'r'] },
)

describe('frequencyResponse', () => {
  it('is C (jω − A)⁻¹ B + D', () => {
    const { frequency, re, im } = frequencyResponse(oscillator, [0, hertz(10), hertz(20)])
    // by hand: 1/(100 − ω² + 2jω) is 1/100, 1/(20j) and 1/(−300 + 40j); velocity is jω times that
    const wanted = {
      re: [0.01, 0, -300 / 91600, 0, 0.5, 800 / 91600],
      im: [0, -0.05, -40 / 91600, 0, 0, -6000 / 91600],
    }
    expect(frequency).toEqual(Float64Array.of(0, hertz(10), hertz(20)))
    // a few ε of the largest entry
    wanted.re.forEach((value, k) => {
      expect(re[k]).toBeCloseTo(value, 15)
      expect(im[k]).toBeCloseTo(wanted.im[k], 15)
    })
  })

  it('puts channels in the order asked, frequency fastest', () => {
    const grid = [1, 2, 3]
    const flat = (options: FrequencyResponseOptions) => Array.from(frequencyResponse(table, grid, options).re)
    const thrice = (values: number[]) => values.flatMap((value) => [value, value, value])
    expect(flat({})).toEqual(thrice([1, 2, 3, 4, 5, 6]))
    expect(flat({ inputs: ['b'] })).toEqual(thrice([2, 4, 6]))
    expect(flat({ outputs: ['r', 'p'] })).toEqual(thrice([5, 6, 1, 2]))
    expect(flat({ inputs: ['b', 'a'], outputs: ['q'] })).toEqual(thrice([4, 3]))
    expect(frequencyResponse(table, grid, { inputs: ['b', 'a'], outputs: ['q'] })).toMatchObject({
      kind: 'FrequencyResponse',
      inputs: ['b', 'a'],
      outputs: ['q'],
    })
  })

  it('takes the same channel twice, or none', () => {
    expect(Array.from(frequencyResponse(table, [1], { inputs: ['a', 'a'], outputs: ['q'] }).re)).toEqual([3, 3])
    expect(frequencyResponse(table, [1], { inputs: [] }).re.length).toBe(0)
    expect(frequencyResponse(stateSpace({ A: [[-1]], B: [[]], C: [] }), [1]).re.length).toBe(0)
  })

  it('of a system without states is its gain at every frequency', () => {
    const { re, im } = frequencyResponse(gain(-3), [0, 1e-9, 1e9])
    expect(Array.from(re)).toEqual([-3, -3, -3])
    expect(im.every((value) => value === 0)).toBe(true)
  })

  it('of a delay turns exactly, however far', () => {
    // by hand: e^(−jωτ) with ωτ = 2π·(0, 1/4, 1/2, 1000 + 1/8)
    const { re, im } = frequencyResponse(delay({ seconds: 0.5 }), [0, 0.5, 1, 2000.25])
    const wanted = [1, 0, -1, Math.SQRT1_2]
    // ωτ = 6284 itself is rounded to 5e-13
    wanted.forEach((value, k) => {
      expect(re[k]).toBeCloseTo(value, 12)
    })
    const lag = [0, -1, 0, -Math.SQRT1_2]
    lag.forEach((value, k) => {
      expect(im[k]).toBeCloseTo(value, 12)
    })
  })

  it('takes a Float64Array as grid and keeps a copy', () => {
    const grid = Float64Array.of(1, 2)
    const { frequency } = frequencyResponse(gain(1), grid)
    grid[0] = 9
    expect(Array.from(frequency)).toEqual([1, 2])
  })

  it('leaves its arguments alone', () => {
    const before = structuredClone(oscillator)
    const options = { outputs: ['velocity'] } as const
    frequencyResponse(oscillator, [1, 2], options)
    expect(oscillator).toEqual(before)
    expect(options).toEqual({ outputs: ['velocity'] })
  })
})

describe('frequencyResponse where a pole lies on the grid', () => {
  const beside = parallel(
    series(integrator(), gain([[1], [0]])),
    series(transferFunction({ numerator: [2], denominator: [1, 1] }), gain([[0], [1]])),
  )

  it('is singular for an integrator at 0 Hz, and only there', () => {
    const error = refusal(() => frequencyResponse(integrator({ input: 'rate', output: 'sum' }), [0, 1]))
    expect(error).toMatchObject({ code: 'singular', details: { path: 'frequencies', value: 0, unit: 'Hz' } })
    expect(error.message).toContain('rate to sum')
    // by hand: 1/(2πj)
    expect(frequencyResponse(integrator(), [1]).im[0]).toBeCloseTo(-0.15915494309189535, 15)
  })

  it('is singular only where a requested channel has the pole', () => {
    expect(refusal(() => frequencyResponse(beside, [0])).code).toBe('singular')
    expect(refusal(() => frequencyResponse(beside, [0], { outputs: ['y1'] })).code).toBe('singular')
    // by hand: 2/(0 + 1)
    expect(frequencyResponse(beside, [0], { outputs: ['y2'] }).re[0]).toBeCloseTo(2, 14)
  })

  it('is singular through delays as well', () => {
    const late = series(integrator(), delay({ seconds: 0.1 }))
    expect(refusal(() => frequencyResponse(late, [0])).code).toBe('singular')
    expect(Math.hypot(frequencyResponse(late, [1]).re[0], frequencyResponse(late, [1]).im[0])).toBeCloseTo(
      // by hand: 1/2π
      0.15915494309189535,
      14,
    )
  })

  it('names the frequency of an undamped resonance', () => {
    // by hand: s² + 64 vanishes at 8 rad/s
    const undamped = transferFunction({ numerator: [1], denominator: [1, 0, 64] })
    const error = refusal(() => frequencyResponse(undamped, [1, hertz(8)]))
    expect(error.code).toBe('singular')
    expect(error.details.value).toBeCloseTo(1.2732395447351628, 14)
  })

  it('gives a number wherever the grid misses the pole, however narrowly', () => {
    // computed from the closed form 1/(64 − ω²) at ω = 8(1 + 2⁻³⁰): −8388607.998
    const undamped = transferFunction({ numerator: [1], denominator: [1, 0, 64] })
    const { re } = frequencyResponse(undamped, [hertz(8 * (1 + 2 ** -30))])
    // the difference of squares loses 30 of 53 bits
    expect(re[0] / -8388607.996).toBeCloseTo(1, 6)
  })
})

describe('frequencyResponse refuses', () => {
  const refused = (frequencies: unknown, options?: unknown, system: unknown = oscillator) =>
    refusal(() => frequencyResponse(system as StateSpace, frequencies as number[], options as FrequencyResponseOptions))

  it.each([
    ['unknown inputs', [1], { inputs: ['torque'] }, 'unknown-port', 'inputs[0]'],
    ['unknown outputs', [1], { outputs: ['velocity', 'angle'] }, 'unknown-port', 'outputs[1]'],
    ['inputs that are no list', [1], { inputs: 'force' }, 'invalid-option', 'inputs'],
    ['unknown keys', [1], { input: ['force'] }, 'invalid-option', 'input'],
    ['a negative frequency', [-1, 1], {}, 'out-of-range', 'frequencies[0]'],
    ['a frequency that is not a number', [1, Number.NaN], {}, 'not-finite', 'frequencies[1]'],
    ['an infinite frequency', [1, Number.POSITIVE_INFINITY], {}, 'not-finite', 'frequencies[1]'],
    ['a descending grid', [1, 3, 2], {}, 'invalid-option', 'frequencies[2]'],
    ['a repeated frequency', [1, 1], {}, 'invalid-option', 'frequencies[1]'],
    ['an empty grid', [], {}, 'invalid-option', 'frequencies'],
    ['a single number', 5, {}, 'invalid-option', 'frequencies'],
  ])('%s', (_, frequencies, options, code, path) => {
    expect(refused(frequencies, options)).toMatchObject({
      code,
      details: { function: 'frequencyResponse', path },
    })
  })

  it('a malformed system, by the path of its fault', () => {
    expect(refused([1], {}, { ...oscillator, kind: 'Spectrum' })).toMatchObject({ code: 'invalid-option' })
    const faulty = { ...oscillator, C: [[1, 0], [0, Number.NaN]] } // biome-ignore format: small matrix
    expect(refused([1], {}, faulty)).toMatchObject({ code: 'not-finite', details: { path: 'system.C[1][1]' } })
    expect(refused([1], {}, { ...oscillator, D: [[0]] })).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'system.D' },
    })
    expect(refused([1], {}, null).code).toBe('invalid-option')
  })
})

describe('channel', () => {
  const response = frequencyResponse(table, [1, 2])

  it('is a view on one channel', () => {
    const series = channel(response, { input: 'b', output: 'r' })
    expect(series.kind).toBe('ComplexSeries')
    expect(Array.from(series.re)).toEqual([6, 6])
    expect(series.re.buffer).toBe(response.re.buffer)
    expect(series.frequency).toBe(response.frequency)
  })

  it('refuses names there are not, unknown keys, and what is no response', () => {
    const refused = (options: object, of: unknown = response) =>
      refusal(() => channel(of as FrequencyResponse, options as { input: string; output: string }))
    expect(refused({ input: 'c', output: 'p' })).toMatchObject({ code: 'unknown-port', details: { path: 'input' } })
    expect(refused({ input: 'a', output: 's' })).toMatchObject({ code: 'unknown-port', details: { path: 'output' } })
    expect(refused({ input: 'a', output: 'p', gain: 2 })).toMatchObject({ details: { path: 'gain' } })
    expect(refused({ input: 'a', output: 'p' }, table).code).toBe('invalid-option')
    expect(refused({ input: 'a', output: 'p' }, null).code).toBe('invalid-option')
  })
})
