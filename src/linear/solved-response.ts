import { type ComplexDense, complexZeros, finite } from './complex-lu.js'
import { type DelayedSolver, type DelayedSystem, delayedSolver } from './delayed-solve.js'
import { type Dense, multiply, transpose } from './dense.js'
import { rounding } from './error-bound.js'
import { hessenbergForm } from './hessenberg.js'
import { type HessenbergSolver, hessenbergSolver } from './hessenberg-solver.js'
import { hypotenuse } from './hypotenuse.js'
import { addCorrection, correctionRatio } from './refined-solve.js'

/** A response and how far it can be off. */
export interface BoundedResponse {
  readonly value: ComplexDense
  readonly bound: Float64Array
}

interface Parts extends DelayedSystem {
  readonly Q: Dense
  readonly transposed: Dense
  /** Qᵀ B */
  readonly reducedB: Dense
  readonly solver: HessenbergSolver
  readonly dense: DelayedSolver
  readonly x: ComplexDense
  readonly correction: ComplexDense
  readonly scratch: ComplexDense
  readonly response: ComplexDense
}

const convergenceLimit = 1e-3
const mostRefinements = 5
/** Estimated relative error of an output row at which refinement stops. */
const target = 1e-13

/** Response of a balanced system at one s after another by a linear system each: O(n²) in Hessenberg form and refinement with the
 * residual in unreduced coordinates, once as a rule, until the outputs stand; a dense factorisation where that does not converge
 * or delays are inside. See `ResponseKernel`. */
export function solvedResponse(balanced: DelayedSystem) {
  const parts = partsOf(balanced)
  return {
    at: (re: number, im: number): ComplexDense | null => finite(evaluate(parts, re, im)),
    boundedAt: (re: number, im: number): BoundedResponse | null => {
      const value = finite(evaluateDense(parts, re, im))
      return value === null ? null : { value, bound: outputBound(parts, re, im) }
    },
  }
}

function partsOf(balanced: DelayedSystem): Parts {
  const { A, B, C, seconds } = balanced
  const { H, Q } = hessenbergForm(A)
  const d = seconds.length
  return {
    ...balanced,
    Q,
    transposed: transpose(Q),
    reducedB: multiply(transpose(Q), B),
    solver: hessenbergSolver(H),
    dense: delayedSolver(balanced),
    x: complexZeros(A.rows, B.columns),
    correction: complexZeros(A.rows, B.columns),
    scratch: complexZeros(A.rows, B.columns),
    response: complexZeros(C.rows - d, B.columns - d),
  }
}

function evaluate(parts: Parts, re: number, im: number): ComplexDense | null {
  const { A, B, Q, x, correction, solver, scratch } = parts
  if (parts.seconds.length > 0 || !(solver.factor(re, im) > 0)) return evaluateDense(parts, re, im)
  scratch.re.set(parts.reducedB.data)
  scratch.im.fill(0)
  solver.solve(scratch)
  rotate(Q, scratch, x)
  for (let step = 0; step < mostRefinements; step++) {
    residual(A, B, x, correction, re, im)
    solveReduced(parts, correction)
    const moved = correctionRatio(x, correction)
    if (!(moved < convergenceLimit)) return evaluateDense(parts, re, im)
    addCorrection(x, correction)
    if (moved * outputRatio(parts) < target) return output(parts, x)
  }
  return evaluateDense(parts, re, im)
}

/** Largest change of an output by the last correction, over the largest entry of its row. The outputs of interest are
 * often far smaller than the states, so they decide when to stop. */
function outputRatio({ C, D, x, correction }: Parts): number {
  const n = C.columns
  const m = x.columns
  let worst = 0
  for (let o = 0; o < C.rows; o++) {
    let size = 0
    let change = 0
    for (let i = 0; i < m; i++) {
      let [re, im, dr, di] = [D.data[o * m + i], 0, 0, 0]
      for (let k = 0; k < n; k++) {
        const factor = C.data[o * n + k]
        if (factor === 0) continue
        const p = k * m + i
        re += factor * x.re[p]
        im += factor * x.im[p]
        dr += factor * correction.re[p]
        di += factor * correction.im[p]
      }
      size = Math.max(size, Math.abs(re) + Math.abs(im))
      change = Math.max(change, Math.abs(dr) + Math.abs(di))
    }
    if (change > 0) worst = Math.max(worst, change / size)
  }
  return worst
}

