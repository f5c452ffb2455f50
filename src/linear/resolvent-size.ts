import { complexZeros } from './complex-lu.js'
import { copy, type Dense } from './dense.js'
import { reduceToHessenberg } from './hessenberg.js'
import { hessenbergSolver } from './hessenberg-solver.js'

const columns = 3

/** About ‖(s I − A)⁻¹‖ at one s after another, to a small factor: the largest answer to three scattered right-hand sides.
 *
 * Its inverse is the smallest change of A that makes s an eigenvalue.
 * @source L. N. Trefethen, M. Embree, Spectra and Pseudospectra, 2005, chapter 2 */
export function resolventSize(A: Dense): (re: number, im: number) => number {
  const n = A.rows
  const solver = hessenbergSolver(reduceToHessenberg(copy(A)))
  const rhs = complexZeros(n, columns)
  return (re, im) => {
    // Fractional parts of multiples of the golden ratio: no eigenvector is orthogonal to all three.
    for (let k = 0; k < rhs.re.length; k++) rhs.re[k] = (((k + 1) * 0.6180339887498949) % 1) - 0.5
    rhs.im.fill(0)
    const before = columnSizes(rhs.re, rhs.im)
    solver.factor(re, im)
    solver.solve(rhs)
    const after = columnSizes(rhs.re, rhs.im)
    return Math.sqrt(n) * Math.max(...after.map((size, c) => size / before[c]))
  }
}

function columnSizes(re: Float64Array, im: Float64Array): number[] {
  const sizes = new Array<number>(columns).fill(0)
  re.forEach((value, k) => {
    sizes[k % columns] = Math.hypot(sizes[k % columns], value, im[k])
  })
  return sizes
}
