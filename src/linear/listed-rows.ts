import type { ComplexDense } from './complex-lu.js'
import type { Dense } from './dense.js'

/** Places of a matrix, row by row. */
export interface ListedPlaces {
  /** Where each row begins in the lists, and at the end their length */
  readonly starts: Int32Array
  readonly columns: Int32Array
}

/** A real matrix by the entries that are not 0. */
export interface ListedRows extends ListedPlaces {
  readonly rows: number
  readonly values: Float64Array
}

export function listedPlaces(
  rows: number,
  columns: number,
  isListed: (row: number, column: number) => boolean,
): ListedPlaces {
  const starts = new Int32Array(rows + 1)
  const listed: number[] = []
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) if (isListed(i, j)) listed.push(j)
    starts[i + 1] = listed.length
  }
  return { starts, columns: Int32Array.from(listed) }
}

export function listedRows({ rows, columns, data }: Dense): ListedRows {
  const places = listedPlaces(rows, columns, (i, j) => data[i * columns + j] !== 0)
  return { rows, ...places, values: data.filter((value) => value !== 0) }
}

/** Z ← M X, two columns at a time so that the sums stay in registers. */
export function timesListed(
  { rows, starts, columns: listed, values }: ListedRows,
  X: ComplexDense,
  Z: ComplexDense,
): void {
  const { columns, re, im } = X
  for (let i = 0; i < rows; i++) {
    const [from, to] = [starts[i], starts[i + 1]]
    for (let c = 0; c < columns; c += 2) {
      // The last column of an odd number is done twice.
      const beside = c + 1 < columns ? 1 : 0
      let [aRe, aIm, bRe, bIm] = [0, 0, 0, 0]
      for (let q = from; q < to; q++) {
        const value = values[q]
        const p = listed[q] * columns + c
        aRe += value * re[p]
        aIm += value * im[p]
        bRe += value * re[p + beside]
        bIm += value * im[p + beside]
      }
      const at = i * columns + c
      Z.re[at] = aRe
      Z.im[at] = aIm
      Z.re[at + beside] = bRe
      Z.im[at + beside] = bIm
    }
  }
}
