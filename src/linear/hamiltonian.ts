import { type Dense, identity, multiply, sum, times, transpose, zeros } from './dense.js'
import { eigenvalues } from './eigenvalues.js'
import { hypotenuse } from './hypotenuse.js'
import type { Quadruple } from './pencil-zeros.js'
import { solve } from './solve.js'

/** Frequencies ω ≥ 0 [rad/s], ascending, at which the gain may be one of the singular values of the response: the
 * imaginary eigenvalues of the Hamiltonian matrix, judged generously, so that none is missed. Null without convergence or
 * where the gain is a singular value of D.
 * @source S. Boyd, V. Balakrishnan, P. Kabamba, Mathematics of Control, Signals and Systems 2 (1989) 207 */
export function gainFrequencies({ A, B, C, D }: Quadruple, gain: number): number[] | null {
  const n = A.rows
  const R = sum(times(identity(B.columns), gain * gain), times(multiply(transpose(D), D), -1))
  const S = sum(times(identity(C.rows), gain * gain), times(multiply(D, transpose(D)), -1))
  const feed = solve(R, multiply(transpose(D), C))
  const drive = solve(R, transpose(B))
  const read = solve(S, C)
  if (feed === null || drive === null || read === null) return null
  const F = sum(A, multiply(B, feed))
  const M = zeros(2 * n, 2 * n)
  place(M, 0, 0, F)
  place(M, 0, n, times(multiply(B, drive), gain))
  place(M, n, 0, times(multiply(transpose(C), read), -gain))
  place(M, n, n, times(transpose(F), -1))
  const found = eigenvalues(M)
  if (found === null) return null
  const places: number[] = []
  found.im.forEach((im, k) => {
    if (im >= 0 && Math.abs(found.re[k]) <= 1e-5 * hypotenuse(im, found.re[k])) places.push(im)
  })
  return places.sort((a, b) => a - b)
}

function place(M: Dense, top: number, left: number, part: Dense): void {
  for (let i = 0; i < part.rows; i++) {
    M.data.set(part.data.subarray(i * part.columns, (i + 1) * part.columns), (top + i) * M.columns + left)
  }
}
