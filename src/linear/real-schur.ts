import type { Dense } from './dense.js'
import { deflate } from './eigenvalues.js'
import { hessenbergForm } from './hessenberg.js'

/** A = Q T Qᵀ with Q orthogonal and T quasi-triangular, whose diagonal blocks have one or two rows. */
export interface RealSchur {
  readonly T: Dense
  readonly Q: Dense
  /** First and last row of each diagonal block, ascending */
  readonly blocks: readonly (readonly [number, number])[]
}

/** Real Schur form; null where the QR iteration does not converge. Blocks of two rows may have real eigenvalues.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, algorithm 7.5.2 */
export function realSchur(A: Dense): RealSchur | null {
  const { H, Q } = hessenbergForm(A)
  const n = A.rows
  const blocks = deflate(H.data, n, Q.data)
  if (blocks === null) return null
  return { T: H, Q, blocks }
}
