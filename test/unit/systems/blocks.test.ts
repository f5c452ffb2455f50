import { describe, expect, it } from 'vitest'
import {
  bandPass,
  delay,
  frequencyResponse,
  gain,
  highPass,
  integrator,
  leadLag,
  lowPass,
  notch,
  poles,
  type StateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const responseAt = (system: StateSpace, frequency: number) => {
  const { re, im } = frequencyResponse(system, [frequency])
  return { re: re[0], im: im[0], size: Math.hypot(re[0], im[0]) }
}
const gainAt = (system: StateSpace, frequency: number) => responseAt(system, frequency).size

describe('gain', () => {
  it('is a number or a matrix, without states', () => {
    expect(gain(-3)).toEqual({
      kind: 'StateSpace',
      A: [],
      B: [],
      C: [[]],
      D: [[-3]],
      inputs: ['u1'],
      outputs: ['y1'],
      states: [],
      delays: null,
    })
    const matrix = [
      [1, 2, 3],
      [4, 5, 6],
    ]
    const block = gain(matrix, { outputs: ['sum', 'difference'] })
    expect(block).toMatchObject({ D: matrix, inputs: ['u1', 'u2', 'u3'], outputs: ['sum', 'difference'], C: [[], []] })
    expect(block.D).not.toBe(matrix)
  })

  it('refuses what is neither, ragged rows, and names that do not fit', () => {
    expect(refusal(() => gain(Number.NaN)).code).toBe('not-finite')
    expect(refusal(() => gain('2' as never)).code).toBe('invalid-option')
    expect(refusal(() => gain([1, 2] as never)).code).toBe('invalid-option')
    expect(refusal(() => gain([[1, 2], [3]])).details.path).toBe('value[1]')
    expect(refusal(() => gain([[1, Number.POSITIVE_INFINITY]])).code).toBe('not-finite')
    expect(refusal(() => gain(2, { inputs: ['a', 'b'] })).code).toBe('dimension-mismatch')
    expect(refusal(() => gain([[1, 2]], { inputs: ['a', 'a'] })).code).toBe('duplicate-port')
    expect(refusal(() => gain(1, { input: 'a' } as never)).code).toBe('invalid-option')
  })
})

describe('integrator', () => {
  it('is 1/s', () => {
    // computed from the closed form 1/(2πi·f) at f = 1/(4π): −2i
    const { re, im } = responseAt(integrator(), 1 / (4 * Math.PI))
    expect(re).toBeCloseTo(0, 15)
    expect(im).toBeCloseTo(-2, 14)
    expect(integrator({ input: 'velocity', output: 'displacement' })).toMatchObject({
      inputs: ['velocity'],
      outputs: ['displacement'],
    })
    expect(refusal(() => integrator({ gain: 1 } as never)).code).toBe('invalid-option')
    expect(refusal(() => integrator({ input: 'a.b' })).details.path).toBe('input')
  })
})

describe('delay', () => {
  it('turns the phase and keeps the amplitude', () => {
    // computed from the closed form e^(−2πi·f·τ) at f τ = 1/8: (1 − i)/√2
    const { re, im } = responseAt(delay({ seconds: 0.05 }), 2.5)
    expect(re).toBeCloseTo(Math.SQRT1_2, 15)
    expect(im).toBeCloseTo(-Math.SQRT1_2, 15)
  })

  it('of zero seconds is a gain of one', () => {
    expect(delay({ seconds: 0 })).toEqual(gain(1))
  })

  it('refuses the future', () => {
    expect(refusal(() => delay({ seconds: -1e-3 }))).toMatchObject({
      code: 'out-of-range',
      details: { path: 'seconds', unit: 's', value: -1e-3 },
    })
    expect(refusal(() => delay({ seconds: Number.POSITIVE_INFINITY })).code).toBe('not-finite')
    expect(refusal(() => delay({} as never)).code).toBe('invalid-option')
  })
})

// Gains of a filter are one or two digits short of the machine precision at most: the sections are of one magnitude.
const digits = 13

describe('lowPass', () => {
  it('is of first order where nothing is said, with 1/√2 at the corner', () => {
    const filter = lowPass({ cutoff: 10 })
    expect(filter.states).toEqual(['x1'])
    // computed from the closed form ω/(s + ω) at s = iω: (1 − i)/2
    const { re, im } = responseAt(filter, 10)
    expect(re).toBeCloseTo(0.5, digits)
    expect(im).toBeCloseTo(-0.5, digits)
  })

  it.each([
    // computed from the closed form 1/√(1 + 2^(2n)), the gain an octave above the corner
    [1, 0.4472135954999579],
    [2, 0.24253562503633297],
    [3, 0.12403473458920847],
    [5, 0.031234752377721213],
    [8, 0.0039062201980186685],
  ])('of order %i is a Butterworth filter', (order, expected) => {
    const filter = lowPass({ cutoff: 25, order })
    expect(filter.states.length).toBe(order)
    expect(gainAt(filter, 50)).toBeCloseTo(expected, digits)
    expect(gainAt(filter, 25)).toBeCloseTo(Math.SQRT1_2, digits)
    expect(gainAt(filter, 0)).toBeCloseTo(1, digits)
  })

  it('of order 3 has the response of 1/((s + 1)(s² + s + 1)), phase included', () => {
    const { re, im } = responseAt(lowPass({ cutoff: 1, order: 3 }), 2)
    // computed from the closed form 1/((s + 1)(s² + s + 1)) at s = 2i; polynomial: S. Butterworth 1930
    expect(re).toBeCloseTo(-0.1076923076923077, digits)
    expect(im).toBeCloseTo(0.06153846153846154, digits)
  })

  it('of order 4 has the damping ratios cos 22.5° and cos 67.5°, the flat section first', () => {
    // computed from the closed form cos(π/8), cos(3π/8)
    const ratios = poles(lowPass({ cutoff: 1, order: 4 })).map(({ dampingRatio }) => dampingRatio as number)
    expect(Math.max(...ratios)).toBeCloseTo(0.9238795325112867, digits)
    expect(Math.min(...ratios)).toBeCloseTo(0.3826834323650898, digits)
    expect(lowPass({ cutoff: 1, order: 4 }).A[1][1]).toBeLessThan(lowPass({ cutoff: 1, order: 4 }).A[3][3])
  })

  it('of second order takes a damping ratio: 1/(2ζ) at the corner', () => {
    const filter = lowPass({ cutoff: 4, dampingRatio: 0.3 })
    expect(filter.states.length).toBe(2)
    // computed from the closed form 1/(2ζ)
    expect(gainAt(filter, 4)).toBeCloseTo(1.6666666666666667, digits)
    expect(lowPass({ cutoff: 4, order: 2, dampingRatio: 0.3 })).toEqual(filter)
    // computed from the closed form 1/√2 for the default
    expect(gainAt(lowPass({ cutoff: 4, order: 2 }), 4)).toBeCloseTo(Math.SQRT1_2, digits)
  })

  it('has states of one magnitude at any corner', () => {
    for (const cutoff of [1e-6, 1, 1e6]) {
      const { A, B, C } = lowPass({ cutoff, order: 5 })
      const omega = 2 * Math.PI * cutoff
      for (const entry of [...A.flat(), ...B.flat()]) expect(Math.abs(entry)).toBeLessThan(2 * omega)
      for (const entry of C.flat()) expect(Math.abs(entry)).toBeLessThanOrEqual(1)
    }
  })

  it('carries the names it is given', () => {
    const filter = lowPass({ cutoff: 1, input: 'raw', output: 'smooth' })
    expect([filter.inputs, filter.outputs]).toEqual([['raw'], ['smooth']])
  })
})

describe('highPass', () => {
  it.each([
    // computed from the closed form 1/√(1 + 2^(2n)), the gain an octave below the corner
    [1, 0.4472135954999579],
    [2, 0.24253562503633297],
    [3, 0.12403473458920847],
    [8, 0.0039062201980186685],
  ])('of order %i mirrors the low-pass', (order, expected) => {
    const filter = highPass({ cutoff: 25, order })
    expect(gainAt(filter, 12.5)).toBeCloseTo(expected, digits)
    expect(gainAt(filter, 25)).toBeCloseTo(Math.SQRT1_2, digits)
    expect(gainAt(filter, 25e9)).toBeCloseTo(1, digits)
    expect(gainAt(filter, 0)).toBeCloseTo(0, digits)
  })

  it('of order 3 has the response of s³/((s + 1)(s² + s + 1)), phase included', () => {
    const { re, im } = responseAt(highPass({ cutoff: 1, order: 3 }), 2)
    // computed from the closed form s³/((s + 1)(s² + s + 1)) at s = 2i
    expect(re).toBeCloseTo(0.49230769230769234, digits)
    expect(im).toBeCloseTo(0.8615384615384616, digits)
  })

  it('of second order takes a damping ratio: i/(2ζ) at the corner', () => {
    const { re, im } = responseAt(highPass({ cutoff: 4.5, dampingRatio: 0.7 }), 4.5)
    // computed from the closed form s²/(s² + 2ζω s + ω²) at s = iω
    expect(re).toBeCloseTo(0, digits)
    expect(im).toBeCloseTo(0.7142857142857143, digits)
  })
})

describe('bandPass', () => {
  it.each([
    // computed from the closed form 1/√(1 + q^(2n)), q = (f² − f0²)/(b f) = 2.5 at f = 16, f0 = 4, b = 6
    [1, 0.3713906763541037],
    [2, 0.15799050110667284],
    [3, 0.06386932928370219],
  ])('of order %i passes one in the middle and 1/√2 at both corners', (order, expected) => {
    const filter = bandPass({ from: 2, to: 8, order })
    expect(filter.states.length).toBe(2 * order)
    expect(gainAt(filter, 4)).toBeCloseTo(1, digits)
    expect(gainAt(filter, 2)).toBeCloseTo(Math.SQRT1_2, digits)
    expect(gainAt(filter, 8)).toBeCloseTo(Math.SQRT1_2, digits)
    expect(gainAt(filter, 16)).toBeCloseTo(expected, digits)
    expect(gainAt(filter, 1)).toBeCloseTo(expected, digits)
  })

  it('has no phase shift in the middle', () => {
    expect(responseAt(bandPass({ from: 2, to: 8, order: 4 }), 4).im).toBeCloseTo(0, digits)
  })

  it('holds from a very wide to a very narrow band', () => {
    // A band of 1e-4 magnifies the rounding of the corner itself 1e4 times.
    for (const [from, to, accuracy] of [
      [1e-4, 1e4, 11],
      [1, 1.0001, 10],
    ]) {
      for (const order of [1, 2, 3, 6]) {
        const filter = bandPass({ from, to, order })
        expect(gainAt(filter, Math.sqrt(from * to))).toBeCloseTo(1, accuracy)
        expect(gainAt(filter, from)).toBeCloseTo(Math.SQRT1_2, accuracy)
        expect(gainAt(filter, to)).toBeCloseTo(Math.SQRT1_2, accuracy)
      }
    }
  })

  it('refuses corners in the wrong order', () => {
    expect(refusal(() => bandPass({ from: 8, to: 2 }))).toMatchObject({
      code: 'out-of-range',
      details: { path: 'to', value: 2, unit: 'Hz' },
    })
    expect(refusal(() => bandPass({ from: 1, to: 1 + Number.EPSILON })).code).toBe('out-of-range')
    expect(refusal(() => bandPass({ from: 0, to: 2 })).details.path).toBe('from')
  })
})

describe('leadLag', () => {
  const lead = leadLag({ leadCorner: 10, lagCorner: 40 })

  it('has unit gain at low and the ratio of the corners at high frequencies', () => {
    expect(gainAt(lead, 0)).toBeCloseTo(1, digits)
    // computed from the closed form lagCorner/leadCorner
    expect(lead.D).toEqual([[4]])
    expect(gainAt(leadLag({ leadCorner: 40, lagCorner: 10 }), 1e9)).toBeCloseTo(0.25, 8)
  })

  it('leads most at the geometric mean of its corners', () => {
    const { re, im, size } = responseAt(lead, 20)
    // computed from the closed form atan 2 − atan 1/2
    expect((Math.atan2(im, re) * 180) / Math.PI).toBeCloseTo(36.86989764584402, 12)
    // computed from the closed form √(lagCorner/leadCorner)
    expect(size).toBeCloseTo(2, digits)
  })
})

describe('notch', () => {
  const filter = notch({ frequency: 30, bandwidth: 4 })

  it('takes its frequency out and leaves the rest', () => {
    expect(gainAt(filter, 30)).toBeCloseTo(0, digits)
    expect(gainAt(filter, 0)).toBeCloseTo(1, digits)
    expect(gainAt(filter, 3e9)).toBeCloseTo(1, digits)
  })

  it('passes 1/√2 at two points that are one bandwidth apart', () => {
    // computed from the closed form √(f0² + b²/4) ± b/2
    expect(gainAt(filter, 32.06659275674582)).toBeCloseTo(Math.SQRT1_2, 12)
    expect(gainAt(filter, 28.066592756745816)).toBeCloseTo(Math.SQRT1_2, 12)
  })

  it('leaves its depth', () => {
    const shallow = responseAt(notch({ frequency: 30, bandwidth: 4, depth: 0.25 }), 30)
    expect(shallow.re).toBeCloseTo(0.25, digits)
    expect(shallow.im).toBeCloseTo(0, digits)
    // by hand: nothing is taken out at depth 1
    expect(gainAt(notch({ frequency: 30, bandwidth: 4, depth: 1 }), 31)).toBeCloseTo(1, digits)
  })

  it('refuses a depth outside 0 to 1 and a bandwidth of nothing', () => {
    expect(refusal(() => notch({ frequency: 30, bandwidth: 4, depth: 1.1 })).details.path).toBe('depth')
    expect(refusal(() => notch({ frequency: 30, bandwidth: 0 })).code).toBe('out-of-range')
    expect(refusal(() => notch({ frequency: 30 } as never)).code).toBe('invalid-option')
  })
})

describe('every filter', () => {
  const filters: [string, (options: never) => unknown, object][] = [
    ['lowPass', lowPass, { cutoff: 1 }],
    ['highPass', highPass, { cutoff: 1 }],
    ['bandPass', bandPass, { from: 1, to: 2 }],
    ['leadLag', leadLag, { leadCorner: 1, lagCorner: 2 }],
    ['notch', notch, { frequency: 1, bandwidth: 1 }],
    ['delay', delay, { seconds: 1 }],
  ]

  it.each(filters)(
    '%s refuses unknown keys, names that are none, and numbers out of range by their path',
    (name, build, options) => {
      const call = (more: object) => refusal(() => build({ ...options, ...more } as never))
      expect(call({ cutof: 3 })).toMatchObject({ code: 'invalid-option', details: { function: name, path: 'cutof' } })
      expect(call({ input: '1' })).toMatchObject({ code: 'invalid-option', details: { path: 'input' } })
      expect(call({ output: 5 })).toMatchObject({ code: 'invalid-option', details: { path: 'output' } })
      for (const key of Object.keys(options)) {
        expect(call({ [key]: -1 })).toMatchObject({ code: 'out-of-range', details: { path: key } })
        expect(call({ [key]: Number.NaN })).toMatchObject({ code: 'not-finite', details: { path: key } })
        expect(call({ [key]: '1' })).toMatchObject({ code: 'invalid-option', details: { path: key } })
        expect(call({ [key]: undefined })).toMatchObject({ code: 'invalid-option', details: { path: key } })
      }
      expect(refusal(() => build(undefined as never)).code).toBe('invalid-option')
    },
  )

  it('of low- or high-pass takes whole orders from 1 to 20, and a damping ratio with order 2 only', () => {
    for (const build of [lowPass, highPass]) {
      for (const order of [0, 1.5, 21]) expect(refusal(() => build({ cutoff: 1, order })).code).toBe('out-of-range')
      const error = refusal(() => build({ cutoff: 1, order: 3, dampingRatio: 0.5 }))
      expect(error).toMatchObject({ code: 'invalid-option', details: { path: 'dampingRatio' } })
      expect(refusal(() => build({ cutoff: 1, dampingRatio: 0 })).code).toBe('out-of-range')
      expect(gainAt(build({ cutoff: 1, order: 20 }), 1)).toBeCloseTo(Math.SQRT1_2, 12)
    }
  })
})
