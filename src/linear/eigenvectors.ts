import { type ComplexDense, complexZeros } from './complex-lu.js'
import type { Dense } from './dense.js'
import type { Eigenvalues } from './eigenvalues.js'
import { hessenbergForm } from './hessenberg.js'
import { hessenbergSolver } from './hessenberg-solver.js'

/** Columns of length 1 by two steps of inverse iteration, real for real eigenvalues and conjugate for conjugate ones, which
 * stand side by side. Columns of a multiple eigenvalue come out alike.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 7.6.1 */
export function eigenvectors(A: Dense, lambda: Eigenvalues): ComplexDense {
  const n = A.rows
  const { H, Q } = hessenbergForm(A)
  const solver = hessenbergSolver(H)
  const V = complexZeros(n, n)
  const x = complexZeros(n, 1)
  for (let k = 0; k < n; k++) {
    solver.factor(lambda.re[k], lambda.im[k])
    for (let i = 0; i < n; i++) x.re[i] = 1 + ((i * 7 + k * 3) % 5) / 10
    x.im.fill(0)
    for (let step = 0; step < 2; step++) {
      solver.solve(x)
      normalise(x)
    }
    const pair = lambda.im[k] !== 0
    for (let i = 0; i < n; i++) {
      let [re, im] = [0, 0]
      for (let j = 0; j < n; j++) {
        re += Q.data[i * n + j] * x.re[j]
        im += Q.data[i * n + j] * x.im[j]
      }
      V.re[i * n + k] = re
      V.im[i * n + k] = im
      if (pair) {
        V.re[i * n + k + 1] = re
        V.im[i * n + k + 1] = -im
      }
    }
    if (pair) k++
  }
  return V
}

function normalise(x: ComplexDense): void {
  let largest = 0
  for (let i = 0; i < x.rows; i++) largest = Math.max(largest, Math.abs(x.re[i]), Math.abs(x.im[i]))
  let sum = 0
  for (let i = 0; i < x.rows; i++) sum += (x.re[i] / largest) ** 2 + (x.im[i] / largest) ** 2
  const size = largest * Math.sqrt(sum)
  for (let i = 0; i < x.rows; i++) {
    x.re[i] /= size
    x.im[i] /= size
  }
}
