import { block, copy, type Dense, transpose } from './dense.js'
import { hypotenuse } from './hypotenuse.js'
import { powerOfTwo } from './power-of-two.js'
import { reflectColumns, reflectRows, rowCompression } from './rank-revealing.js'

/** State equations and read-out of a system. */
export interface Triple {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
}

/** The part of a system that its inputs reach, in orthogonal coordinates that fill up from the inputs.
 * @param size - of A, or of the system that it is part of
 * @param tolerance - coupling that counts as none, relative to the size; columns of B count by direction
 * @source P. M. Van Dooren, IEEE Trans. Automatic Control 26 (1981) 111 */
export function reachablePart(system: Triple, size: number, tolerance: number): Triple {
  const [A, B, C] = [copy(system.A), copy(system.B), copy(system.C)]
  const n = A.rows
  let reached = 0
  let drive = scaledColumns(B, size)
  while (reached < n) {
    const { rank, reflectors } = rowCompression(drive, tolerance * size)
    if (rank === 0) break
    for (const reflector of reflectors) {
      reflectRows(A, reflector, reached)
      reflectRows(B, reflector, reached)
      reflectColumns(A, reflector, reached)
      reflectColumns(C, reflector, reached)
    }
    const before = reached
    reached += rank
    drive = block(A, reached, before, n - reached, rank)
  }
  return {
    A: block(A, 0, 0, reached, reached),
    B: block(B, 0, 0, reached, B.columns),
    C: block(C, 0, 0, C.rows, reached),
  }
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
    for (let i = 0; i < rows; i++) length = hypotenuse(length, data[i * columns + j])
    if (length === 0) continue
    const factor = powerOfTwo(Math.round(Math.log2(size / length)))
    for (let i = 0; i < rows; i++) data[i * columns + j] *= factor
  }
  return { rows, columns, data }
}
