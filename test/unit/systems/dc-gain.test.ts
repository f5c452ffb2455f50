import { describe, expect, it } from 'vitest'
import {
  connect,
  dcGain,
  delay,
  gain,
  integrator,
  lowPass,
  mechanicalSystem,
  prepare,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const infinity = Number.POSITIVE_INFINITY

describe('dcGain', () => {
  // Expected values by hand: G(0), or its limit.
  it('is G(0), output by output', () => {
    expect(dcGain(rational([6], [1, 3]))[0][0]).toBeCloseTo(2, 14)
    expect(
      dcGain(
        gain([
          [1, 2],
          [3, 4],
          [5, 6],
        ]),
      ),
    ).toEqual([
      [1, 2],
      [3, 4],
      [5, 6],
    ])
    const [[a, b]] = dcGain(
      stateSpace({
        A: [
          [-1, 0],
          [0, -4],
        ],
        B: [
          [1, 0],
          [0, 1],
        ],
        C: [[3, 2]],
        D: [[0, 1]],
      }),
    )
    expect(a).toBeCloseTo(3, 14)
    expect(b).toBeCloseTo(1.5, 14)
  })

  it('is infinite with the sign of growth where a channel integrates, and finite in the others', () => {
    const mixed = stateSpace({
      A: [
        [0, 0],
        [0, -2],
      ],
      B: [
        [1, 0],
        [0, 1],
      ],
      C: [
        [1, 0],
        [-1, 1],
        [0, 1],
      ],
    })
    expect(dcGain(mixed)).toEqual([
      [infinity, 0],
      [-infinity, 0.5],
      [0, 0.5],
    ])
  })

  it('tells the sign of integrators of any order', () => {
    for (const order of [1, 2, 3, 4]) {
      const zerosBelow = new Array<number>(order).fill(0)
      expect(dcGain(rational([2], [1, 5, ...zerosBelow]))).toEqual([[infinity]])
      expect(dcGain(rational([-2], [1, 5, ...zerosBelow]))).toEqual([[-infinity]])
    }
    expect(dcGain(series(integrator(), gain(-1), integrator()))).toEqual([[-infinity]])
  })

  it('is the limit where the integrator is hidden from the channel', () => {
    // The limit is extrapolated from values near 0, to about six digits.
    const sixDigits = 5
    // s/(s² + s) = 1/(s + 1)
    expect(dcGain(rational([3, 0], [1, 1, 0]))[0][0]).toBeCloseTo(3, sixDigits)
    // 2/(s + 1), an integrator that the input does not reach, mixed into both states
    const mixed = stateSpace({
      A: [
        [0, -1],
        [0, -1],
      ],
      B: [[1], [1]],
      C: [[1, 1]],
    })
    expect(dcGain(mixed)[0][0]).toBeCloseTo(2, sixDigits)
    // A differentiated integrator: its gain is that at high frequency.
    expect(dcGain(series(integrator(), rational([1, 0], [1, 1])))[0][0]).toBeCloseTo(1, sixDigits)
  })

  it('is that of the loop with its delays at zero', () => {
    const loop = connect({
      blocks: { plant: rational([4], [1, 1]), late: delay({ seconds: 3 }) },
      inputs: ['u'],
      outputs: { y: 'plant.y1', held: 'late.y1' },
      wires: { 'plant.u1': ['u', '-late.y1'], 'late.u1': 'plant.y1' },
    })
    const [[direct], [held]] = dcGain(loop)
    expect(direct).toBeCloseTo(0.8, 14)
    expect(held).toBeCloseTo(0.8, 14)
  })

  it('is the flexibility of a structure', () => {
    const spring = mechanicalSystem({
      mass: [[2]],
      damping: [[1]],
      stiffness: [[50]],
      inputs: { force: [1] },
      outputs: { motion: { displacement: [1] }, speed: { velocity: [1] } },
    })
    for (const system of [spring, prepare(spring)]) {
      const [[motion], [speed]] = dcGain(system)
      expect(motion).toBeCloseTo(0.02, 14)
      expect(speed).toBeCloseTo(0, 14)
    }
  })

  it('is exactly 1 for a filter of unit gain of any order', () => {
    for (const order of [1, 2, 5, 8]) expect(dcGain(lowPass({ cutoff: 7, order }))[0][0]).toBeCloseTo(1, 13)
  })

  it('refuses what is no system', () => {
    expect(refusal(() => dcGain({ kind: 'StateSpace' } as never)).details.path).toBe('system.inputs')
  })
})
