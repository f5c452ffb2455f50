import { describe, expect, it } from 'vitest'
import { complexZeros } from '../../../src/linear/complex-lu.js'
import { type Dense, denseFrom, identity, multiply, rowsOf, transpose } from '../../../src/linear/dense.js'
import { hessenbergForm } from '../../../src/linear/hessenberg.js'
import { hessenbergSolver } from '../../../src/linear/hessenberg-solver.js'

/** Entries between −1 and 1 without a pattern. */
const scattered = (n: number, columns = n): Dense =>
  denseFrom(
    Array.from({ length: n }, (_, i) =>
      Array.from({ length: columns }, (_, j) => Math.sin(37 * i * i + 11 * j + i * j)),
    ),
    columns,
  )
const distance = (a: Dense, b: Dense) =>
  a.data.reduce((worst, value, k) => Math.max(worst, Math.abs(value - b.data[k])), 0)

// Householder reductions are backward stable: the error is a small multiple of n ε‖A‖ (Golub, Van Loan, section 7.4.3).
const rounding = (n: number) => 8 * n * Number.EPSILON

describe('hessenbergForm', () => {
  it.each([0, 1, 2, 3, 4, 10, 40])('keeps A = Q H Qᵀ with orthogonal Q for n = %i', (n) => {
    const A = scattered(n)
    const { H, Q } = hessenbergForm(A)
    expect(distance(multiply(multiply(Q, H), transpose(Q)), A)).toBeLessThanOrEqual(rounding(n))
    expect(distance(multiply(Q, transpose(Q)), identity(n))).toBeLessThanOrEqual(rounding(n))
    for (let i = 2; i < n; i++) for (let j = 0; j < i - 1; j++) expect(H.data[i * n + j]).toBe(0)
  })

  it('leaves a matrix that is already in that form', () => {
    const A = denseFrom(
      [
        [1, 2, 3],
        [4, 5, 6],
        [0, 7, 8],
      ],
      3,
    )
    const { H, Q } = hessenbergForm(A)
    expect(rowsOf(H)).toEqual(rowsOf(A))
    expect(rowsOf(Q)).toEqual(rowsOf(identity(3)))
  })

  it('survives columns whose squares overflow or vanish', () => {
    for (const size of [1e200, 1e-200]) {
      const A = denseFrom(
        rowsOf(scattered(5)).map((row) => row.map((value) => value * size)),
        5,
      )
      const { H, Q } = hessenbergForm(A)
      expect(distance(multiply(multiply(Q, H), transpose(Q)), A) / size).toBeLessThan(rounding(5))
    }
  })
})

describe('hessenbergSolver', () => {
  /** s I − H times X */
  const applied = (H: Dense, re: number, im: number, X: { re: Float64Array; im: Float64Array }) => {
    const n = H.rows
    return Array.from({ length: n }, (_, i) => {
      let [a, b] = [re * X.re[i] - im * X.im[i], re * X.im[i] + im * X.re[i]]
      for (let k = 0; k < n; k++) {
        a -= H.data[i * n + k] * X.re[k]
        b -= H.data[i * n + k] * X.im[k]
      }
      return [a, b]
    })
  }

  it.each([1, 2, 3, 12, 50])('solves for n = %i, one shift after another', (n) => {
    const { H } = hessenbergForm(scattered(n))
    const solver = hessenbergSolver(H)
    for (const [re, im] of [
      [0, 3],
      [-1, 0.25],
      [5, -40],
    ]) {
      expect(solver.factor(re, im)).toBeGreaterThan(0)
      const X = complexZeros(n, 1)
      for (let i = 0; i < n; i++) [X.re[i], X.im[i]] = [Math.cos(i), Math.sin(2 * i)]
      const wanted = { re: X.re.slice(), im: X.im.slice() }
      solver.solve(X)
      const size = X.re.reduce((largest, value, k) => Math.max(largest, Math.hypot(value, X.im[k])), 1)
      applied(H, re, im, X).forEach(([a, b], i) => {
        // backward stable: the residual is a small multiple of n ε(‖H‖ + |s|)‖X‖
        const bound = 8 * n * Number.EPSILON * (n + Math.hypot(re, im)) * size
        expect(Math.hypot(a - wanted.re[i], b - wanted.im[i])).toBeLessThan(bound)
      })
    }
  })

  it('says that a shift is an eigenvalue, exactly or nearly', () => {
    // by hand: eigenvalues of the companion matrix of s² + 4 are ±2j
    const solver = hessenbergSolver(
      denseFrom(
        [
          [0, -4],
          [1, 0],
        ],
        2,
      ),
    )
    expect(solver.factor(0, 2)).toBe(0)
    expect(solver.factor(0, 2 * (1 + 1e-12))).toBeLessThan(1e-11)
    expect(solver.factor(0, 3)).toBeGreaterThan(0.1)
  })

  it('exchanges rows where the diagonal vanishes, or all but vanishes', () => {
    // by hand: s I − [2 1; 1 0] at s = 2 + δ: [δ −1; −1 2 + δ], of determinant −1 + 2δ + δ²; times (1, 1): (δ − 1, 1 + δ)
    const solver = hessenbergSolver(
      denseFrom(
        [
          [2, 1],
          [1, 0],
        ],
        2,
      ),
    )
    for (const delta of [0, 1e-12, -1e-9]) {
      expect(solver.factor(2 + delta, 0)).toBeGreaterThan(0.1)
      const X = complexZeros(2, 1)
      X.re.set([delta - 1, 1 + delta])
      solver.solve(X)
      expect(X.re[0]).toBeCloseTo(1, 14)
      expect(X.re[1]).toBeCloseTo(1, 14)
    }
  })

  it('takes matrices without rows', () => {
    const solver = hessenbergSolver(denseFrom([], 0))
    expect(solver.factor(0, 1)).toBeGreaterThan(0)
  })
})
