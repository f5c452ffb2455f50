import { describe, expect, it } from 'vitest'
import {
  bandPass,
  type ContinuousSystem,
  type DiscreteStateSpace,
  discretize,
  frequencyResponse,
  gain,
  leadLag,
  lowPass,
  notch,
  poles,
  type SecondOrderSection,
  secondOrderSections,
  series,
  simulate,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const sampleTime = 0.001
const digital = (system: ContinuousSystem, method: 'bilinear' | 'zero-order-hold' = 'bilinear') =>
  discretize(system, { sampleTime, method })
const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const grid = Array.from({ length: 200 }, (_, k) => 2.4975 * (k + 1))

interface Complex {
  readonly re: number
  readonly im: number
}
const times = (a: Complex, b: Complex): Complex => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re })
const over = (a: Complex, b: Complex): Complex => {
  const square = b.re * b.re + b.im * b.im
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square }
}
const polynomial = ([c0, c1, c2]: readonly number[], angle: number): Complex => ({
  re: c0 + c1 * Math.cos(angle) + c2 * Math.cos(2 * angle),
  im: -c1 * Math.sin(angle) - c2 * Math.sin(2 * angle),
})
const response = (sections: readonly SecondOrderSection[], frequency: number): Complex => {
  const angle = 2 * Math.PI * frequency * sampleTime
  return sections.reduce<Complex>((value, { b, a }) => times(value, over(polynomial(b, angle), polynomial(a, angle))), {
    re: 1,
    im: 0,
  })
}
/** Largest difference over the grid, relative to the largest gain on it. */
const difference = (system: DiscreteStateSpace, sections: readonly SecondOrderSection[]): number => {
  const { re, im } = frequencyResponse(system, grid)
  const off = grid.map((frequency, k) => {
    const value = response(sections, frequency)
    return Math.hypot(value.re - re[k], value.im - im[k])
  })
  return Math.max(...off) / Math.max(...grid.map((_, k) => Math.hypot(re[k], im[k])))
}
const rounding = 1e-12

const controller = series(
  rational([1, 10], [1, 0]),
  notch({ frequency: 30, bandwidth: 3 }),
  lowPass({ cutoff: 200, order: 3 }),
)

