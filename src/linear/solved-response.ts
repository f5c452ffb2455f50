import { type ComplexDense, complexZeros, finite } from './complex-lu.js'
import { type DelayedSolver, type DelayedSystem, delayedSolver } from './delayed-solve.js'
import { eliminationOrder } from './elimination-order.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import { once } from './once.js'
import { hessenbergReduction, refinedResponse, sparseReduction } from './refined-response.js'

/** A response and how far it can be off. */
export interface BoundedResponse {
  readonly value: ComplexDense
  readonly bound: Float64Array
}

interface Parts extends DelayedSystem {
  readonly dense: DelayedSolver
  readonly response: ComplexDense
}

/** Share of the entries of a full matrix up to which factors are kept in lists. */
const sparseShare = 1 / 2

/** Response of a balanced system at one s after another by a linear system each: with few entries along the diagonal where the state
 * matrix is sparse, else O(n²) in Hessenberg form, both refined; a dense factorisation where that does not converge or delays are
 * inside. See `ResponseKernel`. */
export function solvedResponse(balanced: DelayedSystem) {
  const parts = partsOf(balanced)
  const reduced = balanced.seconds.length > 0 ? [] : reductions(balanced)
  const refined = (re: number, im: number) => {
    for (const at of reduced) {
      const found = at(re, im)
      if (found !== null) return found
    }
    return evaluateDense(parts, re, im)
  }
  return {
    at: (re: number, im: number): ComplexDense | null => finite(refined(re, im)),
    boundedAt: (re: number, im: number): BoundedResponse | null => {
      const value = finite(evaluateDense(parts, re, im))
      return value === null ? null : { value, bound: outputBound(parts, re, im) }
    },
  }
}

function partsOf(balanced: DelayedSystem): Parts {
  const { B, C, seconds } = balanced
  const d = seconds.length
  return { ...balanced, dense: delayedSolver(balanced), response: complexZeros(C.rows - d, B.columns - d) }
}

/** The cheaper one first; the next is made when it is needed. */
function reductions(balanced: DelayedSystem) {
  const sparse = eliminationOrder(balanced.A, sparseShare * balanced.A.data.length)
  const hessenberg = once(() => refinedResponse(hessenbergReduction(balanced)))
  return [
    ...(sparse === null ? [] : [refinedResponse(sparseReduction(balanced, sparse))]),
    (re: number, im: number) => hessenberg()(re, im),
  ]
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
