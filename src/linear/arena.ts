import type { ComplexDense } from './complex-lu.js'

/** Memory taken in one piece and handed out in parts: an array of its own costs ten times a view. */
export interface Arena {
  /** Zeros */
  real(count: number): Float64Array
  complex(rows: number, columns: number): ComplexDense
}

/** Room for so many numbers; what goes beyond is taken separately. */
export function arena(count: number): Arena {
  const { buffer } = new Float64Array(count)
  let used = 0
  const real = (size: number): Float64Array => {
    const from = used
    used += size
    return used > count ? new Float64Array(size) : new Float64Array(buffer, 8 * from, size)
  }
  return { real, complex: (rows, columns) => ({ rows, columns, re: real(rows * columns), im: real(rows * columns) }) }
}
