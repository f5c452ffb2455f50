import { describe, expect, it } from 'vitest'
import { type Dense, denseFrom, identity } from '../../../src/linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../../../src/linear/eigenvalues.js'

const dense = (rows: number[][]): Dense => denseFrom(rows, rows.length)
const found = (A: Dense): Eigenvalues => {
  const values = eigenvalues(A)
  if (values === null) throw new Error('no convergence')
  return values
}
const sorted = (values: Float64Array) => Array.from(values).sort((a, b) => a - b)
const scattered = (n: number) =>
  dense(Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => Math.sin(37 * i * i + 11 * j + i * j))))
/** Companion matrix of sⁿ + a₁ sⁿ⁻¹ + … + aₙ */
const companion = (a: number[]) => dense(a.map((_, i) => a.map((value, j) => (i === 0 ? -value : Number(j === i - 1)))))

describe('eigenvalues', () => {
  it('are those of small matrices by hand', () => {
    expect(found(dense([]))).toEqual({ re: new Float64Array(0), im: new Float64Array(0) })
    expect(found(dense([[-3]]))).toEqual({ re: Float64Array.of(-3), im: Float64Array.of(0) })
    const { re, im } = found(
      dense([
        [0, 1],
        [-25, -6],
      ]),
    )
    expect(Array.from(re)).toEqual([-3, -3])
    expect(sorted(im)).toEqual([-4, 4])
  })

  it('are exact for zero, diagonal and triangular matrices', () => {
    expect(sorted(found(dense([[0, 0], [0, 0]])).re)).toEqual([0, 0]) // biome-ignore format: small matrices
    const triangle = dense([
      [1, 1e6, 7, 3],
      [0, -2, 1e-9, 8],
      [0, 0, 1e12, 1],
      [0, 0, 0, 1e-12],
    ])
    expect(sorted(found(triangle).re)).toEqual([-2, 1e-12, 1, 1e12])
    expect(found(triangle).im.every((value) => value === 0)).toBe(true)
    expect(sorted(found(identity(30)).re)).toEqual(new Array(30).fill(1))
  })

  it('are exact for a cascade, whatever couples its stages', () => {
    // by hand: −1e-6 and −1e6 under a coupling of 1e12 (fault: the slow one was wrong by 8e-6 of itself)
    expect(sorted(found(dense([[-1e-6, 0], [1e12, -1e6]])).re)).toEqual([-1e6, -1e-6]) // biome-ignore format: small matrix
    // by hand: s² + 6 s + 25 and s² + 4 in turn, states shuffled, coupled by 1e9 in one direction only
    const { re, im } = found(
      dense([
        [0, 1e9, 1, 0],
        [0, 0, 0, 1],
        [-4, 1e9, 0, 1e9],
        [0, -25, 0, -6],
      ]),
    )
    expect(sorted(re)).toEqual([-3, -3, 0, 0])
    expect(sorted(im)).toEqual([-4, -2, 2, 4])
  })

  it('are found where the last two rows tell no shift', () => {
    // by hand: I and a turn of three places, 1 + the cube roots of one; [1 0; 1 1] in the corner is a double 1 without width
    const { re, im } = found(dense([[1, 0, 1], [1, 1, 0], [0, 1, 1]])) // biome-ignore format: matrix
    expect(sorted(re)).toEqual([expect.closeTo(0.5, 14), expect.closeTo(0.5, 14), expect.closeTo(2, 14)])
    expect(sorted(im)).toEqual([expect.closeTo(-Math.sqrt(0.75), 14), 0, expect.closeTo(Math.sqrt(0.75), 14)])
  })

  it('of a companion matrix are the roots', () => {
    // by hand: (s − 1)(s − 2)…(s − 8). The worst root is 6: Σ|aₖ| 6ᵏ/|p'(6)| = 7·8·…·14/(5!·2!) = 5.05e5 is its condition
    const roots = sorted(found(companion([-36, 546, -4536, 22449, -67284, 118124, -109584, 40320])).re)
    roots.forEach((root, k) => {
      expect(Math.abs(root - k - 1)).toBeLessThan(5.05e5 * 64 * Number.EPSILON)
    })
    // by hand: sⁿ = 1 has its roots on the unit circle; a plain double shift never gets anywhere on this matrix
    for (const n of [3, 4, 17]) {
      const { re, im } = found(companion([...new Array<number>(n - 1).fill(0), -1]))
      const angles = Array.from(re, (a, k) => Math.atan2(im[k], a)).sort((a, b) => a - b)
      for (let k = 0; k < n; k++) {
        expect(Math.hypot(re[k], im[k])).toBeCloseTo(1, 13)
        if (k > 0) expect(angles[k] - angles[k - 1]).toBeCloseTo((2 * Math.PI) / n, 12)
      }
    }
  })

  it('of a defective matrix lie within ε^(1/k) of the truth', () => {
    // one Jordan block −1, size 5, turned by an integer similarity: T J T⁻¹ with T = unit lower triangle of ones
    const n = 5
    const J = (i: number, j: number) => (i === j ? -1 : Number(j === i + 1))
    // T[i][j] = 1 for j ≤ i; T⁻¹ has ones on and −1 below the diagonal. By hand: (T J T⁻¹)[i][j] = S[i][j] − S[i][j + 1]
    const S = (i: number, j: number) => {
      let total = 0
      for (let k = 0; k <= i; k++) total += j < n ? J(k, j) : 0
      return total
    }
    const A = dense(Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => S(i, j) - S(i, j + 1))))
    const { re, im } = found(A)
    // 1.2e-3 is ε^(1/5); the constant is the size of the similarity
    re.forEach((value, k) => {
      expect(Math.hypot(value + 1, im[k])).toBeLessThan(5 * Number.EPSILON ** 0.2)
    })
    // their mean is known to rounding: the trace
    expect(re.reduce((total, value) => total + value, 0) / n).toBeCloseTo(-1, 13)
  })

  it('of a nilpotent chain are zero', () => {
    const chain = dense(Array.from({ length: 6 }, (_, i) => Array.from({ length: 6 }, (_, j) => Number(j === i + 1))))
    expect(found(chain).re.every((value) => value === 0)).toBe(true)
    expect(found(chain).im.every((value) => value === 0)).toBe(true)
  })

  it('of a badly scaled matrix are right to the last digits', () => {
    // by hand: s² + 1.2e4 s + 1e8 has the roots −6e3 ± 8e3 j
    const { re, im } = found(
      dense([
        [0, 1e12],
        [-1e-4, -1.2e4],
      ]),
    )
    for (const value of re) expect(Math.abs(value + 6000)).toBeLessThan(6000 * 8 * Number.EPSILON)
    expect(Math.abs(Math.max(...im) - 8000)).toBeLessThan(8000 * 8 * Number.EPSILON)
  })

  it('of two tight clusters converge (fault: one shift from each cluster never settled)', () => {
    const A = dense([
      [0, 0, 0, 6.155766163465292e-5, -9.999877421832771],
      [0, 0, 0, 0, 9.99887575528246],
      [0, -9.481592344826206, 0, 0, 0],
      [0, 0, -3.6032605118049496e-5, 9.999931153639633, 0],
      [-9.999990437360799, 1.4183306006915177e-5, 0, 0, 0],
    ])
    const { re, im } = found(A)
    // LAPACK dgeev; a pair this close is known to √ε of the size of the matrix
    const expected = [-9.99994102, -1.05e-10, -1.05e-10, 9.99993609, 9.99993609]
    for (const [k, value] of sorted(re).entries()) expect(Math.abs(value - expected[k])).toBeLessThan(1e-6)
    const turns = [-4.58573509e-5, -3.2048567e-5, 0, 3.2048567e-5, 4.58573509e-5]
    for (const [k, value] of sorted(im).entries()) expect(Math.abs(value - turns[k])).toBeLessThan(1e-6)
  })

  it('of two mirrored pairs that differ by 1e-13 converge (fault: no subdiagonal fell below ε of its neighbours)', () => {
    const A = dense([
      [0, 0, 0, -9.999999999999458, 0],
      [-9.996574400283835, 0, 0, 0, 0],
      [0, 1.6183946295257426e-10, 0, 0, -9.999999999998623],
      [-9.999999999999973, 0, 0, 0, 5e-324],
      [0, 0, -9.999999999999977, 0, -2.5e-323],
    ])
    // by hand, up to 1e-12: ±10 twice and 0
    const expected = [-10, -10, 0, 10, 10]
    for (const [k, value] of sorted(found(A).re).entries()) expect(value).toBeCloseTo(expected[k], 6)
  })

  it('of a ring whose products leave the range of numbers', () => {
    // by hand: λ³ = abc with a b c = −8e-600 is below the range, λ = −2e-200 is not; and 8e600 gives 2e200
    const ring = (a: number, b: number, c: number) => found(dense([[0, a, 0], [0, 0, b], [c, 0, 0]])) // biome-ignore format: small matrix
    expect(sorted(ring(-2e-200, 2e-200, 2e-200).re)[0] / 2e-200).toBeCloseTo(-1, 14)
    expect(sorted(ring(2e200, 2e200, 2e200).re)[2] / 2e200).toBeCloseTo(1, 14)
    expect(sorted(ring(5e-324, 6e-114, 5.4e-316).re).length).toBe(3)
  })

  it('come in conjugate pairs, side by side', () => {
    const { re, im } = found(scattered(41))
    for (let k = 0; k < re.length; k++) {
      if (im[k] === 0) continue
      expect([re[k + 1], im[k + 1]]).toEqual([re[k], -im[k]])
      k += 1
    }
  })

  it('of 100 rows sum to the trace, and their squares to that of A²', () => {
    const n = 100
    const A = scattered(n)
    const { re, im } = found(A)
    let trace = 0
    let square = 0
    for (let i = 0; i < n; i++) {
      trace += A.data[i * n + i]
      for (let j = 0; j < n; j++) square += A.data[i * n + j] * A.data[j * n + i]
    }
    // backward error n ε‖A‖ with ‖A‖ about 100, times 100 terms
    const rounding = n * Number.EPSILON * 100 * n
    expect(Math.abs(re.reduce((total, value) => total + value, 0) - trace)).toBeLessThan(rounding)
    const squares = re.reduce((total, value, k) => total + value * value - im[k] * im[k], 0)
    expect(Math.abs(squares - square)).toBeLessThan(100 * rounding)
  })

  it('leave the matrix alone', () => {
    const A = scattered(7)
    const before = A.data.slice()
    eigenvalues(A)
    expect(A.data).toEqual(before)
  })
})
