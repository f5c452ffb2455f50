import { balancingScales, scaleColumns, scaleRows, scaleStates } from './balance.js'
import { type ComplexDense, complexZeros, luSpace } from './complex-lu.js'
import type { Dense } from './dense.js'
import { solutionErrorBound } from './error-bound.js'
import { refinedSolve } from './refined-solve.js'

/** Matrices of a system whose last `seconds.length` inputs and outputs are closed through e^(−sτ). */
export interface DelayedSystem {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
  readonly seconds: readonly number[]
}

/** The same system with its states scaled by powers of two. */
export function balancedSystem(system: DelayedSystem): DelayedSystem {
  const scales = balancingScales(system.A, system.B, system.C)
  return {
    ...system,
    A: scaleStates(system.A, scales),
    B: scaleRows(system.B, scales),
    C: scaleColumns(system.C, scales),
  }
}

/** Solver for one delayed system at one s after another, by dense factorisation; all memory is allocated once. */
export interface DelayedSolver {
  /** States and, below them, delayed signals per external input; null where s is a pole to working precision. The result
   * is reused by the next call. */
  at(re: number, im: number): ComplexDense | null
  /** Bound on the error of each entry of the last solution. */
  errorBound(): Float64Array
}

/** Solutions of [s I − A, −B; −C, e^(sτ) − D] X = [B; D] over states and delayed signals, refined once.
 * @source N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition 2002, chapter 12 */
export function delayedSolver(system: DelayedSystem, rhs: ComplexDense = externalColumns(system)): DelayedSolver {
  const size = system.A.rows + system.seconds.length
  const M = complexZeros(size, size)
  const space = luSpace(size)
  const x = complexZeros(size, rhs.columns)
  const correction = complexZeros(size, rhs.columns)
  return {
    at: (re, im) => {
      loadMatrix(M, system, re, im)
      return refinedSolve(M, rhs, space, x, correction) ? x : null
    },
    errorBound: () => solutionErrorBound(M, x, rhs),
  }
}

/** Inputs to states and delays of every external input. */
function externalColumns({ A, B, C, D, seconds }: DelayedSystem): ComplexDense {
  const n = A.rows
  const d = seconds.length
  const m = B.columns - d
  const rhs = complexZeros(n + d, m)
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < n; k++) rhs.re[k * m + i] = B.data[k * B.columns + i]
    for (let k = 0; k < d; k++) rhs.re[(n + k) * m + i] = D.data[(C.rows - d + k) * D.columns + i]
  }
  return rhs
}

function loadMatrix(M: ComplexDense, { A, B, C, D, seconds }: DelayedSystem, re: number, im: number): void {
  const n = A.rows
  const d = seconds.length
  const m = B.columns - d
  const p = C.rows - d
  const size = n + d
  M.im.fill(0)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) M.re[i * size + j] = -A.data[i * n + j]
    for (let j = 0; j < d; j++) M.re[i * size + n + j] = -B.data[i * B.columns + m + j]
    M.re[i * size + i] += re
    M.im[i * size + i] = im
  }
  for (let i = 0; i < d; i++) {
    const row = p + i
    for (let j = 0; j < n; j++) M.re[(n + i) * size + j] = -C.data[row * n + j]
    for (let j = 0; j < d; j++) M.re[(n + i) * size + n + j] = -D.data[row * D.columns + m + j]
    const growth = Math.exp(re * seconds[i])
    M.re[(n + i) * size + n + i] += growth * Math.cos(im * seconds[i])
    M.im[(n + i) * size + n + i] += growth * Math.sin(im * seconds[i])
  }
}
