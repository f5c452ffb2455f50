import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { compensatedProduct } from '../../../src/linear/compensated-dot.js'
import { complexProduct, moduli, timesReal } from '../../../src/linear/complex-products.js'
import { type Dense, identity, multiply, rowsOf, sum, times, transpose, zeros } from '../../../src/linear/dense.js'
import { diagonalBlocks } from '../../../src/linear/diagonal-blocks.js'
import { eigenvalues } from '../../../src/linear/eigenvalues.js'
import { reflectColumns, reflectRows, rowCompression } from '../../../src/linear/rank-revealing.js'
import { reachablePart, transposed } from '../../../src/linear/reachable-part.js'
import { strongComponents } from '../../../src/linear/strong-components.js'
import { symmetricEigen } from '../../../src/linear/symmetric-eigen.js'
import { complexFrom, dense, scattered } from './known-systems.js'

const apart = (a: Dense, b: Dense) => Math.max(...sum(a, times(b, -1)).data.map(Math.abs))

describe('row compression', () => {
  const Qof = (m: number, reflectors: ReturnType<typeof rowCompression>['reflectors']) => {
    const Q = identity(m)
    for (const reflector of reflectors) reflectRows(Q, reflector, 0)
    return Q
  }

  it.each([
    // of the products of 5 × r and r × 7 scattered matrices
    [0, 5, 7],
    [1, 5, 7],
    [2, 5, 7],
    [5, 5, 7],
    [3, 6, 3],
  ])('finds rank %i of %i × %i', (rank, m, n) => {
    const M = multiply(scattered(m, rank, 1), scattered(rank, n, 2))
    const found = rowCompression(M.columns === n ? M : zeros(m, n), 1e-12)
    expect([found.rank, found.reflectors.length]).toEqual([rank, rank])
    const Q = Qof(m, found.reflectors)
    expect(apart(multiply(Q, transpose(Q)), identity(m))).toBeLessThan(1e-14)
    const compressed = multiply(Q, rank === 0 ? zeros(m, n) : M)
    for (let i = rank; i < m; i++)
      for (let j = 0; j < n; j++) expect(Math.abs(compressed.data[i * n + j])).toBeLessThan(1e-14)
  })

  it('counts a column as nothing up to the tolerance', () => {
    const M = dense([[3, 0], [0, 1e-3], [0, 0]]) // biome-ignore format: matrix
    expect(rowCompression(M, 0.9e-3).rank).toBe(2)
    expect(rowCompression(M, 1e-3).rank).toBe(1)
    expect(rowCompression(M, 3).rank).toBe(0)
    // what is left of a column after the longest one, not what it was: (3, 4) less its part along (30, 40.1)
    expect(rowCompression(dense([[3, 30], [4, 40.1]]), 0.1).rank).toBe(1) // biome-ignore format: matrix
  })

  it('has reflectors that act on rows and columns from a place on', () => {
    const { reflectors } = rowCompression(dense([[3], [4]]), 0)
    // I − β v vᵀ maps (3, 4) to (−5, 0), by hand: [−0.6 −0.8; −0.8 0.6]
    const M = dense([[9, 8, 7], [3, 0, 1], [4, 5, 0]]) // biome-ignore format: matrix
    reflectRows(M, reflectors[0], 1)
    const rows = [[9, 8, 7], [-5, -4, -0.6], [0, 3, -0.8]] // biome-ignore format: matrix
    expect(apart(M, dense(rows))).toBeLessThan(1e-14)
    const N = transpose(dense([[9, 8, 7], [3, 0, 1], [4, 5, 0]])) // biome-ignore format: matrix
    reflectColumns(N, reflectors[0], 1)
    expect(apart(N, transpose(dense(rows)))).toBeLessThan(1e-14)
  })
})

