import { block, type Dense, identity, largest, multiply, transpose } from './dense.js'
import { rowCompression } from './rank-revealing.js'

/** State equations and read-out of a system. */
export interface Triple {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
}

/** The part of a system that its inputs reach, in orthogonal coordinates that fill up from the inputs.
 * @param tolerance - coupling that counts as none, relative to the largest entry of A; columns of B count by direction
 * @source P. M. Van Dooren, IEEE Trans. Automatic Control 26 (1981) 111 */
export function reachablePart({ A, B, C }: Triple, tolerance: number): Triple {
  const n = A.rows
  const size = largest(A) || 1
  let turned = A
  let Q = identity(n)
  let reached = 0
  let drive = scaledColumns(B, size)
  while (reached < n) {
    const step = rowCompression(drive, tolerance * size)
    if (step.rank === 0) break
    const turn = belowIdentity(reached, step.Q)
    turned = multiply(multiply(transpose(turn), turned), turn)
    Q = multiply(Q, turn)
    const before = reached
    reached += step.rank
    drive = block(turned, reached, before, n - reached, step.rank)
  }
  const basis = block(Q, 0, 0, n, reached)
  return { A: block(turned, 0, 0, reached, reached), B: multiply(transpose(basis), B), C: multiply(C, basis) }
}

/** The dual system, whose inputs are the outputs. */
export function transposed({ A, B, C }: Triple): Triple {
  return { A: transpose(A), B: transpose(C), C: transpose(B) }
}

/** B with each column brought to a length near `size` by a power of two. */
function scaledColumns(B: Dense, size: number): Dense {
  const { rows, columns } = B
  const data = B.data.slice()
  for (let j = 0; j < columns; j++) {
    let length = 0
    for (let i = 0; i < rows; i++) length = Math.hypot(length, data[i * columns + j])
    if (length === 0) continue
    const factor = 2 ** Math.round(Math.log2(size / length))
    for (let i = 0; i < rows; i++) data[i * columns + j] *= factor
  }
  return { rows, columns, data }
}

function belowIdentity(top: number, Q: Dense): Dense {
  const n = top + Q.rows
  const result = identity(n)
  for (let i = 0; i < Q.rows; i++) {
    result.data.set(Q.data.subarray(i * Q.columns, (i + 1) * Q.columns), (top + i) * n + top)
  }
  return result
}
