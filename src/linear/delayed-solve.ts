import { type ComplexDense, complexLu, complexLuSolve, complexZeros } from './complex-lu.js'
import type { Dense } from './dense.js'

/** Matrices of a system whose last `seconds.length` inputs and outputs are closed through e^(−sτ). */
export interface DelayedSystem {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
  readonly seconds: readonly number[]
}

/** States and delayed signals per external input at s; null where s is a pole to working precision. */
export function delayedSolve(system: DelayedSystem, re: number, im: number): ComplexDense | null {
  const { A, B, D, C, seconds } = system
  const n = A.rows
  const d = seconds.length
  const m = B.columns - d
  const rhs = complexZeros(n + d, m)
  for (let k = 0; k < n; k++) for (let i = 0; i < m; i++) rhs.re[k * m + i] = B.data[k * B.columns + i]
  for (let k = 0; k < d; k++) {
    for (let i = 0; i < m; i++) rhs.re[(n + k) * m + i] = D.data[(C.rows - d + k) * D.columns + i]
  }
  return delayedSystemSolve(system, re, im, rhs)
}

/** Solution of [s I − A, −B; −C, e^(sτ) − D] X = R over states and delayed signals, from one dense factorisation and one
 * refinement; null where the matrix is singular to working precision. */
export function delayedSystemSolve(
  system: DelayedSystem,
  re: number,
  im: number,
  rhs: ComplexDense,
): ComplexDense | null {
  return refinedSolve(delayedMatrix(system, re, im), rhs)
}

/** arg of det(s I − A) · det(I − e^(−sτ) P₂₂(s)): the characteristic function of the closed system. */
export function characteristicAngle(system: DelayedSystem, re: number, im: number): number {
  const { n, re: real, im: imaginary, pivots } = complexLu(delayedMatrix(system, re, im))
  let angle = 0
  for (let k = 0; k < n; k++) {
    angle += Math.atan2(imaginary[k * n + k], real[k * n + k])
    if (pivots[k] !== k) angle += Math.PI
  }
  return angle - system.seconds.reduce((sum, tau) => sum + im * tau, 0)
}

function delayedMatrix({ A, B, C, D, seconds }: DelayedSystem, re: number, im: number): ComplexDense {
  const n = A.rows
  const d = seconds.length
  const m = B.columns - d
  const p = C.rows - d
  const size = n + d
  const M = complexZeros(size, size)
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
  return M
}

function refinedSolve(M: ComplexDense, rhs: ComplexDense): ComplexDense | null {
  const lu = complexLu(M)
  if (!(lu.smallestPivot > 0)) return null
  const x: ComplexDense = { ...rhs, re: rhs.re.slice(), im: rhs.im.slice() }
  complexLuSolve(lu, x)
  const correction: ComplexDense = { ...rhs, re: rhs.re.slice(), im: rhs.im.slice() }
  subtractProduct(M, x, correction)
  complexLuSolve(lu, correction)
  if (!(correctionRatio(x, correction) < 0.5)) return null
  addCorrection(x, correction)
  return x
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