function evaluateDense(parts: Parts, re: number, im: number): ComplexDense | null {
  const solution = parts.dense.at(re, im)
  return solution === null ? null : output(parts, solution)
}

/** |C| times the error of the solution, and the rounding of the output itself. */
function outputBound({ C, D, seconds, dense, response }: Parts, re: number, im: number): Float64Array {
  const solution = dense.at(re, im) as ComplexDense
  const error = dense.errorBound()
  const n = C.columns
  const m = response.columns
  const gamma = rounding(n + seconds.length)
  const bound = new Float64Array(response.re.length)
  for (let o = 0; o < response.rows; o++) {
    for (let i = 0; i < m; i++) {
      let sum = gamma * Math.abs(D.data[o * D.columns + i])
      for (let k = 0; k < solution.rows; k++) {
        const factor = Math.abs(k < n ? C.data[o * n + k] : D.data[o * D.columns + m + k - n])
        const p = k * m + i
        sum += factor * (error[p] + gamma * hypotenuse(solution.re[p], solution.im[p]))
      }
      bound[o * m + i] = sum
    }
  }
  return bound
}

/** X ← Q (s I − H)⁻¹ Qᵀ X */
function solveReduced({ Q, transposed, solver, scratch }: Parts, X: ComplexDense): void {
  rotate(transposed, X, scratch)
  solver.solve(scratch)
  rotate(Q, scratch, X)
}

/** Real times complex, two columns at a time so that the sums stay in registers. */
function rotate({ rows: n, data: Q }: Dense, from: ComplexDense, to: ComplexDense): void {
  const { columns, re: fromRe, im: fromIm } = from
  const { re: toRe, im: toIm } = to
  for (let i = 0; i < n; i++) {
    const row = i * n
    for (let c = 0; c < columns; c += 2) {
      // The last column of an odd number is done twice.
      const d = c + 1 < columns ? 1 : 0
      let [aRe, aIm, bRe, bIm] = [0, 0, 0, 0]
      for (let k = 0, p = c; k < n; k++, p += columns) {
        const factor = Q[row + k]
        aRe += factor * fromRe[p]
        aIm += factor * fromIm[p]
        bRe += factor * fromRe[p + d]
        bIm += factor * fromIm[p + d]
      }
      const at = i * columns + c
      toRe[at] = aRe
      toIm[at] = aIm
      toRe[at + d] = bRe
      toIm[at + d] = bIm
    }
  }
}

/** R ← B − (s I − A) X */
function residual(A: Dense, B: Dense, X: ComplexDense, R: ComplexDense, re: number, im: number): void {
  const n = A.rows
  const { columns } = X
  for (let p = 0; p < R.re.length; p++) {
    R.re[p] = B.data[p] - re * X.re[p] + im * X.im[p]
    R.im[p] = -re * X.im[p] - im * X.re[p]
  }
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const factor = A.data[i * n + k]
      if (factor === 0) continue
      for (let c = 0; c < columns; c++) {
        R.re[i * columns + c] += factor * X.re[k * columns + c]
        R.im[i * columns + c] += factor * X.im[k * columns + c]
      }
    }
  }
}

/** Response of the external outputs, from states and, below them, delayed signals. */
function output({ C, D, seconds, response }: Parts, solution: ComplexDense): ComplexDense {
  const n = C.columns
  const d = seconds.length
  const { columns } = solution
  const m = response.columns
  for (let o = 0; o < response.rows; o++) {
    for (let i = 0; i < m; i++) {
      let re = D.data[o * D.columns + i]
      let im = 0
      for (let k = 0; k < n + d; k++) {
        const factor = k < n ? C.data[o * n + k] : D.data[o * D.columns + m + k - n]
        if (factor === 0) continue
        re += factor * solution.re[k * columns + i]
        im += factor * solution.im[k * columns + i]
      }
      response.re[o * m + i] = re
      response.im[o * m + i] = im
    }
  }
  return response
}
