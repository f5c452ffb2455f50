import { describe, expect, it } from 'vitest'
import { block, denseFrom, identity, multiply, rowsOf, transpose, zeros } from '../../../src/linear/dense.js'

const M = denseFrom(
  [
    [1, 2, 3],
    [4, 5, 6],
  ],
  3,
)

describe('dense matrices', () => {
  it('go in and out as rows', () => {
    expect(rowsOf(M)).toEqual([
      [1, 2, 3],
      [4, 5, 6],
    ])
    expect(denseFrom([], 3)).toEqual({ rows: 0, columns: 3, data: new Float64Array(0) })
    expect(rowsOf(denseFrom([[], []], 0))).toEqual([[], []])
  })

  it('multiply, also with an empty inner side', () => {
    // by hand
    expect(rowsOf(multiply(M, transpose(M)))).toEqual([
      [14, 32],
      [32, 77],
    ])
    expect(rowsOf(multiply(identity(2), M))).toEqual(rowsOf(M))
    expect(rowsOf(multiply(zeros(2, 0), zeros(0, 2)))).toEqual([
      [0, 0],
      [0, 0],
    ])
  })

  it('are cut without touching the original', () => {
    expect(rowsOf(block(M, 1, 0, 1, 3))).toEqual([[4, 5, 6]])
    expect(rowsOf(block(M, 0, 1, 2, 2))).toEqual([
      [2, 3],
      [5, 6],
    ])
    const cut = block(M, 0, 1, 2, 1)
    expect(rowsOf(cut)).toEqual([[2], [5]])
    cut.data.fill(9)
    expect(rowsOf(M)[0]).toEqual([1, 2, 3])
  })
})
