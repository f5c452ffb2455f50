import { describe, expect, it } from 'vitest'
import { massMatrix } from '../../../src/elements/rigid-payload-lines.js'

describe('massMatrix', () => {
  it('of a body away from the reference point has its static moments and the parallel-axis terms', () => {
    // by hand from H. Goldstein, Classical Mechanics, chapter 5: m(c²δᵢⱼ − cᵢcⱼ) with m = 2 and c = (1, 2, 3), c² = 14
    const payload = {
      mass: 2,
      inertia: [
        [5, 0.1, 0.2],
        [0.1, 6, 0.3],
        [0.2, 0.3, 7],
      ],
      centreOfMass: [1.5, 2.5, 3.5],
      supports: [],
    }
    const { data } = massMatrix(payload as never, [0.5, 0.5, 0.5])
    const rows = Array.from({ length: 6 }, (_, i) => Array.from(data.slice(6 * i, 6 * i + 6)))
    const expected = [
      [2, 0, 0, 0, 6, -4],
      [0, 2, 0, -6, 0, 2],
      [0, 0, 2, 4, -2, 0],
      [0, -6, 4, 31, -3.9, -5.8],
      [6, 0, -2, -3.9, 26, -11.7],
      [-4, 2, 0, -5.8, -11.7, 17],
    ]
    rows.forEach((row, i) => {
      row.forEach((value, j) => {
        expect(value, `${i}, ${j}`).toBeCloseTo(expected[i][j], 12)
      })
    })
  })
})
