import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  delay,
  frequencyResponse,
  gain,
  integrator,
  poles,
  type StateSpace,
  stateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

// A few operations on numbers of one magnitude: 1e-12 leaves three digits of room.
const closeTo = (got: readonly number[], expected: readonly number[], tolerance = 1e-12) => {
  expect(got.length).toBe(expected.length)
  got.forEach((value, i) => {
    expect(Math.abs(value - expected[i])).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(expected[i])))
  })
}

describe('algebraic loops', () => {
  const gains = (D1: number[][], D2: number[][]): Diagram => ({
    blocks: { forward: gain(D1), back: gain(D2) },
    inputs: ['r1', 'r2'],
    outputs: { y1: 'forward.y1', y2: 'forward.y2' },
    wires: {
      'forward.u1': ['r1', '-back.y1'],
      'forward.u2': ['r2', '-back.y2'],
      'back.u1': 'forward.y1',
      'back.u2': 'forward.y2',
    },
  })

  it('is well posed though the determinant is 1e-24: eight channels 1 + 2/(s + 3) against −0.999', () => {
    const n = 8
    const eye = (value: number) =>
      Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? value : 0)))
    const G = stateSpace({ A: eye(-3), B: eye(1), C: eye(2), D: eye(1) })
    const ports = Array.from({ length: n }, (_, i) => i + 1)
    const closed = connect({
      blocks: { G, back: gain(eye(-0.999)) } as Diagram['blocks'],
      inputs: ports.map((i) => `r${i}`),
      outputs: Object.fromEntries(ports.map((i) => [`y${i}`, `G.y${i}`])),
      wires: Object.fromEntries(
        ports.flatMap((i) => [
          [`G.u${i}`, [`r${i}`, `-back.y${i}`]],
          [`back.u${i}`, `G.y${i}`],
        ]),
      ),
    })
    // closed form in exact arithmetic; 0.999 is not a binary number and the loop magnifies its rounding 1000 times
    const tolerance = 1e-9
    for (const pole of poles(closed)) closeTo([pole.re], [1994.9999999999982], tolerance)
    const expected = [
      [0, -2.506265664160401, 0],
      [1, -2.5060137798094786, -0.5025092800901301],
      [100, 0.006265624902101843, -50.12499921679689],
    ]
    for (const [omega, re, im] of expected) {
      const response = frequencyResponse(closed, [omega / (2 * Math.PI)], { inputs: ['r3'], outputs: ['y3'] })
      closeTo([response.re[0], response.im[0]], [re, im], tolerance)
    }
  })

  it('is refused where I + D2 D1 is exactly singular, and names the blocks', () => {
    const singular = gains(
      [
        [1, 2],
        [0, 1],
      ],
      [
        [-1, 2],
        [0, 3],
      ],
    )
    const error = refusal(() => connect(singular))
    expect(error.code).toBe('algebraic-loop')
    expect(error.message).toMatch(/forward/)
    expect(error.message).toMatch(/back/)
  })

  it('is solved where I + D2 D1 is regular', () => {
    const closed = connect(
      gains(
        [
          [1, 2],
          [0, 1],
        ],
        [
          [-1, 2.5],
          [0.5, 3],
        ],
      ),
    )
    // exact fractions: D1 (I + D2 D1)⁻¹
    closeTo(closed.D[0], [-16, 2])
    closeTo(closed.D[1], [2, 0])
  })

  it('is judged alike in any unit: the same loop in units of 1e-12 and 1e12', () => {
    const scaled = (loopGain: number, unit: number) =>
      connect({
        blocks: { forward: gain(unit), back: gain(loopGain / unit) },
        inputs: ['r'],
        outputs: { y: 'forward.y1' },
        wires: { 'forward.u1': ['r', 'back.y1'], 'back.u1': 'forward.y1' },
      })
    for (const unit of [2 ** -40, 1, 2 ** 40]) {
      // computed from the closed form unit/(1 − loop gain)
      expect(scaled(0.5, unit).D[0][0] / unit).toBe(2)
      expect(scaled(1 - 2 ** -30, unit).D[0][0] / unit).toBe(2 ** 30)
      expect(refusal(() => scaled(1, unit)).code).toBe('algebraic-loop')
      expect(refusal(() => scaled(1 - 2 ** -50, unit)).code).toBe('algebraic-loop')
    }
  })

  it('sees what cancels within one block: 1 − L is small though it is a single number', () => {
    const around = (value: number) =>
      connect({
        blocks: { a: gain(value) },
        inputs: ['r'],
        outputs: { y: 'a.y1' },
        wires: { 'a.u1': ['r', 'a.y1'] },
      })
    // computed from the closed form L/(1 − L) with L = 1 − 2⁻³⁰
    expect(around(1 - 2 ** -30).D[0][0]).toBe(2 ** 30 - 1)
    expect(refusal(() => around(1 - 2 ** -50)).code).toBe('algebraic-loop')
  })

  it('does not take a huge gain for an ill-posed loop', () => {
    const closed = connect({
      blocks: { big: gain(1e20), small: gain(0.5) },
      inputs: ['r'],
      outputs: { y: 'big.y1', z: 'small.y1' },
      wires: { 'big.u1': ['r', '-big.y1', 'small.y1'], 'small.u1': ['big.y1', '-small.y1'] },
    })
    // computed from the closed form y = r + z (high gain), z = y/3: y = 3/2, z = 1/2
    closeTo([closed.D[0][0], closed.D[1][0]], [1.5, 0.5])
  })

  it('is none where the feedthrough comes back through a state, a delay or nothing at all', () => {
    const closing = (back: StateSpace) => () =>
      connect({
        blocks: { forward: gain(1), back },
        inputs: ['r'],
        outputs: { y: 'forward.y1' },
        wires: { 'forward.u1': ['r', 'back.y1'], 'back.u1': 'forward.y1' },
      })
    expect(closing(integrator())).not.toThrow()
    expect(closing(delay({ seconds: 1 }))).not.toThrow()
    expect(refusal(closing(delay({ seconds: 0 }))).code).toBe('algebraic-loop')
    expect(() =>
      connect({
        blocks: { a: gain(1) },
        inputs: ['r'],
        outputs: { y: 'a.y1' },
        wires: { 'a.u1': ['r', 'a.y1', '-a.y1'] },
      }),
    ).not.toThrow()
  })

  it('names only the blocks of the loop', () => {
    const error = refusal(() =>
      connect({
        blocks: { before: gain(2), loop: gain(1), after: gain(3) },
        inputs: ['r'],
        outputs: { y: 'after.y1' },
        wires: { 'before.u1': 'r', 'loop.u1': ['before.y1', 'loop.y1'], 'after.u1': 'loop.y1' },
      }),
    )
    expect(error.message).toMatch(/through loop:/)
    expect(error.details.path).toBe('wires')
  })
})
