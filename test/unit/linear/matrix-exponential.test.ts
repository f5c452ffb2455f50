import { describe, expect, it } from 'vitest'
import { denseFrom, rowsOf } from '../../../src/linear/dense.js'
import { matrixExponential } from '../../../src/linear/matrix-exponential.js'

const exponential = (rows: number[][]) => {
  const found = matrixExponential(denseFrom(rows, rows.length))
  return found === null ? null : rowsOf(found)
}
const expectClose = (found: number[][] | null, expected: number[][], relative: number) => {
  expect(found?.map((row) => row.length)).toEqual(expected.map((row) => row.length))
  expected.forEach((row, i) => {
    row.forEach((value, j) => {
      expect(Math.abs((found as number[][])[i][j] - value)).toBeLessThanOrEqual(relative * Math.abs(value))
    })
  })
}
const rounding = 1e-14

describe('matrixExponential', () => {
  it('keeps its digits where large entries cancel, states badly chosen (fault: 9e-9)', () => {
    // computed from the power series in 50 digits; the matrix is of size 1000, its powers show one of about 2
    expectClose(
      exponential([
        [798.632, 251.531, -872.783],
        [795.369, 247.573, -866.466],
        [959.176, 301.213, -1047.405],
      ]),
      [
        [735.9781091130851, 240.51711766989013, -811.8569957676987],
        [817.4947991568869, 267.09461671513134, -901.6612280280832],
        [908.6326964838066, 296.9148916579242, -1002.270571674909],
      ],
      5e-12,
    )
  })

  it('of nothing, of zeros and of a nilpotent matrix', () => {
    expect(exponential([])).toEqual([])
    // by hand
    expectClose(
      exponential([
        [0, 0],
        [0, 0],
      ]),
      [
        [1, 0],
        [0, 1],
      ],
      0,
    )
    expectClose(
      exponential([
        [0, 2, 0],
        [0, 0, 3],
        [0, 0, 0],
      ]),
      [
        [1, 2, 3],
        [0, 1, 3],
        [0, 0, 1],
      ],
      rounding,
    )
  })

  it('of a rotation, over many turns', () => {
    // computed from the closed form cos 100, sin 100; the argument alone carries 100 ε
    const [c, s] = [0.8623188722876839, -0.5063656411097588]
    expectClose(
      exponential([
        [0, 100],
        [-100, 0],
      ]),
      [
        [c, s],
        [-s, c],
      ],
      100 * rounding,
    )
  })

  it('of triangular matrices with equal and with nearly equal rates', () => {
    // computed from the closed form (e^a − e^b)/(a − b), here e⁻¹ and e⁻¹ (1 − e^(−1e-9))/1e-9
    expectClose(
      exponential([
        [-1, 1],
        [0, -1],
      ]),
      [
        [0.36787944117144233, 0.36787944117144233],
        [0, 0.36787944117144233],
      ],
      rounding,
    )
    const e = 0.3678794408035629
    expectClose(
      exponential([
        [-1, 0],
        [1, -1.000000001],
      ]),
      [
        [0.36787944117144233, 0],
        [0.3678794409875026, e],
      ],
      rounding,
    )
  })

  it('of a triangular matrix with rates far apart, over many squarings', () => {
    // by hand: entries are divided differences of e^λ: f[a, b] = (e^a − e^b)/(a − b), and f[a, b, c] = (f[a, b] − f[b, c])/(a − c)
    // in the corner, less 3 times f[a, c]
    const [a, b, c] = [-10, -25, -70]
    const first = (x: number, y: number) => (Math.exp(x) - Math.exp(y)) / (x - y)
    const corner = (2 * 5 * (first(a, b) - first(b, c))) / (a - c) - 3 * first(a, c)
    for (const turned of [false, true]) {
      const upper = [
        [a, 2, -3],
        [0, b, 5],
        [0, 0, c],
      ]
      const rows = turned ? upper.map((_, i) => upper.map((row) => row[i])) : upper
      const E = matrixExponential(denseFrom(rows, 3))?.data as Float64Array
      expect(E[turned ? 6 : 2] / corner).toBeCloseTo(1, 12)
      expect(E[turned ? 3 : 1] / (2 * first(a, b))).toBeCloseTo(1, 13)
      expect(E[8] / Math.exp(c)).toBeCloseTo(1, 14)
    }
  })

  it('is null where it overflows', () => {
    expect(exponential([[800]])).toBeNull()
    expect(
      exponential([
        [0, 1e200],
        [1e200, 0],
      ]),
    ).toBeNull()
  })

  it('of a matrix whose parts are coupled by next to nothing', () => {
    // Such a coupling once drove the balancing scales to Infinity. Computed from the closed form of two equal lags.
    const found = exponential([
      [-1, 1e-215, 0],
      [-1e-215, -1, 1],
      [0, 0, 0],
    ])
    expectClose(
      found?.slice(1) ?? null,
      [
        [-3.678794411714423e-216, 0.36787944117144233, 0.6321205588285577],
        [0, 0, 1],
      ],
      rounding,
    )
  })
})
