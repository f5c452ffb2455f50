import { expect, it } from 'vitest'
import { parallel, type StateSpace, series, stateSpace, transferFunction } from '../../../src/systems/index.js'
import { slopeAtZero } from '../../../src/systems/slope-at-zero.js'
import { told } from './told.js'

const only = { input: 'u1', output: 'y1' } as const
const ratio = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })

/** y = C x + D12 w, z = Cd x + D21 u + D22 w, w(t) = z(t − τ), beside x' = −x. */
const ringOf = (seconds: number[], D12: number[], D21: number[], D22: number[][]): StateSpace => ({
  ...stateSpace({ A: [[-1]], B: [[0]], C: [[0]] }),
  delays: {
    seconds,
    B: [seconds.map(() => 0)],
    C: seconds.map(() => [0]),
    D12: [D12],
    D21: D21.map((value) => [value]),
    D22,
  },
})

// By hand, each from its closed form.
it.each<[string, StateSpace, number]>([
  ['3 s/(s² + 2s + 4): 3/4', ratio([3, 0], [1, 2, 4]), 0.75],
  ['(s + 6)/(s + 2): (2 − 6)/4', ratio([1, 6], [1, 2]), -1],
  ['a gain beside it does not count', parallel(ratio([3, 0], [1, 2, 4]), stateSpace({ A: [], B: [], C: [[]], D: [[9]] })), 0.75],
  ['5 e^(−0.2 s): −0.2·5', ringOf([0.2], [5], [1], [[0]]), -1],
  ['e^(−0.2 s)·(s + 6)/(s + 2): −1 − 0.2·3', series(ringOf([0.2], [1], [1], [[0]]), ratio([1, 6], [1, 2])), -1.6],
  ['E/(1 + E), E = e^(−0.2 s): −0.2/4', ringOf([0.2], [1], [1], [[-1]]), -0.05],
  // Through E₁ and then E₂ with 3 between: 2·3·5 E₁ E₂
  ['30 e^(−0.1 s) e^(−0.25 s): −0.35·30', ringOf([0.1, 0.25], [0, 5], [2, 0], [[0, 0], [3, 0]]), -10.5],
])('the slope at 0 of %s', (_, system, slope) => {
  expect(slopeAtZero(system, only)).toBeCloseTo(slope, 12)
}) // biome-ignore format: cases

it('the slope of one channel is not that of another', () => {
  // (1 + 2 s)/(s + 1) and 7/(s + 3), by hand: 2 − 1 and −7/9
  const A = [[-1, 0], [0, -3]] // biome-ignore format: matrix
  const two = stateSpace({ A, B: [[1, 0], [0, 1]], C: [[-1, 0], [0, 7]], D: [[2, 0], [0, 0]] }) // biome-ignore format: matrix
  expect(slopeAtZero(two, { input: 'u1', output: 'y1' })).toBeCloseTo(1, 12)
  expect(slopeAtZero(two, { input: 'u2', output: 'y2' })).toBeCloseTo(-7 / 9, 12)
  expect(slopeAtZero(two, { input: 'u1', output: 'y2' })).toBe(0)
})

it('there is none at a pole', () => {
  expect(told(() => slopeAtZero(ratio([1], [1, 0]), only))).toBe(
    'singular: compliance: the channel u1 to y1 has a pole at 0 Hz',
  )
})
