import { type ComplexDense, complexZeros } from './complex-lu.js'
import { type Dense, multiply, selected, transpose } from './dense.js'
import type { EliminationOrder } from './elimination-order.js'
import { hessenbergForm } from './hessenberg.js'
import { hessenbergSolver, type ShiftedSolver } from './hessenberg-solver.js'
import { listedRows, timesListed } from './listed-rows.js'
import { addCorrection, correctionRatio } from './refined-solve.js'
import { sparseSolver } from './sparse-solver.js'

/** Matrices of a system without delays. */
interface Matrices {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
}

/** A system and coordinates in which s I − A is soon solved with: those of Qᵀ x, or its own. */
export interface Reduction extends Matrices {
  readonly solver: ShiftedSolver
  /** Qᵀ B and C Q */
  readonly reducedB: Dense
  readonly reducedC: Dense
  /** Z ← Qᵀ X and Z ← Q X */
  readonly reduce: (X: ComplexDense, Z: ComplexDense) => void
  readonly restore: (X: ComplexDense, Z: ComplexDense) => void
}

const convergenceLimit = 1e-3
const mostRefinements = 5
/** Estimated relative error of an output row at which refinement stops. */
const target = 1e-13

/** By an orthogonal Q to Hessenberg form, O(n²) per frequency.
 * @source A. J. Laub, IEEE Trans. Automatic Control 26 (1981) 407 */
export function hessenbergReduction(system: Matrices): Reduction {
  const { H, Q } = hessenbergForm(system.A)
  const transposed = transpose(Q)
  const [back, forth] = [transposed, Q].map(listedRows)
  return {
    ...system,
    solver: hessenbergSolver(H),
    reducedB: multiply(transposed, system.B),
    reducedC: multiply(system.C, Q),
    reduce: (X, Z) => timesListed(back, X, Z),
    restore: (X, Z) => timesListed(forth, X, Z),
  }
}

/** By the order of states in which a sparse A is eliminated with few entries. */
export function sparseReduction({ A, B, C, D }: Matrices, { order, filled }: EliminationOrder): Reduction {
  const all = (count: number) => Array.from({ length: count }, (_, k) => k)
  const system = {
    A: selected(A, order, order),
    B: selected(B, order, all(B.columns)),
    C: selected(C, all(C.rows), order),
    D,
  }
  const copy = (X: ComplexDense, Z: ComplexDense) => {
    Z.re.set(X.re)
    Z.im.set(X.im)
  }
  const solver = sparseSolver(system.A, filled)
  return { ...system, solver, reducedB: system.B, reducedC: system.C, reduce: copy, restore: copy }
}

/** Response at one s after another by a solution in reduced coordinates and refinement with the residual in unreduced ones, once
 * as a rule, until the outputs stand; null where that does not converge. The result is reused by the next call.
 * @source N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition 2002, chapter 12 */
export function refinedResponse(reduction: Reduction): (re: number, im: number) => ComplexDense | null {
  const { B, D, reducedB, solver, reduce, restore } = reduction
  const [A, C, reducedC] = [reduction.A, reduction.C, reduction.reducedC].map(listedRows)
  const states = () => complexZeros(B.rows, B.columns)
  const outputs = () => complexZeros(D.rows, D.columns)
  const [x, correction, scratch, response, change] = [states(), states(), states(), outputs(), outputs()]
  return (re, im) => {
    if (!(solver.factor(re, im) > 0)) return null
    scratch.re.set(reducedB.data)
    scratch.im.fill(0)
    solver.solve(scratch)
    restore(scratch, x)
    for (let step = 0; step < mostRefinements; step++) {
      timesListed(A, x, scratch)
      addRemainder(B, x, scratch, re, im)
      reduce(scratch, correction)
      solver.solve(correction)
      const moved = correctionRatio(x, correction)
      if (!(moved < convergenceLimit)) return null
      timesListed(C, x, response)
      timesListed(reducedC, correction, change)
      if (moved * correctedOutput(D, response, change) < target) return response
      restore(correction, scratch)
      addCorrection(x, scratch)
    }
    return null
  }
}

/** Writes D + C (x + Q e) with the last correction e; returns the largest change of an output by it, over the largest entry of
 * its row. The outputs of interest are often far smaller than the states, so they decide when to stop. */
function correctedOutput({ data: direct }: Dense, { re, im }: ComplexDense, change: ComplexDense): number {
  const { rows, columns } = change
  let worst = 0
  for (let o = 0, e = 0; o < rows; o++) {
    let [size, moved] = [0, 0]
    for (let i = 0; i < columns; i++, e++) {
      re[e] += direct[e] + change.re[e]
      im[e] += change.im[e]
      size = Math.max(size, Math.abs(re[e]) + Math.abs(im[e]))
      moved = Math.max(moved, Math.abs(change.re[e]) + Math.abs(change.im[e]))
    }
    if (moved > 0) worst = Math.max(worst, moved / size)
  }
  return worst
}

/** R ← B − s X + R */
function addRemainder(B: Dense, X: ComplexDense, R: ComplexDense, re: number, im: number): void {
  for (let p = 0; p < R.re.length; p++) {
    R.re[p] += B.data[p] - re * X.re[p] + im * X.im[p]
    R.im[p] -= re * X.im[p] + im * X.re[p]
  }
}
