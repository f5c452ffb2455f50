import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { closeLoop } from '../../../src/systems/close-loop.js'
import { crossings } from '../../../src/systems/crossings.js'
import { denseSystem, undelayedStateMatrix } from '../../../src/systems/dense-system.js'
import { delay, frequencyResponse, type StateSpace, series, stateSpace } from '../../../src/systems/index.js'
import type { Scan } from '../../../src/systems/refined-scan.js'
import { relevantPart } from '../../../src/systems/relevant-states.js'
import { delayInSeries, withoutDelays } from '../../../src/systems/series-delay.js'

const scope = scopeOf('test')
type Pair = [number, number]
const valueAt = (system: StateSpace, frequency: number, o = 0, i = 0): Pair => {
  const { re, im } = frequencyResponse(system, [frequency])
  const k = o * system.inputs.length + i
  return [re[k], im[k]]
}

/** Two states and two delays, with every way between input, states, delays and output in use. */
const tangled: StateSpace = {
  ...stateSpace({ A: [[-1, 2], [-3, -4]], B: [[1], [0.5]], C: [[2, -1]], D: [[0.3]] }),
  delays: {
    seconds: [0.02, 0.07],
    B: [[0.5, -1], [0.2, 0.4]],
    C: [[1, -0.5], [0.3, 0.6]],
    D12: [[0.7, -0.2]],
    D21: [[0.4], [-0.6]],
    D22: [[0, 0.25], [0.5, 0]],
  },
} // biome-ignore format: matrices

describe('a loop that is closed', () => {
  it.each([0, 0.3, 2, 11])('with delays and direct gains is L/(1 + L) at %d Hz', (frequency) => {
    const [a, b] = valueAt(tangled, frequency)
    // by hand: L/(1 + L) = (L + |L|²)/|1 + L|²
    const square = (1 + a) ** 2 + b * b
    const [re, im] = valueAt(closeLoop(scope, tangled), frequency)
    expect(re).toBeCloseTo((a + a * a + b * b) / square, 12)
    expect(im).toBeCloseTo(b / square, 12)
  })

  it('keeps a way that is direct, and refuses one that cannot be', () => {
    const direct = (d: number) => stateSpace({ A: [[-1]], B: [[1]], C: [[1]], D: [[d]] })
    // D/(1 + D) = 3/4
    expect(closeLoop(scope, direct(3)).D).toEqual([[0.75]])
    expect(() => closeLoop(scope, direct(-1 + 2 ** -44))).toThrow('whose direct gain is')
    expect(closeLoop(scope, direct(-1 + 2 ** -42)).D[0][0]).toBeCloseTo(1 - 2 ** 42, 3)
  })
})

describe('delays', () => {
  it('at zero leave the state matrix A + B (I − D)⁻¹ C, of which the first two terms are taken for a landmark', () => {
    // by hand: A + B₂ C₂ + B₂ D₂₂ C₂
    const { data } = undelayedStateMatrix(denseSystem(tangled))
    const { B, C, D22 } = tangled.delays as NonNullable<StateSpace['delays']>
    const expected = [0, 1].flatMap((i) =>
      [0, 1].map((j) => {
        let sum = tangled.A[i][j]
        for (const k of [0, 1]) {
          sum += B[i][k] * C[k][j]
          for (const l of [0, 1]) sum += B[i][k] * D22[k][l] * C[l][j]
        }
        return sum
      }),
    )
    data.forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k], 14)
    })
  })

  it('replaced by wires give the response of ever shorter ones', () => {
    const { delays } = tangled
    const short = { ...tangled, delays: { ...(delays as NonNullable<typeof delays>), seconds: [1e-12, 1e-12] } }
    const [re, im] = valueAt(withoutDelays(tangled) as StateSpace, 0.4)
    const [a, b] = valueAt(short, 0.4)
    expect([re, im]).toEqual([expect.closeTo(a, 9), expect.closeTo(b, 9)])
    const ring = { ...tangled, delays: { ...(delays as NonNullable<typeof delays>), D22: [[0, 2], [0.5, 0]] } } // biome-ignore format: matrix
    expect(withoutDelays(ring)).toBeNull()
  })

  it('in series on every way are told, others are not', () => {
    // Two ways from input to output, each through delays of 0.3 s in all: 0.1 and 0.2 behind each other, or 0.3 alone
    const both = (last: number): StateSpace => ({
      ...stateSpace({ A: [[-1]], B: [[0]], C: [[1]] }),
      delays: {
        seconds: [0.1, 0.2, last],
        B: [[0, 1, 2]],
        C: [[0], [0], [0]],
        D12: [[0, 0, 0]],
        D21: [[1], [0], [1]],
        D22: [[0, 0, 0], [1, 0, 0], [0, 0, 0]], // biome-ignore format: matrix
      },
    })
    const found = delayInSeries(both(0.3))
    expect(found?.seconds).toBeCloseTo(0.3, 14)
    // 3/(s + 1) without them
    expect(valueAt(found?.rational as StateSpace, 0)[0]).toBeCloseTo(3, 14)
    expect(delayInSeries(both(0.3001))).toBeNull()
    // States before the delay and behind it
    const straight = stateSpace({ A: [[-1]], B: [[1]], C: [[1]] })
    const behind = delayInSeries(series(straight, delay({ seconds: 0.4 }), straight))
    expect(behind?.seconds).toBeCloseTo(0.4, 14)
    expect(behind?.rational.delays).toBeNull()
    expect(valueAt(behind?.rational as StateSpace, 0)[0]).toBeCloseTo(1, 14)
    expect(delayInSeries(straight)).toEqual({ seconds: 0, rational: straight })
    // A loop around a delay adds to it with each turn.
    expect(delayInSeries(tangled)).toBeNull()
  })
})

