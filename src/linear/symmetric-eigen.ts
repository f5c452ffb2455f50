import { fail, type Scope } from '../internal/check.js'
import { type Dense, identity } from './dense.js'
import { hypotenuse } from './hypotenuse.js'

/** Eigenvalues of a symmetric matrix, ascending, and its orthonormal eigenvectors as the columns of `vectors`. */
export interface SymmetricEigen {
  readonly values: Float64Array
  readonly vectors: Dense
}

/** Entries below this part of the geometric mean of their diagonal are left: turning equal directions into each other for
 * the sake of rounding would mix modes that are apart. */
const negligible = 1e-14
const sweeps = 60

/** Cyclic Jacobi rotations; refused where they do not come to an end, as where a number leaves the range of numbers.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 8.5 */
export function symmetricEigen(scope: Scope, M: Dense): SymmetricEigen {
  const n = M.rows
  const a = M.data.slice()
  const V = identity(n)
  for (let sweep = 0; sweep < sweeps; sweep++) {
    let turned = false
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        const off = a[p * n + q]
        const scale = Math.sqrt(Math.abs(a[p * n + p])) * Math.sqrt(Math.abs(a[q * n + q]))
        if (Math.abs(off) <= negligible * scale || off === 0) continue
        rotate(a, V.data, n, p, q)
        turned = true
      }
    }
    if (!turned) return sorted(a, V)
  }
  return fail('no-convergence', scope, 'has stiffness or mass without principal directions that can be computed')
}

/** Turns directions p and q so that their entry of A becomes zero. */
function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const off = a[p * n + q]
  const theta = (a[q * n + q] - a[p * n + p]) / (2 * off)
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + hypotenuse(theta, 1))
  const c = 1 / hypotenuse(t, 1)
  const s = t * c
  for (let k = 0; k < n; k++) turn(a, k * n + p, k * n + q, c, s)
  for (let k = 0; k < n; k++) turn(a, p * n + k, q * n + k, c, s)
  for (let k = 0; k < n; k++) turn(v, k * n + p, k * n + q, c, s)
  a[p * n + q] = 0
  a[q * n + p] = 0
}

function turn(x: Float64Array, i: number, j: number, c: number, s: number): void {
  const first = x[i]
  x[i] = c * first - s * x[j]
  x[j] = s * first + c * x[j]
}

function sorted(a: Float64Array, V: Dense): SymmetricEigen {
  const n = V.rows
  const order = Array.from({ length: n }, (_, k) => k).sort((i, j) => a[i * n + i] - a[j * n + j])
  return {
    values: Float64Array.from(order, (k) => a[k * n + k]),
    vectors: { ...V, data: Float64Array.from({ length: n * n }, (_, i) => V.data[i - (i % n) + order[i % n]]) },
  }
}
