import { Matrix, QrDecomposition } from 'ml-matrix'
import type { Dense } from './dense.js'

/** Least-squares solution of A x ≈ b by Householder QR, A with at least as many rows as columns, all finite.
 * Returns null where the columns of A are dependent to rounding.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 5.3 */
export function leastSquares(A: Dense, b: Float64Array): Float64Array | null {
  const { rows, columns, data } = A
  if (columns === 0) return new Float64Array(0)
  const matrix = Matrix.from1DArray(rows, columns, data)
  const decomposition = new QrDecomposition(matrix)
  const diagonal = decomposition.upperTriangularMatrix.diag().map(Math.abs)
  if (!(Math.min(...diagonal) > rows * Number.EPSILON * Math.max(...diagonal))) return null
  return Float64Array.from(decomposition.solve(Matrix.columnVector(b)).to1DArray())
}
