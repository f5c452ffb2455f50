import { type ComplexDense, complexZeros, finite } from './complex-lu.js'
import { type DelayedSolver, type DelayedSystem, delayedSolver } from './delayed-solve.js'
import { type Dense, multiply, transpose } from './dense.js'
import { rounding } from './error-bound.js'
import { hessenbergForm } from './hessenberg.js'
import { type HessenbergSolver, hessenbergSolver } from './hessenberg-solver.js'
import { hypotenuse } from './hypotenuse.js'
import { realTimesComplex } from './real-times-complex.js'
import { addCorrection, correctionRatio } from './refined-solve.js'

/** A response and how far it can be off. */
export interface BoundedResponse {
  readonly value: ComplexDense
  readonly bound: Float64Array
}

interface Parts extends DelayedSystem {
  readonly Q: Dense
  readonly transposed: Dense
  /** Qᵀ B and C Q */
  readonly reducedB: Dense
  readonly rotatedC: Dense
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
    rotatedC: multiply(C, Q),
    solver: hessenbergSolver(H),
    dense: delayedSolver(balanced),
    x: complexZeros(A.rows, B.columns),
    correction: complexZeros(A.rows, B.columns),
    scratch: complexZeros(A.rows, B.columns),
    response: complexZeros(C.rows - d, B.columns - d),
  }
}

function evaluate(parts: Parts, re: number, im: number): ComplexDense | null {
  const { A, B, Q, transposed, x, correction, solver, scratch } = parts
  if (parts.seconds.length > 0 || !(solver.factor(re, im) > 0)) return evaluateDense(parts, re, im)
  scratch.re.set(parts.reducedB.data)
  scratch.im.fill(0)
  solver.solve(scratch)
  realTimesComplex(Q, scratch, x)
  for (let step = 0; step < mostRefinements; step++) {
    residual(A, B, x, scratch, re, im)
    realTimesComplex(transposed, scratch, correction)
    solver.solve(correction)
    const moved = correctionRatio(x, correction)
    if (!(moved < convergenceLimit)) break
    if (moved * correctedOutput(parts) < target) return parts.response
    realTimesComplex(Q, correction, scratch)
    addCorrection(x, scratch)
  }
  return evaluateDense(parts, re, im)
}

/** Writes D + C (x + Q e) with the last correction e; returns the largest change of an output by it, over the largest entry of
 * its row. The outputs of interest are often far smaller than the states, so they decide when to stop. */
function correctedOutput({ C, rotatedC, D, x, correction, response }: Parts): number {
  const n = C.columns
  const m = x.columns
  let worst = 0
  for (let o = 0; o < C.rows; o++) {
    let [size, change] = [0, 0]
    for (let i = 0; i < m; i++) {
      let [re, im, dr, di] = [D.data[o * m + i], 0, 0, 0]
      for (let k = 0, p = i; k < n; k++, p += m) {
        const factor = rotatedC.data[o * n + k]
        dr += factor * correction.re[p]
        di += factor * correction.im[p]
        const direct = C.data[o * n + k]
        if (direct === 0) continue
        re += direct * x.re[p]
        im += direct * x.im[p]
      }
      const e = o * m + i
      response.re[e] = re + dr
      response.im[e] = im + di
      size = Math.max(size, Math.abs(response.re[e]) + Math.abs(response.im[e]))
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
