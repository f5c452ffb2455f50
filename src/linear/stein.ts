import { type Dense, largest, multiply, sum, transpose } from './dense.js'

const mostDoublings = 60

/** X of X = A X Aᵀ + C for a matrix A whose eigenvalues lie inside the unit circle, by doubling; null where the sum does
 * not converge.
 * @source R. A. Smith, SIAM J. Applied Mathematics 16 (1968) 198 */
export function stein(A: Dense, C: Dense): Dense | null {
  let X = C
  let power = A
  for (let k = 0; k < mostDoublings; k++) {
    const change = multiply(multiply(power, X), transpose(power))
    X = sum(X, change)
    if (!(largest(change) > Number.EPSILON * largest(X))) return X.data.every(Number.isFinite) ? X : null
    power = multiply(power, power)
  }
  return null
}
