import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { balancingScales, scaleStates } from '../../src/linear/balance.js'
import { complexLu, complexLuSolve, complexZeros } from '../../src/linear/complex-lu.js'
import { type Dense, denseFrom, largest } from '../../src/linear/dense.js'
import { diagonalBlocks } from '../../src/linear/diagonal-blocks.js'
import { eigenvalues } from '../../src/linear/eigenvalues.js'
import { responseKernel } from '../../src/linear/response-kernel.js'
import { bracketedRoot, localMinimum } from '../../src/linear/scalar-search.js'

/** Between −1 and 1, and no nearer to zero than 1e-6 but for zero itself: products stay in the range of numbers. */
const fraction = fc.integer({ min: -1e6, max: 1e6 }).map((k) => k / 1e6)
const entry = fc.oneof(
  fc.constant(0),
  fraction,
  fc.tuple(fc.double({ min: 1, max: 10, noNaN: true }), fc.integer({ min: -6, max: 6 })).map(([a, k]) => a * 10 ** k),
)
const square = (least: number, most: number) =>
  fc
    .integer({ min: least, max: most })
    .chain((n) => fc.array(fc.array(entry, { minLength: n, maxLength: n }), { minLength: n, maxLength: n }))
    .map((rows) => denseFrom(rows, rows.length))

describe('eigenvalues', () => {
  it('are found for every finite matrix, in conjugate pairs', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 8 }).chain((n) =>
          fc.array(fc.array(fc.double({ min: -1e100, max: 1e100, noNaN: true }), { minLength: n, maxLength: n }), {
            minLength: n,
            maxLength: n,
          }),
        ),
        (rows) => {
          const found = eigenvalues(denseFrom(rows, rows.length))
          expect(found).not.toBeNull()
          const { re, im } = found as NonNullable<typeof found>
          expect(re.length).toBe(rows.length)
          for (let k = 0; k < re.length; k++) {
            expect(Number.isFinite(re[k]) && Number.isFinite(im[k])).toBe(true)
            if (im[k] === 0) continue
            expect([re[k + 1], im[k + 1]]).toEqual([re[k], -im[k]])
            k += 1
          }
        },
      ),
      { numRuns: 500 },
    )
  })

  it('leave A − λ I singular to rounding, block by block of the balanced matrix', () => {
    fc.assert(
      fc.property(square(1, 8), (A) => {
        for (const block of diagonalBlocks(A)) {
          const balanced = scaleStates(block, balancingScales(block))
          const { re, im } = eigenvalues(block) as NonNullable<ReturnType<typeof eigenvalues>>
          for (let k = 0; k < re.length; k++) {
            // Backward stable: λ is exact for a matrix within a small multiple of n ε‖A‖, so some solution grows to the
            // inverse of that; the unit vectors find it up to √n.
            const size = largest(balanced) * block.rows
            expect(smallestGrowth(balanced, re[k], im[k])).toBeLessThanOrEqual(1e3 * block.rows * Number.EPSILON * size)
          }
        }
      }),
      { numRuns: 300 },
    )
  })

  it('sum to the trace', () => {
    fc.assert(
      fc.property(square(1, 10), (A) => {
        const { re } = eigenvalues(A) as NonNullable<ReturnType<typeof eigenvalues>>
        let [trace, size] = [0, 0]
        for (const block of diagonalBlocks(A)) {
          for (let i = 0; i < block.rows; i++) trace += block.data[i * block.rows + i]
          size += block.rows * largest(scaleStates(block, balancingScales(block)))
        }
        const sum = re.reduce((total, value) => total + value, 0)
        expect(Math.abs(sum - trace)).toBeLessThanOrEqual(64 * A.rows * Number.EPSILON * size)
      }),
      { numRuns: 300 },
    )
  })
})

describe('responseKernel', () => {
  it('solves (s I − A) X = B with a small residual, row by row', () => {
    fc.assert(
      fc.property(
        square(1, 10),
        fc.double({ min: -6, max: 6, noNaN: true }),
        fc.array(fraction, { minLength: 10, maxLength: 10 }),
        (A, exponent, column) => {
          const n = A.rows
          const omega = 10 ** exponent
          const B = column.slice(0, n)
          const identity = Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => Number(i === j)))
          const X = responseKernel({
            A,
            B: denseFrom(
              B.map((value) => [value]),
              1,
            ),
            C: denseFrom(identity, n),
            D: denseFrom(
              B.map(() => [0]),
              1,
            ),
            seconds: [],
          }).at(0, omega)
          if (X === null) return
          for (let i = 0; i < n; i++) {
            let [re, im] = [B[i] + omega * X.im[i], -omega * X.re[i]]
            let size = Math.abs(B[i]) + omega * Math.hypot(X.re[i], X.im[i])
            for (let k = 0; k < n; k++) {
              const value = A.data[i * n + k]
              re += value * X.re[k]
              im += value * X.im[k]
              size += Math.abs(value) * Math.hypot(X.re[k], X.im[k])
            }
            // One step of refinement makes the backward error small row by row (Skeel 1980), unless the matrix is too close
            // to singular for it; the bound is what is asked of responses, 1e-9, not what a good case gives, 1e-16.
            expect(Math.hypot(re, im)).toBeLessThanOrEqual(1e-9 * size)
          }
        },
      ),
      { numRuns: 500 },
    )
  })
})

describe('scalar search', () => {
  const number = fc.double({ min: -100, max: 100, noNaN: true })

  it('finds the root of a rising cubic between any two places around it', () => {
    fc.assert(
      fc.property(
        number,
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        (root, slope, below, above) => {
          const f = (x: number) => (x - root) ** 3 + slope * (x - root)
          const found = bracketedRoot(f, root - below, root + above)
          // the differences x − root are exact to ε of the root
          expect(Math.abs(found - root)).toBeLessThanOrEqual(4 * Number.EPSILON * Math.max(Math.abs(root), 1))
        },
      ),
    )
  })

  it('finds the minimum of a convex function to the root of rounding', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (place, part) => {
          const { x, value } = localMinimum((y) => Math.cosh((y - place) / place), place * part, place * (2 - part / 2))
          expect(Math.abs(x - place)).toBeLessThan(1e-7 * place)
          expect(value).toBeCloseTo(1, 13)
        },
      ),
    )
  })
})

/** Least 1/|x| for (A − λ I) x = e, e the unit vectors: a bound from above on the smallest singular value. */
function smallestGrowth(A: Dense, re: number, im: number): number {
  const n = A.rows
  const M = complexZeros(n, n)
  M.re.set(A.data)
  for (let i = 0; i < n; i++) {
    M.re[i * n + i] -= re
    M.im[i * n + i] = -im
  }
  const lu = complexLu(M)
  if (lu.smallestPivot === 0) return 0
  let smallest = Number.POSITIVE_INFINITY
  for (let c = 0; c < n; c++) {
    const x = complexZeros(n, 1)
    x.re[c] = 1
    complexLuSolve(lu, x)
    const size = Math.hypot(...x.re, ...x.im)
    smallest = Math.min(smallest, Number.isFinite(size) ? 1 / size : 0)
  }
  return smallest
}
