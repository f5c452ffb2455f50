import { describe, expect, it } from 'vitest'
import {
  type DiscreteStateSpace,
  discretize,
  frequencyResponse,
  gain,
  integrator,
  lowPass,
  poles,
  stability,
  stateSpace,
  zeros,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const sampleTime = 0.1
const digital = (A: number[][], B: number[][], C: number[][], D: number[][]): DiscreteStateSpace => ({
  ...discretize(gain(D), { sampleTime, method: 'bilinear' }),
  A,
  B,
  C,
  states: A.map((_, k) => `x${k + 1}`),
})
/** Poles at radius · e^(±j angle). */
const pair = (radius: number, angle: number) =>
  digital(
    [
      [2 * radius * Math.cos(angle), -radius * radius],
      [1, 0],
    ],
    [[1], [0]],
    [[1, 0]],
    [[0]],
  )

describe('poles of a discrete system', () => {
  it('are values of z with the frequency and the damping of ln z / T', () => {
    // computed from the closed form |ln z|/(2πT) and −Re ln z/|ln z| with z = 0.9 e^(±j/2), T = 0.1 s
    const [first, second] = poles(pair(0.9, 0.5))
    expect(first.re).toBeCloseTo(0.7898243057013355, 14)
    expect(first.im).toBeCloseTo(-second.im, 14)
    expect(first.naturalFrequency).toBeCloseTo(0.8132503609356359, 13)
    expect(first.dampingRatio).toBeCloseTo(0.2061929226119487, 13)
  })

  it('keep frequency and damping of a held oscillator', () => {
    const oscillator = stateSpace({
      A: [
        [0, 1],
        [-100, -2],
      ],
      B: [[0], [1]],
      C: [[1, 0]],
    })
    for (const method of ['zero-order-hold', 'first-order-hold'] as const) {
      const [{ naturalFrequency, dampingRatio }] = poles(discretize(oscillator, { sampleTime: 0.01, method }))
      // by hand: 10 rad/s, damping ratio 0.1
      expect(naturalFrequency).toBeCloseTo(10 / (2 * Math.PI), 12)
      expect(dampingRatio).toBeCloseTo(0.1, 12)
    }
  })

  it('at z = 0 and z = 1 are Infinity and 0 Hz', () => {
    expect(poles(digital([[0]], [[1]], [[1]], [[0]]))).toEqual([
      { re: 0, im: 0, naturalFrequency: Number.POSITIVE_INFINITY, dampingRatio: 1 },
    ])
    const [{ re, naturalFrequency, dampingRatio }] = poles(
      discretize(integrator(), { sampleTime, method: 'zero-order-hold' }),
    )
    expect([re, naturalFrequency, dampingRatio]).toEqual([1, 0, null])
  })
})

describe('stability of a discrete system', () => {
  it.each([
    [0.999, 'stable', 0],
    [1, 'marginal', 0],
    [1.001, 'unstable', 2],
  ] as const)('is judged by the unit circle: radius %f', (radius, verdict, unstablePoles) => {
    const found = stability(pair(radius, 0.7))
    expect(found).toMatchObject({ kind: 'Stability', verdict, unstablePoles })
    // computed from the closed form ln(radius)/T
    const expected = { 0.999: -0.010005003335835344, 1: 0, 1.001: 0.009995003330834232 }[radius]
    expect(found.abscissa).toBeCloseTo(expected, 12)
  })

  it('is stable with all poles at z = 0, and marginal with a double one at z = 1', () => {
    expect(stability(digital([[0]], [[1]], [[1]], [[0]]))).toMatchObject({
      verdict: 'stable',
      abscissa: Number.NEGATIVE_INFINITY,
    })
    // by hand: (z − 1)² in coordinates that hide it
    const double = [
      [3, 1],
      [-4, -1],
    ]
    expect(stability(digital(double, [[1], [0]], [[1, 0]], [[0]]))).toMatchObject({
      verdict: 'marginal',
      unstablePoles: 0,
    })
  })

  it('keeps the verdict of the continuous system', () => {
    const unstable = stateSpace({ A: [[0.5]], B: [[1]], C: [[1]] })
    for (const method of ['zero-order-hold', 'first-order-hold', 'bilinear'] as const) {
      expect(stability(discretize(lowPass({ cutoff: 1, order: 3 }), { sampleTime, method })).verdict).toBe('stable')
      expect(stability(discretize(integrator(), { sampleTime, method })).verdict).toBe('marginal')
      expect(stability(discretize(unstable, { sampleTime, method })).verdict).toBe('unstable')
    }
  })
})

describe('frequencyResponse of a discrete system', () => {
  it('is that of z = e^(j2πfT)', () => {
    // by hand: z⁻¹ at 0, a quarter and half of the sample rate
    const late = digital([[0]], [[1]], [[1]], [[0]])
    const { re, im } = frequencyResponse(late, [0, 2.5, 5])
    ;[1, 0, -1].forEach((value, k) => {
      expect(re[k]).toBeCloseTo(value, 14)
    })
    ;[0, -1, 0].forEach((value, k) => {
      expect(im[k]).toBeCloseTo(value, 14)
    })
  })

  it('repeats beyond half the sample rate', () => {
    const system = pair(0.9, 0.5)
    const { re, im } = frequencyResponse(system, [1.3, 8.7, 11.3])
    expect(re[1]).toBeCloseTo(re[0], 12)
    expect(im[1]).toBeCloseTo(-im[0], 12)
    expect(re[2]).toBeCloseTo(re[0], 12)
    expect(im[2]).toBeCloseTo(im[0], 12)
  })

  it('refuses a pole on the grid', () => {
    const sum = discretize(integrator(), { sampleTime, method: 'zero-order-hold' })
    expect(refusal(() => frequencyResponse(sum, [0]))).toMatchObject({
      code: 'singular',
      details: { path: 'frequencies', value: 0 },
    })
  })
})

describe('zeros of a discrete system', () => {
  it('are where its numerator vanishes', () => {
    // by hand: 1 + 1/(z − 1/2) = (z + 1/2)/(z − 1/2)
    expect(zeros(digital([[0.5]], [[1]], [[1]], [[1]]))).toEqual([{ re: -0.5, im: 0 }])
  })
})
