import { must, type Scope } from '../internal/check.js'
import type { Dense } from '../linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../linear/eigenvalues.js'

/** The eigenvalues of a matrix, refused where they do not converge. */
export function eigenvaluesOf(scope: Scope, A: Dense): Eigenvalues {
  return must(eigenvalues(A), 'no-convergence', scope, 'could not find the eigenvalues of the state matrix')
}
