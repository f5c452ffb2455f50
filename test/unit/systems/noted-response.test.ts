import { describe, expect, it } from 'vitest'
import { delay, parallel, type StateSpace, series, stateSpace, transferFunction } from '../../../src/systems/index.js'
import { notedResponse } from '../../../src/systems/noted-response.js'

const ratio = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const at = (system: StateSpace, omega: number) => {
  const found = notedResponse(system)(0, omega)
  if (found === null) throw new Error('a pole')
  const size = Array.from(found.re, (re, k) => Math.hypot(re, found.im[k]))
  return { ...found, size }
}

describe('a response with what rounding may have put into it', () => {
  it('stands far above it where nothing cancels, and below where all does', () => {
    // 1/(s + 3) − 1/(s + 3), the second written as 7/(7 s + 21): nothing, to rounding
    const { size, noise } = at(parallel(ratio([1], [1, 3]), ratio([-7], [7, 21])), 2)
    expect(size[0]).toBeLessThanOrEqual(noise[0])
    const lag = at(ratio([1], [1, 3]), 2)
    expect(lag.size[0]).toBeCloseTo(1 / Math.sqrt(13), 14)
    // 1e-13 of what the output is the sum of
    expect(lag.noise[0] / lag.size[0]).toBeCloseTo(1e-13, 15)
  })

  it('does not see the units of states, inputs and outputs', () => {
    const [a, b, c] = [2 ** 20, 2 ** -7, 2 ** 11]
    const plain = stateSpace({ A: [[-1, 2], [-3, -4]], B: [[1], [2]], C: [[1, 1], [5, -1]], D: [[0], [0.3]] }) // biome-ignore format: matrices
    const scaled = stateSpace({
      A: [[-1, 2 * a], [-3 / a, -4]],
      B: [[b], [(2 * b) / a]],
      C: [[c, c * a], [5 * c, -c * a]],
      D: [[0], [0.3 * b * c]],
    }) // biome-ignore format: matrices
    const [one, other] = [at(plain, 1.5), at(scaled, 1.5)]
    for (const k of [0, 1]) {
      expect(other.size[k] / (b * c * one.size[k])).toBeCloseTo(1, 12)
      // by powers of two that balancing chooses, no more
      expect(other.noise[k] / (b * c * one.noise[k])).toBeGreaterThan(0.24)
      expect(other.noise[k] / (b * c * one.noise[k])).toBeLessThan(4.1)
    }
  })

  it('counts the direct gain, channel by channel', () => {
    // by hand: 1e-13 of |D| alone, since nothing reaches the state from the second input
    const system = stateSpace({ A: [[-1]], B: [[1, 0]], C: [[0], [2]], D: [[0, 3], [0, -5]] }) // biome-ignore format: matrices
    const { noise, re } = at(system, 1)
    expect(Array.from(re).map((value) => value + 0)).toEqual([0, 3, 1, -5])
    expect([noise[1], noise[3]].map((value) => value * 1e13)).toEqual([3, 5].map((value) => expect.closeTo(value, 12)))
    expect(noise[0]).toBe(0)
    // 2·|1/(1 + j)|
    expect(noise[2] * 1e13).toBeCloseTo(Math.SQRT2, 12)
  })

  it('goes through delays, and has none on a pole', () => {
    const late = at(series(ratio([1], [1, 1]), delay({ seconds: Math.PI })), 1)
    // −1/(1 + j), by hand
    expect([late.re[0], late.im[0]]).toEqual([expect.closeTo(-0.5, 12), expect.closeTo(0.5, 12)])
    expect([late.re.length, late.noise.length]).toEqual([1, 1])
    expect(notedResponse(ratio([1], [1, 0]))(0, 0)).toBeNull()
  })
})
