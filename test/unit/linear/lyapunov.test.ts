import { describe, expect, it } from 'vitest'
import { type Dense, denseFrom, largest, multiply, sum, times, transpose } from '../../../src/linear/dense.js'
import { lyapunov } from '../../../src/linear/lyapunov.js'
import { realSchur } from '../../../src/linear/real-schur.js'
import { stein } from '../../../src/linear/stein.js'

const dense = (rows: number[][]) => denseFrom(rows, rows[0]?.length ?? 0)
const minus = (M: Dense) => times(M, -1)
/** Entries that look random and repeat: fractional parts of multiples of the golden ratio. */
const scattered = (rows: number, columns: number, seed: number): Dense =>
  dense(
    Array.from({ length: rows }, (_, i) =>
      Array.from({ length: columns }, (_, j) => (((seed + 7 * i + 3 * j + i * j) * 0.6180339887498949) % 1) - 0.5),
    ),
  )
const shifted = (M: Dense, by: number): Dense => ({
  ...M,
  data: M.data.map((value, k) => (Math.floor(k / M.columns) === k % M.columns ? value + by : value)),
})

// Orthogonal transformations of a matrix of ten rows lose some tens of ε of its size.
const rounding = 1e-13

describe('realSchur', () => {
  it('is an orthogonal similarity to quasi-triangular form', () => {
    const A = scattered(10, 10, 1)
    const found = realSchur(A)
    if (found === null) throw new Error('no Schur form')
    const { Q, T, blocks } = found
    const back = multiply(multiply(Q, T), transpose(Q))
    expect(largest(sum(back, minus(A)))).toBeLessThan(rounding)
    expect(largest(shifted(multiply(Q, transpose(Q)), -1))).toBeLessThan(rounding)
    const start = new Set(blocks.map(([first]) => first))
    for (let i = 1; i < 10; i++) {
      for (let j = 0; j < i; j++) if (j < i - 1 || start.has(i)) expect(T.data[i * 10 + j]).toBe(0)
    }
    expect(blocks.map(([first, last]) => last - first + 1).reduce((a, b) => a + b)).toBe(10)
  })
})

describe('lyapunov', () => {
  it('is symmetric, positive and solves A X + X Aᵀ + C = 0', () => {
    const A = shifted(scattered(10, 10, 1), -3)
    const B = scattered(10, 2, 4)
    const C = multiply(B, transpose(B))
    const X = lyapunov(A, C)
    if (X === null) throw new Error('no solution')
    expect(largest(sum(sum(multiply(A, X), multiply(X, transpose(A))), C))).toBeLessThan(rounding)
    expect(largest(sum(X, minus(transpose(X))))).toBeLessThan(rounding)
    for (let k = 0; k < 10; k++) expect(X.data[k * 11]).toBeGreaterThan(0)
  })

  it('is null on the imaginary axis', () => {
    expect(lyapunov(dense([[0]]), dense([[1]]))).toBeNull()
    expect(
      lyapunov(
        dense([
          [0, 1],
          [-4, 0],
        ]),
        dense([
          [0, 0],
          [0, 1],
        ]),
      ),
    ).toBeNull()
  })
})

describe('stein', () => {
  it('by hand', () => {
    // x = 0.25 x + 3
    expect(stein(dense([[0.5]]), dense([[3]]))?.data[0]).toBeCloseTo(4, 14)
  })

  it('solves X = A X Aᵀ + C, also close to the unit circle', () => {
    // computed from the closed form 1/(1 − a²) with a = 1 − 1e-9, which carries ε/1e-9
    const near = stein(dense([[1 - 1e-9]]), dense([[1]]))
    expect(Math.abs((near as Dense).data[0] / 500000000.25 - 1)).toBeLessThan(1e-6)
    const A = times(scattered(8, 8, 3), 0.5)
    const C = multiply(scattered(8, 8, 6), transpose(scattered(8, 8, 6)))
    const X = stein(A, C) as Dense
    const rest = sum(sum(multiply(multiply(A, X), transpose(A)), C), minus(X))
    expect(largest(rest)).toBeLessThan(rounding * largest(X))
  })

  it('is null on and outside the unit circle', () => {
    expect(stein(dense([[1]]), dense([[1]]))).toBeNull()
    expect(stein(dense([[2]]), dense([[1]]))).toBeNull()
  })
})
