import { describe, expect, it } from 'vitest'
import { balancedSystem } from '../../../src/linear/delayed-solve.js'
import { hessenbergReduction, refinedResponse } from '../../../src/linear/refined-response.js'
import { solvedResponse } from '../../../src/linear/solved-response.js'
import { known, minus, type Number2, size } from './known-systems.js'

describe('a response close to a pole', () => {
  const { system, at } = known(2, 2)
  const balanced = balancedSystem(system)
  const error = (found: { re: Float64Array; im: Float64Array } | null, s: Number2) => {
    const values = at(s).flat()
    const most = Math.max(...values.map(size))
    if (found === null) return null
    return Math.max(...values.map((value, k) => size(minus(value, [found.re[k], found.im[k]])))) / most
  }

  // The distance δ to the pole is known to ε of the pole, so that the response is to ε/δ, times a condition of some hundreds.
  it.each([1e-3, 1e-6, 1e-9, 1e-11, 1e-13])('has the digits that are there %d from it', (distance) => {
    for (const pole of [
      [-1, 0],
      [-2, 5],
      [-10, 0],
    ]) {
      // biome-ignore format: pairs
      const s: Number2 = [pole[0] + distance, pole[1]]
      expect(error(solvedResponse(balanced).at(...s), s) as number).toBeLessThan(1e-12 + 1e-12 / distance)
    }
  })

  it('is refined until its digits stand, or left to others', () => {
    const refined = refinedResponse(hessenbergReduction(balanced))
    expect(error(refined(-2 + 1e-3, 5), [-2 + 1e-3, 5]) as number).toBeLessThan(1e-11)
    expect(error(refined(-2 + 1e-7, 5), [-2 + 1e-7, 5]) as number).toBeLessThan(1e-6)
    // No refinement settles where each moves the solution by what rounding does.
    expect(refined(-2 + 1e-13, 5)).toBeNull()
    expect(refined(-1, 0)).toBeNull()
    // What comes after is not spoilt by it.
    expect(error(refined(0, 3), [0, 3]) as number).toBeLessThan(1e-13)
  })
})
