import { type Dense, selected } from './dense.js'
import { strongComponents } from './strong-components.js'

/** Principal submatrices of a square matrix between states that reach each other through non-zero entries.
 *
 * In their order the matrix is block triangular, so its eigenvalues are those of the blocks, and what couples one block to
 * the next has no part in them.
 * @source I. S. Duff, J. K. Reid, ACM Trans. Math. Software 4 (1978) 137 (block triangular form by Tarjan's algorithm) */
export function diagonalBlocks(A: Dense): Dense[] {
  const n = A.rows
  const neighbours = Array.from({ length: n }, (_, i) => {
    const found: number[] = []
    for (let j = 0; j < n; j++) if (A.data[i * n + j] !== 0) found.push(j)
    return found
  })
  const groups = strongComponents(neighbours)
  return groups.length === 1
    ? [A]
    : groups.map((group) => {
        const places = group.sort((a, b) => a - b)
        return selected(A, places, places)
      })
}
