import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  gain,
  integrator,
  lowPass,
  mechanicalSystem,
  parallel,
  series,
  stateSpace,
  transferFunction,
  zeros,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const expectZeros = (
  found: readonly { re: number; im: number }[],
  expected: readonly (readonly [number, number])[],
  off = 1e-10,
) => {
  expect(found.length).toBe(expected.length)
  expected.forEach(([re, im], k) => {
    expect(Math.hypot(found[k].re - re, found[k].im - im)).toBeLessThanOrEqual(off * Math.max(1, Math.hypot(re, im)))
  })
}

describe('zeros', () => {
  // Expected values by hand: roots of the numerators written.
  it('are those of the numerator, by ascending modulus, conjugates side by side', () => {
    expectZeros(zeros(rational([1, 3], [1, 2, 5])), [[-3, 0]])
    expectZeros(zeros(rational([2, 2, 20, 0], [1, 5, 9, 11])), [
      [0, 0],
      [-0.5, Math.sqrt(9.75)],
      [-0.5, -Math.sqrt(9.75)],
    ])
    expectZeros(zeros(rational([-1, 1], [1, 1])), [[1, 0]])
  })

  it('are none where there are none', () => {
    for (const system of [
      lowPass({ cutoff: 10, order: 8 }),
      integrator(),
      gain(2),
      series(integrator(), integrator()),
    ]) {
      expect(zeros(system)).toEqual([])
    }
  })

  it('are none for a badly scaled chain either', () => {
    // 1/((s² + 1e-4)(s² + 1e10)(s + 1e3)) in series
    const wide = series(rational([1], [1, 0, 1e-4]), rational([1], [1, 0, 1e10]), rational([1], [1, 1e3]))
    expect(zeros(wide)).toEqual([])
  })

  it('do not move with the units of inputs, outputs and states', () => {
    const [p, q, r] = [1e8, 1e-12, 1e15]
    const scaled = stateSpace({
      A: [
        [0, p],
        [-5 / p, -2],
      ],
      B: [[0], [q / p]],
      C: [[3 * r, r * p]],
    })
    expectZeros(zeros(scaled), [[-3, 0]])
  })

  it('are the antiresonances of a structure', () => {
    const collocated = mechanicalSystem({
      mass: [
        [1, 0],
        [0, 2],
      ],
      damping: [
        [0, 0],
        [0, 0],
      ],
      stiffness: [
        [300, -100],
        [-100, 100],
      ],
      inputs: { force: [1, 0] },
      outputs: { motion: { displacement: [1, 0] } },
    })
    // The mass that is held back: 100 − 2 ω² = 0
    expectZeros(zeros(collocated), [
      [0, Math.sqrt(50)],
      [0, -Math.sqrt(50)],
    ])
  })

  it('of several channels are where the matrix loses rank, not where an entry vanishes', () => {
    // [1/(s+1), 2/(s+3); 1/(s+1), 1/(s+1)]: determinant (1 − s)/((s+1)² (s+3)) with the pole −1 used once: zero at 1
    const square = stateSpace({
      A: [
        [-1, 0, 0],
        [0, -3, 0],
        [0, 0, -1],
      ],
      B: [
        [1, 0],
        [0, 1],
        [0, 1],
      ],
      C: [
        [1, 2, 0],
        [1, 0, 1],
      ],
    })
    expectZeros(zeros(square), [[1, 0]])
    // Both outputs of one input vanish at −2 only if both numerators do.
    const tall = (first: number, second: number) =>
      stateSpace({
        A: [
          [0, 1],
          [-3, -4],
        ],
        B: [[0], [1]],
        C: [
          [first, 1],
          [second, 1],
        ],
      })
    expectZeros(zeros(tall(2, 2)), [[-2, 0]])
    expect(zeros(tall(2, 5))).toEqual([])
  })

  it('count hidden modes', () => {
    const uncontrollable = stateSpace({
      A: [
        [-1, 0],
        [0, -7],
      ],
      B: [[1], [0]],
      C: [[1, 1]],
    })
    expectZeros(zeros(uncontrollable), [[-7, 0]])
  })

  it('of the sum of two ways', () => {
    // 1/(s+1) + 1/(s+3) = 2 (s + 2)/((s+1)(s+3))
    expectZeros(zeros(parallel(rational([1], [1, 1]), rational([1], [1, 3]))), [[-2, 0]])
  })

  it('of a discrete system are values of z', () => {
    const held = discretize(rational([1], [1, 0, 0]), { sampleTime: 0.01, method: 'zero-order-hold' })
    // K. J. Åström, P. Hagander, J. Sternby, Zeros of sampled systems, Automatica 20 (1984) 31: −1 for a double integrator
    expectZeros(zeros(held), [[-1, 0]])
  })

  it('are refused with delays', () => {
    expect(refusal(() => zeros(delay({ seconds: 1 }))).code).toBe('unsupported')
  })
})
