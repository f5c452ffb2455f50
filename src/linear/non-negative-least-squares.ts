import { type Dense, zeros } from './dense.js'
import { leastSquares } from './least-squares.js'

/** Least-squares solution of A x ≈ b with every entry of x at least 0; null where the iteration does not settle.
 *
 * Columns should be of like size. Columns that depend on those in use stay at zero.
 * @source C. L. Lawson, R. J. Hanson, Solving Least Squares Problems, 1974, chapter 23 */
export function nonNegativeLeastSquares(A: Dense, b: Float64Array): Float64Array | null {
  const x = new Float64Array(A.columns)
  const used = new Array<boolean>(A.columns).fill(false)
  const barred = new Set<number>()
  for (let round = 0; round < 10 * A.columns + 10; round++) {
    const entering = steepest(A, b, x, used, barred)
    if (entering < 0) return x
    used[entering] = true
    if (settle(A, b, x, used) && used[entering]) {
      barred.clear()
    } else {
      // It depends on others, or rounding let it in and it leaves at once; letting it in again would never end.
      used[entering] = false
      x[entering] = 0
      barred.add(entering)
    }
  }
  return null
}

/** The unused column along which the residual falls fastest; −1 where none does beyond rounding. */
function steepest(A: Dense, b: Float64Array, x: Float64Array, used: readonly boolean[], barred: Set<number>): number {
  const residual = residualOf(A, b, x)
  const scale = Math.hypot(...b)
  let best = -1
  let most = 0
  for (let j = 0; j < A.columns; j++) {
    if (used[j] || barred.has(j)) continue
    let slope = 0
    let norm = 0
    for (let i = 0; i < A.rows; i++) {
      const entry = A.data[i * A.columns + j]
      slope += entry * residual[i]
      norm += entry * entry
    }
    const gain = slope / Math.sqrt(norm)
    if (gain > 10 * A.rows * Number.EPSILON * scale && gain > most) {
      most = gain
      best = j
    }
  }
  return best
}

/** Solves for the used columns; steps back to the boundary and drops columns until all of them are positive. */
function settle(A: Dense, b: Float64Array, x: Float64Array, used: boolean[]): boolean {
  for (;;) {
    const columns = used.flatMap((use, j) => (use ? [j] : []))
    const solution = leastSquares(selected(A, columns), b)
    if (solution === null) return false
    const negative = columns.filter((_, k) => !(solution[k] > 0))
    if (negative.length === 0) {
      columns.forEach((j, k) => {
        x[j] = solution[k]
      })
      return true
    }
    const fractions = columns.map((j, k) => (solution[k] > 0 ? 1 : x[j] / (x[j] - solution[k])))
    const step = Math.min(...fractions)
    columns.forEach((j, k) => {
      const leaves = !(solution[k] > 0) && fractions[k] === step
      x[j] = leaves ? 0 : Math.max(x[j] + step * (solution[k] - x[j]), 0)
      if (leaves) used[j] = false
    })
  }
}

function residualOf(A: Dense, b: Float64Array, x: Float64Array): Float64Array {
  const residual = b.slice()
  for (let i = 0; i < A.rows; i++) {
    for (let j = 0; j < A.columns; j++) residual[i] -= A.data[i * A.columns + j] * x[j]
  }
  return residual
}

function selected(A: Dense, columns: readonly number[]): Dense {
  const part = zeros(A.rows, columns.length)
  for (let i = 0; i < A.rows; i++) {
    columns.forEach((j, k) => {
      part.data[i * columns.length + k] = A.data[i * A.columns + j]
    })
  }
  return part
}
