import { type ComplexDense, complexLu, complexLuSolve, type LuSpace } from './complex-lu.js'

/** Whether M X = R could be solved into x, by dense factorisation and one refinement.
 * @source N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition 2002, chapter 12 */
export function refinedSolve(
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

/** Length of the correction, which no rotation changes, over the largest entry, column by column: how far a refinement moves the
 * solution. */
export function correctionRatio(x: ComplexDense, correction: ComplexDense): number {
  let worst = 0
  for (let c = 0; c < x.columns; c++) {
    let size = 0
    for (let p = c; p < x.re.length; p += x.columns) size = Math.max(size, Math.abs(x.re[p]) + Math.abs(x.im[p]))
    if (!(size < Number.POSITIVE_INFINITY)) return Number.POSITIVE_INFINITY
    // An input that nothing is connected to moves no state, and no correction does.
    const unit = size || Number.MIN_VALUE
    let square = 0
    for (let p = c; p < x.re.length; p += x.columns)
      square += (correction.re[p] / unit) ** 2 + (correction.im[p] / unit) ** 2
    worst = Math.max(worst, square)
  }
  return Math.sqrt(worst)
}

export function addCorrection(x: ComplexDense, correction: ComplexDense): void {
  for (let p = 0; p < x.re.length; p++) {
    x.re[p] += correction.re[p]
    x.im[p] += correction.im[p]
  }
}
