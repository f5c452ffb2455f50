import { describe, expect, it } from 'vitest'
import { type Dense, denseFrom } from '../../../src/linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../../../src/linear/eigenvalues.js'
import { boundaryPoles } from '../../../src/systems/boundary-poles.js'

const dense = (rows: number[][]): Dense => denseFrom(rows, rows.length)
const on = (A: Dense, boundary: 'axis' | 'circle') => boundaryPoles(A, eigenvalues(A) as Eigenvalues, boundary)
const epsilon = Number.EPSILON

describe('a pole on the boundary', () => {
  it('is one within 16 roundings of the size of its block, of the axis', () => {
    // A single one is as large as it is: only 0 is on the axis.
    expect([0, -1e-300, 1e-300].map((value) => on(dense([[value]]), 'axis')[0])).toEqual([true, false, false])
    // ±j off by 15 ε and 17 ε, the block being of size 1
    const turning = (off: number) => dense([[off, 1], [-1, off]]) // biome-ignore format: matrix
    expect(on(turning(-15 * epsilon), 'axis')).toEqual([true, true])
    expect(on(turning(17 * epsilon), 'axis')).toEqual([false, false])
    // a block beside it does not make it larger
    const beside = dense([[-1e6, 0, 0], [0, -17 * epsilon, 1], [0, -1, -17 * epsilon]]) // biome-ignore format: matrix
    expect(on(beside, 'axis')).toEqual([false, false, false])
  })

  it('is one within 64 roundings of the circle', () => {
    expect([60, 68].map((count) => on(dense([[1 + count * epsilon]]), 'circle')[0])).toEqual([true, false])
    expect([60, 68].map((count) => on(dense([[-1 + count * epsilon]]), 'circle')[0])).toEqual([true, false])
    expect(on(dense([[0]]), 'circle')).toEqual([false])
    const turning = (size: number) => dense([[0.6 * size, 0.8 * size], [-0.8 * size, 0.6 * size]]) // biome-ignore format: matrix
    expect([on(turning(1), 'circle'), on(turning(1 - 1e-13), 'circle')]).toEqual([[true, true], [false, false]]) // biome-ignore format: pairs
  })

  it('is one of a cluster that rounding has split, as far as it can', () => {
    // [1 −1; 1 −1] with its double eigenvalue 0 moved to ±d by d²: on the axis where d² is rounding
    const split = (square: number) => dense([[1, -1 + square], [1, -1]]) // biome-ignore format: matrix
    expect(on(split(1e-16), 'axis')).toEqual([true, true])
    expect(on(split(1e-14), 'axis')).toEqual([false, false])
    // the same about 1 on the circle
    const shifted = (square: number) => dense([[2, -1 + square], [1, 0]]) // biome-ignore format: matrix
    expect(on(shifted(2e-16), 'circle')).toEqual([true, true])
    expect(on(shifted(1e-12), 'circle')).toEqual([false, false])
  })

  it('is none beside others that are well apart in all but place', () => {
    // two oscillators of equal frequency and damping 1e-7, which couple weakly
    const A = dense([[-1e-7, 1, 0, 0], [-1, -1e-7, 1e-9, 0], [0, 0, -1e-7, 1], [1e-9, 0, -1, -1e-7]]) // biome-ignore format: matrix
    expect(on(A, 'axis')).toEqual([false, false, false, false])
  })
})