describe('the reachable part', () => {
  const moments = ({ A, B, C }: { A: Dense; B: Dense; C: Dense }) => {
    let power = B
    return Array.from({ length: 6 }, () => {
      const moment = multiply(C, power)
      power = multiply(A, power)
      return moment
    })
  }
  // Three states that the input reaches and two that it does not, in coordinates that mix them.
  const Q = (() => {
    const turn = identity(5)
    for (const reflector of rowCompression(scattered(5, 5, 3), 0).reflectors) reflectRows(turn, reflector, 0)
    return turn
  })()
  const inner = dense([
    [-1, 2, 0, 3, 1],
    [0, -2, 1, 0, 2],
    [1, 0, -3, 1, 0],
    [0, 0, 0, -4, 1],
    [0, 0, 0, 2, -5],
  ])
  const drive = dense([[1], [0], [0], [0], [0]])
  const hidden = {
    A: multiply(multiply(Q, inner), transpose(Q)),
    B: multiply(Q, drive),
    C: multiply(dense([[1, -1, 2, 0.5, 3], [0, 1, 0, 1, 0]]), transpose(Q)), // biome-ignore format: matrix
  }

  it('has the states that an input can move, and the same moments C Aᵏ B', () => {
    const part = reachablePart(hidden, 1, 1e-12)
    expect([part.A.rows, part.B.rows, part.C.columns, part.C.rows]).toEqual([3, 3, 3, 2])
    for (const [k, moment] of moments(part).entries()) expect(apart(moment, moments(hidden)[k])).toBeLessThan(1e-11)
  })

  it('of the transposed system has those that an output shows', () => {
    // The dual: two states that no output sees
    const dual = transposed(hidden)
    expect([dual.A.rows, dual.B.columns, dual.C.rows]).toEqual([5, 2, 1])
    const unseen = { A: transpose(hidden.A), B: transpose(hidden.C), C: transpose(hidden.B) }
    const part = transposed(reachablePart(transposed(unseen), 1, 1e-12))
    expect(part.A.rows).toBe(3)
    for (const [k, moment] of moments(part).entries()) expect(apart(moment, moments(unseen)[k])).toBeLessThan(1e-11)
  })

  it('counts every input, in whatever units', () => {
    // by hand: the second input, of 1e-20, drives the third state alone
    const two = (b: number) => ({
      A: dense([[-1, 0, 0], [0, -2, 0], [0, 0, -3]]),
      B: dense([[1e5, 0], [1e5, 0], [0, b]]),
      C: dense([[1, 1, 1]]),
    }) // biome-ignore format: matrices
    expect(reachablePart(two(1e-20), 3, 1e-12).A.rows).toBe(3)
    expect(reachablePart(two(0), 3, 1e-12).A.rows).toBe(2)
  })

  it('does not see the unit of an input, and is nothing where none acts', () => {
    expect(reachablePart({ ...hidden, B: times(hidden.B, 1e-30) }, 1, 1e-12).A.rows).toBe(3)
    expect(reachablePart({ ...hidden, B: zeros(5, 1) }, 1, 1e-12).A.rows).toBe(0)
    // A coupling of 1e-3 of the size counts as none at that tolerance
    const weak = { A: dense([[-1, 0], [1e-3, -2]]), B: dense([[1], [0]]), C: dense([[1, 1]]) } // biome-ignore format: one line
    expect([1e-2, 1e-4].map((tolerance) => reachablePart(weak, 1, tolerance).A.rows)).toEqual([1, 2])
    expect(reachablePart(weak, 100, 1e-4).A.rows).toBe(1)
  })
})

describe('groups of nodes that reach each other', () => {
  it.each([
    // by hand: each group after those it depends on
    ['nothing', [], []],
    ['a node alone, with itself or not', [[], [1]], [[0], [1]]],
    ['a chain', [[1], [2], []], [[2], [1], [0]]],
    ['a ring', [[1], [2], [0]], [[0, 1, 2]]],
    ['two rings, one of which drives the other', [[1], [0, 2], [3], [2]], [[2, 3], [0, 1]]],
    ['a ring that is entered twice, and a way out of it', [[1, 2], [3], [3], [4, 1], []], [[4], [1, 3], [2], [0]]],
  ] as [string, number[][], number[][]][])('of %s', (_, dependsOn, groups) => {
    expect(strongComponents(dependsOn).map((group) => group.sort((a, b) => a - b))).toEqual(groups)
  }) // biome-ignore format: cases

  it('split a matrix into blocks with the same eigenvalues, and leave a connected one as it is', () => {
    const A = dense([[1, 0, 5, 0], [0, 2, 0, 0], [0, 0, 3, 4], [0, 0, -4, 3]]) // biome-ignore format: matrix
    expect(diagonalBlocks(A).map(rowsOf)).toEqual([[[3, 4], [-4, 3]], [[1]], [[2]]]) // biome-ignore format: matrices
    const whole = dense([[1, 2], [3, 4]]) // biome-ignore format: matrix
    expect(diagonalBlocks(whole)[0]).toBe(whole)
    expect(eigenvalues(A)?.im.filter((im) => im > 0)).toEqual(Float64Array.of(4))
  })
})