describe('secondOrderSections', () => {
  it.each([
    ['a low-pass of order 4', digital(lowPass({ cutoff: 10, order: 4 })), 2],
    ['a low-pass of order 5', digital(lowPass({ cutoff: 50, order: 5 })), 3],
    ['the same held at zero order', digital(lowPass({ cutoff: 50, order: 5 }), 'zero-order-hold'), 3],
    ['a band-pass', digital(bandPass({ from: 20, to: 40, order: 4 })), 4],
    [
      'a lead and a lag',
      digital(series(leadLag({ leadCorner: 1, lagCorner: 10 }), leadLag({ leadCorner: 90, lagCorner: 9 }))),
      1,
    ],
    ['proportional and integral action', digital(rational([1, 10], [1, 0])), 1],
    ['a double integrator', digital(rational([1], [1, 0, 0])), 1],
    ['a controller', digital(controller), 3],
    ['a controller held at zero order', digital(controller, 'zero-order-hold'), 3],
    ['three real poles and two zeros', digital(rational([1, 1e3, 1e6], [1, 600, 110e3, 6e6])), 2],
  ] as [string, DiscreteStateSpace, number][])('multiply to %s', (_, system, count) => {
    const sections = secondOrderSections(system)
    expect(sections.length).toBe(count)
    for (const { b, a } of sections) expect([a[0], a.length, b.length]).toEqual([1, 3, 3])
    expect(difference(system, sections)).toBeLessThan(rounding)
  })

  it('of a known pair of poles and zeros are its coefficients', () => {
    // by hand: 2 (1 − 0.5 z⁻¹)/((1 − 0.8 z⁻¹)(1 + 0.1 z⁻¹)) as a companion form
    const known: DiscreteStateSpace = {
      kind: 'DiscreteStateSpace',
      A: [
        [0.7, 0.08],
        [1, 0],
      ],
      B: [[1], [0]],
      C: [[2 * (0.7 - 0.5), 2 * 0.08]],
      D: [[2]],
      inputs: ['u'],
      outputs: ['y'],
      states: ['x1', 'x2'],
      sampleTime,
    }
    const [{ b, a }] = secondOrderSections(known)
    for (const [found, expected] of [
      [b, [2, -1, 0]],
      [a, [1, -0.7, -0.08]],
    ]) {
      found.forEach((value, k) => {
        expect(Math.abs(value - expected[k])).toBeLessThan(1e-14)
      })
    }
  })

  it('run as difference equations give the samples of the system', () => {
    const system = digital(lowPass({ cutoff: 50, order: 5 }))
    const input = Float64Array.from({ length: 300 }, (_, k) => Math.sin(k * k))
    let signal: ArrayLike<number> = input
    for (const { b, a } of secondOrderSections(system)) {
      const from = signal
      const to = new Float64Array(from.length)
      const at = (list: ArrayLike<number>, k: number) => (k < 0 ? 0 : list[k])
      for (let k = 0; k < to.length; k++) {
        to[k] = b[0] * at(from, k) + b[1] * at(from, k - 1) + b[2] * at(from, k - 2)
        to[k] -= a[1] * at(to, k - 1) + a[2] * at(to, k - 2)
      }
      signal = to
    }
    const { outputs } = simulate(system, { inputs: { u1: input } })
    outputs.y1.forEach((value, k) => {
      expect(Math.abs(value - signal[k])).toBeLessThan(rounding)
    })
  })

  it('begin with the poles farthest from the unit circle', () => {
    const sections = secondOrderSections(digital(lowPass({ cutoff: 50, order: 8 })))
    // The product of a conjugate pair is the square of its radius.
    const radii = sections.map(({ a }) => a[2])
    expect([...radii].sort((a, b) => a - b)).toEqual(radii)
    const closest = Math.max(
      ...poles(digital(lowPass({ cutoff: 50, order: 8 }))).map(({ re, im }) => re * re + im * im),
    )
    expect(radii[3]).toBeCloseTo(closest, 12)
  })

  it('give the poles closest to the circle the zeros next to them', () => {
    const sections = secondOrderSections(
      digital(series(notch({ frequency: 30, bandwidth: 3 }), lowPass({ cutoff: 200, order: 2 }))),
    )
    const [first, last] = sections
    // The zeros of the notch lie on the angle 2π · 30 Hz · T, to the frequency warp of the bilinear map: the same section as its
    // poles; those of the low-pass at −1.
    const angle = ([c0, c1, c2]: readonly number[]) => Math.acos(-c1 / (2 * Math.sqrt(c2 * c0)))
    expect(angle(last.b)).toBeCloseTo(angle(last.a), 2)
    expect(first.b[1] / first.b[0]).toBeCloseTo(2, 6)
  })

  it('have a largest gain of 1 from the input to every output but the last', () => {
    for (const system of [
      digital(series(gain(1e4), lowPass({ cutoff: 50, order: 8 }), gain(1e3))),
      digital(controller),
    ]) {
      const sections = secondOrderSections(system)
      for (let count = 1; count < sections.length; count++) {
        const gains = [0, ...grid].map((frequency) => {
          const { re, im } = response(sections.slice(0, count), frequency)
          return Math.hypot(re, im)
        })
        expect(Math.max(...gains)).toBeGreaterThan(0.99)
        expect(Math.max(...gains)).toBeLessThan(1.001)
      }
    }
  })

  it('leave out hidden modes, and stand for a gain alone', () => {
    const cancelling = digital(rational([1, 3], [1, 5, 6]))
    expect(secondOrderSections(cancelling).length).toBe(1)
    expect(secondOrderSections(cancelling)[0].a[2]).toBe(0)
    expect(secondOrderSections(digital(gain(3)))).toEqual([{ b: [3, 0, 0], a: [1, 0, 0] }])
    const zero = digital(stateSpace({ A: [[-1]], B: [[0]], C: [[1]] }))
    expect(secondOrderSections(zero)).toEqual([{ b: [0, 0, 0], a: [1, 0, 0] }])
  })

  it('keep a pure delay', () => {
    const late = {
      ...digital(gain(1)),
      A: [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      B: [[1], [0], [0]],
      C: [[0, 0, 2]],
      D: [[0]],
      states: ['a', 'b', 'c'],
    }
    expect(difference(late, secondOrderSections(late))).toBeLessThan(rounding)
  })

  it('are refused where rounding has taken the roots', () => {
    // Twelve equal poles at 0.9 in companion form are only known to ε^(1/12) = 5 %.
    const coefficients = [1]
    for (let k = 0; k < 12; k++) {
      coefficients.push(0)
      for (let j = k + 1; j > 0; j--) coefficients[j] -= 0.9 * coefficients[j - 1]
    }
    const clustered: DiscreteStateSpace = {
      ...digital(gain(1)),
      A: Array.from({ length: 12 }, (_, i) =>
        i === 0
          ? coefficients.slice(1).map((value) => -value)
          : Array.from({ length: 12 }, (_, j) => (j === i - 1 ? 1 : 0)),
      ),
      B: Array.from({ length: 12 }, (_, i) => [i === 0 ? 1 : 0]),
      C: [Array.from({ length: 12 }, (_, j) => (j === 11 ? 1 : 0))],
      D: [[0]],
      states: Array.from({ length: 12 }, (_, k) => `x${k}`),
    }
    expect(refusal(() => secondOrderSections(clustered)).code).toBe('ill-conditioned')
  })

  it('refuses continuous systems and several channels', () => {
    expect(refusal(() => secondOrderSections(lowPass({ cutoff: 1 }) as never)).code).toBe('unsupported')
    const two = digital(stateSpace({ A: [[-1]], B: [[1, 1]], C: [[1]] }))
    expect(refusal(() => secondOrderSections(two)).code).toBe('dimension-mismatch')
  })
})