describe('the part of a system that acts on one channel', () => {
  // x₁ is driven by u₁ and seen by y₁, x₂ driven by x₁ and unseen but by the first delay, x₃ beside them
  const system: StateSpace = {
    ...stateSpace({
      A: [[-1, 0, 0], [1, -2, 0], [0, 0, -3]],
      B: [[1, 0], [0, 0], [0, 1]],
      C: [[1, 0, 0], [0, 0, 1]],
      D: [[0, 0], [0, 7]],
      states: ['one', 'two', 'three'],
    }),
    delays: {
      seconds: [0.1, 0.2],
      B: [[0, 0], [0, 0], [0, 1]],
      C: [[0, 1, 0], [0, 0, 0]],
      D12: [[5, 0], [0, 0]],
      D21: [[0, 0], [0, 1]],
      D22: [[0, 0], [0, 0]],
    },
  } // biome-ignore format: matrices

  it('holds what lies on a way from the input to the output', () => {
    const first = relevantPart(system, 0, 0)
    expect([first.states, first.delays?.seconds, first.inputs, first.outputs]).toEqual([['one', 'two'], [0.1], ['u1'], ['y1']]) // biome-ignore format: one line
    const second = relevantPart(system, 1, 1)
    expect([second.states, second.delays?.seconds, second.D]).toEqual([['three'], [0.2], [[7]]])
    const across = relevantPart(system, 0, 1)
    expect([across.states, across.delays, across.D]).toEqual([[], null, [[0]]])
    for (const [o, i] of [
      [0, 0],
      [1, 1],
    ]) {
      // biome-ignore format: pairs
      expect(valueAt(relevantPart(system, i, o), 0.7)).toEqual(valueAt(system, 0.7, o, i).map((value) => expect.closeTo(value, 12)))
    }
  })
})

describe('crossings', () => {
  const curve = (h: (omega: number) => number) => (omega: number) => ({ re: h(omega), im: 0 })
  const sampled = (h: (omega: number) => number, omega: number[]): Scan => ({
    omega,
    re: omega.map(h),
    im: omega.map(() => 0),
  })
  const places = (h: (omega: number) => number, omega: number[]) =>
    crossings(curve(h), sampled(h, omega), (re) => re).map((found) => found.omega)

  it('are found to rounding between samples, upward and downward', () => {
    expect(places((x) => x * x - 2, [0.5, 1, 2, 3])).toEqual([expect.closeTo(Math.SQRT2, 14)])
    expect(places((x) => 2 - x * x, [0.5, 1, 2, 3])).toEqual([expect.closeTo(Math.SQRT2, 14)])
  })

  it('are found where a step could hide two of them behind an extremum, of either sign', () => {
    const dip = (x: number) => (x - 2) ** 2 - 1e-4
    expect(places(dip, [1, 2.05, 3])).toEqual([expect.closeTo(1.99, 12), expect.closeTo(2.01, 12)])
    expect(places((x) => -dip(x), [1, 2.05, 3])).toEqual([expect.closeTo(1.99, 12), expect.closeTo(2.01, 12)])
    expect(places(dip, [1, 1.5, 2.05, 3])).toEqual([expect.closeTo(1.99, 12), expect.closeTo(2.01, 12)])
  })

  it('are none where the curve only touches 0, or comes near it', () => {
    expect(places((x) => (x - 2) ** 2, [1, 2.05, 3])).toEqual([])
    expect(places((x) => (x - 2) ** 2, [1, 2, 3])).toEqual([])
    expect(places((x) => (x - 2) ** 2 + 1e-6, [1, 2.05, 3])).toEqual([])
    expect(places(() => 0, [1, 2, 3])).toEqual([])
  })

  it('go on across samples that are 0 to rounding', () => {
    expect(places((x) => x - 2, [1, 2, 3])).toEqual([expect.closeTo(2, 14)])
    expect(places((x) => (Math.abs(x - 2) < 0.5 ? 0 : x - 2), [1, 1.9, 2, 2.1, 3]).length).toBe(1)
  })

  it('do not count the jump of an angle from π to −π', () => {
    const angle = (re: number, im: number) => Math.atan2(im, re)
    const f = (omega: number) => ({ re: Math.cos(omega), im: Math.sin(omega) })
    const omega = [2.6, 3, 3.3, 3.6]
    const scan = { omega, re: omega.map(Math.cos), im: omega.map(Math.sin) }
    expect(crossings(f, scan, angle)).toEqual([])
  })

  it('take a value that the scan knows roughly only for what it is', () => {
    // The scan says −1e-4 at 2 where the curve is 1e-6: nothing crosses there.
    const scan = { omega: [1, 2, 3], re: [1, -1e-4, 1], im: [0, 0, 0] }
    expect(
      crossings(
        curve((x) => (x - 2) ** 2 + 1e-6),
        scan,
        (re) => re,
      ),
    ).toEqual([])
  })
})
