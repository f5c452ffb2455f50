import { balancingScales, scaleColumns, scaleRows, scaleStates } from './balance.js'
import {
  type ComplexDense,
  type ComplexLu,
  complexLu,
  complexLuSolve,
  complexZeros,
  type LuSpace,
  luSpace,
} from './complex-lu.js'
import type { Dense } from './dense.js'

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
  /** Angle of det(s I − A) · det(I − e^(−sτ) P₂₂(s)), the characteristic function of the closed system; not reduced. */
  characteristicAngle(re: number, im: number): number
}

/** Solutions of [s I − A, −B; −C, e^(sτ) − D] X = [B; D] over states and delayed signals, refined once.
 * @source N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition 2002, chapter 12 */
export function delayedSolver(system: DelayedSystem, rhs: ComplexDense = externalColumns(system)): DelayedSolver {
  const size = system.A.rows + system.seconds.length
  const M = complexZeros(size, size)
  const space = luSpace(size)
  const x = complexZeros(size, rhs.columns)
  const correction = complexZeros(size, rhs.columns)
  const turns = system.seconds.reduce((sum, tau) => sum + tau, 0)
  return {
    at: (re, im) => {
      loadMatrix(M, system, re, im)
      return refinedSolve(M, rhs, space, x, correction) ? x : null
    },
    characteristicAngle: (re, im) => {
      loadMatrix(M, system, re, im)
      return luAngle(complexLu(M, space)) - im * turns
    },
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

/** Whether M X = R could be solved into x. */
function refinedSolve(
  M: ComplexDense,
  rhs: ComplexDense,
  space: LuSpace,
  x: ComplexDense,
  correction: ComplexDense,
): boolean {
  const lu = complexLu(M, space)
  if (!(lu.smallestPivot > 0)) return false
  x.re.set(rhs.re)
  x.im.set(rhs.im)
  complexLuSolve(lu, x)
  correction.re.set(rhs.re)
  correction.im.set(rhs.im)
  subtractProduct(M, x, correction)
  complexLuSolve(lu, correction)
  if (!(correctionRatio(x, correction) < 0.5)) return false
  addCorrection(x, correction)
  return true
}

function luAngle({ n, re, im, pivots }: ComplexLu): number {
  let angle = 0
  for (let k = 0; k < n; k++) {
    angle += Math.atan2(im[k * n + k], re[k * n + k])
    if (pivots[k] !== k) angle += Math.PI
  }
  return angle
}

/** R ← R − M X */
function subtractProduct(M: ComplexDense, X: ComplexDense, R: ComplexDense): void {
  const n = M.rows
  const { columns } = X
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const a = M.re[i * n + k]
      const b = M.im[i * n + k]
      if (a === 0 && b === 0) continue
      for (let c = 0; c < columns; c++) {
        const p = k * columns + c
        R.re[i * columns + c] -= a * X.re[p] - b * X.im[p]
        R.im[i * columns + c] -= a * X.im[p] + b * X.re[p]
      }
    }
  }
}

/** Largest correction over largest entry, column by column: how far a refinement moved the solution. */
export function correctionRatio(x: ComplexDense, correction: ComplexDense): number {
  let worst = 0
  for (let c = 0; c < x.columns; c++) {
    let size = 0
    let change = 0
    for (let p = c; p < x.re.length; p += x.columns) {
      size = Math.max(size, Math.abs(x.re[p]) + Math.abs(x.im[p]))
      change = Math.max(change, Math.abs(correction.re[p]) + Math.abs(correction.im[p]))
    }
    if (change > 0) worst = Math.max(worst, change / size)
    if (!Number.isFinite(size)) return Number.POSITIVE_INFINITY
  }
  return worst
}

export function addCorrection(x: ComplexDense, correction: ComplexDense): void {
  for (let p = 0; p < x.re.length; p++) {
    x.re[p] += correction.re[p]
    x.im[p] += correction.im[p]
  }
}