describe('principal directions', () => {
  const scope = scopeOf('test')

  it('of a symmetric matrix by hand: [2 1; 1 2] has 1 and 3', () => {
    const { values, vectors } = symmetricEigen(scope, dense([[2, 1], [1, 2]])) // biome-ignore format: matrix
    expect(Array.from(values)).toEqual([expect.closeTo(1, 14), expect.closeTo(3, 14)])
    expect(vectors.data[0] * vectors.data[2]).toBeCloseTo(-0.5, 14)
    expect(vectors.data[1] * vectors.data[3]).toBeCloseTo(0.5, 14)
  })

  it('ascend, are orthogonal and diagonalise it', () => {
    const M = (() => {
      const S = scattered(7, 7, 5)
      return sum(S, transpose(S))
    })()
    const { values, vectors } = symmetricEigen(scope, M)
    for (let k = 1; k < 7; k++) expect(values[k]).toBeGreaterThanOrEqual(values[k - 1])
    expect(apart(multiply(transpose(vectors), vectors), identity(7))).toBeLessThan(1e-14)
    const turned = multiply(multiply(transpose(vectors), M), vectors)
    for (const [k, value] of turned.data.entries()) expect(value).toBeCloseTo(k % 8 === 0 ? values[k / 8] : 0, 13)
  })

  it('keep a small one beside a large one to its last digits', () => {
    // diag(1e-8, 1) turned by (0.6, 0.8), whose product is 1e-8 and whose trace 1 + 1e-8, by hand
    const M = dense([[0.36e-8 + 0.64, 0.48e-8 - 0.48], [0.48e-8 - 0.48, 0.64e-8 + 0.36]]) // biome-ignore format: matrix
    expect(symmetricEigen(scope, M).values[0]).toBeCloseTo(1e-8, 15)
    const graded = symmetricEigen(scope, dense([[1, 1e-9], [1e-9, 1e-16]])).values // biome-ignore format: matrix
    // det = 1e-16 − 1e-18 over the large one, 1 + 1e-18
    expect(graded[0] / 0.99e-16).toBeCloseTo(1, 9)
    expect(rowsOf(symmetricEigen(scope, identity(3)).vectors)).toEqual(rowsOf(identity(3)))
  })
})

describe('products', () => {
  it('of complex matrices, of one turned on its side, and with a real one', () => {
    // by hand
    const X = complexFrom([[[1, 1], [0, 2]], [[3, 0], [1, -1]]]) // biome-ignore format: matrix
    const Y = complexFrom([[[2, 0]], [[0, 1]]])
    const pairs = ({ re, im }: { re: Float64Array; im: Float64Array }) => Array.from(re, (value, k) => [value, im[k]])
    const none = () => complexFrom([[[0, 0]], [[0, 0]]])
    // (1 + j)·2 + 2j·j, 3·2 + (1 − j)·j
    expect(pairs(complexProduct(X, Y, none()))).toEqual([[0, 2], [7, 1]]) // biome-ignore format: pairs
    // (1 + j)·2 + 3·j, 2j·2 + (1 − j)·j
    expect(pairs(complexProduct(X, Y, none(), true))).toEqual([[2, 5], [1, 5]]) // biome-ignore format: pairs
    expect(pairs(timesReal(X, dense([[2], [-1]]), none()))).toEqual([[2, 0], [5, 1]]) // biome-ignore format: pairs
    expect(
      Array.from(
        moduli(
          complexFrom([
            [
              [3, -4],
              [0, 2],
            ],
          ]),
          new Float64Array(2),
        ),
      ),
    ).toEqual([5, 2])
  })

  it('in twice the precision keep what cancels', () => {
    // [1e16 1; 1 1]·[1 0; 1 1] less 1e16, by hand
    const product = compensatedProduct(dense([[1e16, 1, -1e16], [1, 1, 1]]), dense([[1, 0], [1, 1], [1, 2]])) // biome-ignore format: matrices
    expect(rowsOf(product)).toEqual([[1, 1 - 2e16], [3, 3]]) // biome-ignore format: pairs
  })
})
