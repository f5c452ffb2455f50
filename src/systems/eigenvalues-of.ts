import { must, type Scope } from '../internal/check.js'
import type { Dense } from '../linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../linear/eigenvalues.js'
import type { StateKernel } from '../linear/response-kernel.js'

/** The eigenvalues of a matrix, refused where they do not converge or leave the range of numbers. */
export function eigenvaluesOf(scope: Scope, A: Dense): Eigenvalues {
  return converged(scope, eigenvalues(A))
}

/** The same of the state matrix of a kernel, which may know them. */
export function polesOf(scope: Scope, kernel: StateKernel): Eigenvalues {
  return converged(scope, kernel.poles())
}

function converged(scope: Scope, found: Eigenvalues | null): Eigenvalues {
  const finite = found?.re.every(Number.isFinite) && found.im.every(Number.isFinite) ? found : null
  return must(finite, 'no-convergence', scope, 'could not find the eigenvalues of the state matrix')
}
