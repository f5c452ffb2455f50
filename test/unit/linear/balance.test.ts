import { describe, expect, it } from 'vitest'
import { balancingScales, scaleColumns, scaleRows, scaleStates } from '../../../src/linear/balance.js'
import { denseFrom, rowsOf } from '../../../src/linear/dense.js'

const dense = (rows: number[][]) => denseFrom(rows, rows[0]?.length ?? 0)

describe('balancingScales', () => {
  it('evens a pair of opposite entries exactly when their ratio is a power of four', () => {
    // by hand: 2²⁰·d₂/d₁ = d₁/d₂, so d₁/d₂ = 2¹⁰
    const A = dense([
      [0, 2 ** 20],
      [1, 0],
    ])
    expect(rowsOf(scaleStates(A, balancingScales(A)))).toEqual([
      [0, 1024],
      [1024, 0],
    ])
  })

  it('only ever uses powers of two, so that nothing is rounded', () => {
    const A = dense([
      [-0.3, 1e9, 7],
      [1e-7, -3, 0.01],
      [0.2, 1e5, 11],
    ])
    for (const scale of balancingScales(A)) expect(Number.isInteger(Math.log2(scale))).toBe(true)
  })

  it('brings rows and columns within a factor of four of each other', () => {
    // Powers of two leave the ratio of a row to its column within 2², Parlett and Reinsch 1969, section 2
    const A = dense([
      [0, 1e9, 0, 3],
      [1e-6, 0, 1e4, 0],
      [0, 1e-2, 0, 1e7],
      [1e-8, 0, 1, 0],
    ])
    const even = rowsOf(scaleStates(A, balancingScales(A)))
    for (let i = 0; i < 4; i++) {
      const row = even[i].reduce((total, value) => total + Math.abs(value), 0)
      const column = even.reduce((total, values) => total + Math.abs(values[i]), 0)
      expect(row / column).toBeLessThan(4.0001)
      expect(row / column).toBeGreaterThan(1 / 4.0001)
    }
  })

  it('leaves a state that nothing feeds or that feeds nothing', () => {
    const A = dense([
      [-1, 1e30],
      [0, -2],
    ])
    expect(Array.from(balancingScales(A))).toEqual([1, 1])
    expect(Array.from(balancingScales(dense([])))).toEqual([])
  })

  it('listens to inputs and outputs, but not to their units', () => {
    // by hand: with A = 0 off the diagonal only B and C speak; each weighs as much as A
    const A = dense([
      [-1, 0],
      [0, -1],
    ])
    const B = dense([[1], [2 ** -20]])
    const C = dense([[2 ** -20, 1]])
    const scales = balancingScales(A, B, C)
    expect(scales[0] / scales[1]).toBe(2 ** 20)
    expect(Array.from(balancingScales(A, dense([[1e9], [1e9 * 2 ** -20]]), C))).toEqual(Array.from(scales))
  })

  it('scales inputs and outputs with the states, so that C A B is unchanged', () => {
    // by hand: 3·5·7 = 105
    const scales = Float64Array.of(8)
    const [a, b, c] = [
      scaleStates(dense([[5]]), scales),
      scaleRows(dense([[7]]), scales),
      scaleColumns(dense([[3]]), scales),
    ].map(({ data }) => data[0])
    expect([a, b, c]).toEqual([5, 7 / 8, 24])
    expect(c * a * b).toBe(105)
  })
})
