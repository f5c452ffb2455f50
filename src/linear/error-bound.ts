import { type ComplexDense, complexLu, complexLuSolve, complexZeros } from './complex-lu.js'
import { hypotenuse } from './hypotenuse.js'

/** Bound on the modulus of the error of each entry of X as a solution of M X = R: |M⁻¹| (|R − M X| + γ (|M| |X| + |R|)).
 *
 * The inverse is worked out, so this costs as much as several solutions.
 * @source N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition 2002, equation 7.31
 */
export function solutionErrorBound(M: ComplexDense, X: ComplexDense, R: ComplexDense): Float64Array {
  const n = M.rows
  const m = X.columns
  const inverse = complexZeros(n, n)
  for (let k = 0; k < n; k++) inverse.re[k * n + k] = 1
  complexLuSolve(complexLu(M), inverse)
  const gamma = rounding(n)
  const weight = new Float64Array(n * m)
  for (let i = 0; i < n; i++) {
    for (let c = 0; c < m; c++) {
      let [re, im] = [R.re[i * m + c], R.im[i * m + c]]
      let size = hypotenuse(re, im)
      for (let k = 0; k < n; k++) {
        const [a, b] = [M.re[i * n + k], M.im[i * n + k]]
        const [x, y] = [X.re[k * m + c], X.im[k * m + c]]
        re -= a * x - b * y
        im -= a * y + b * x
        size += hypotenuse(a, b) * hypotenuse(x, y)
      }
      weight[i * m + c] = hypotenuse(re, im) + gamma * size
    }
  }
  const bound = new Float64Array(n * m)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const size = hypotenuse(inverse.re[i * n + k], inverse.im[i * n + k])
      for (let c = 0; c < m; c++) bound[i * m + c] += size * weight[k * m + c]
    }
  }
  return bound
}

/** Relative rounding error of a complex sum of n products, generously. */
export function rounding(n: number): number {
  return 4 * (n + 2) * Number.EPSILON
}
