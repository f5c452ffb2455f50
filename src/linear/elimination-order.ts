import type { Dense } from './dense.js'

/** The order in which the diagonal of a sparse square matrix is eliminated, and the places of its factors. */
export interface EliminationOrder {
  /** Row and column of the matrix that comes k-th */
  readonly order: readonly number[]
  /** 1 where a factor of the matrix in that order can differ from 0, the diagonal included; row by row */
  readonly filled: Uint8Array
}

/** An order that fills few places: each time the row and column whose elimination can fill the fewest, the first of equals; null
 * where the factors would take more than `most` places.
 * @source H. M. Markowitz, The elimination form of the inverse and its application to linear programming, Management Science 3
 * (1957) 255, on the diagonal */
export function eliminationOrder({ rows: n, data }: Dense, most: number): EliminationOrder | null {
  const filled = Uint8Array.from(data, (value, p) => (value !== 0 || p % (n + 1) === 0 ? 1 : 0))
  const inRow = new Int32Array(n)
  const inColumn = new Int32Array(n)
  let places = 0
  const count = (p: number, by: number) => {
    inRow[Math.floor(p / n)] += by
    inColumn[p % n] += by
  }
  filled.forEach((one, p) => {
    count(p, one)
    places += one
  })
  const left = new Set(inRow.keys())
  const order: number[] = []
  while (left.size > 0) {
    const next = leastOf(left, (k) => (inRow[k] - 1) * (inColumn[k] - 1))
    order.push(next)
    left.delete(next)
    const rows = [...left].filter((i) => filled[i * n + next] === 1)
    const columns = [...left].filter((j) => filled[next * n + j] === 1)
    for (const i of rows) {
      inRow[i] -= 1
      for (const j of columns) {
        const p = i * n + j
        if (filled[p] === 1) continue
        filled[p] = 1
        count(p, 1)
        places += 1
      }
    }
    for (const j of columns) inColumn[j] -= 1
    if (places > most) return null
  }
  return { order, filled: Uint8Array.from(filled, (_, p) => filled[order[Math.floor(p / n)] * n + order[p % n]]) }
}

function leastOf(places: Iterable<number>, cost: (place: number) => number): number {
  let [best, least] = [-1, Number.POSITIVE_INFINITY]
  for (const place of places) {
    const one = cost(place)
    if (one < least) [best, least] = [place, one]
  }
  return best
}
