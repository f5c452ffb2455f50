/** A dense real matrix, row-major in one flat array. */
export interface Dense {
  readonly rows: number
  readonly columns: number
  readonly data: Float64Array
}

export function zeros(rows: number, columns: number): Dense {
  return { rows, columns, data: new Float64Array(rows * columns) }
}

/** Flat copy of nested rows; the number of columns must be given, since a matrix may have no rows. */
export function denseFrom(matrix: readonly (readonly number[])[], columns: number): Dense {
  const dense = zeros(matrix.length, columns)
  for (let i = 0; i < matrix.length; i++) {
    const row = matrix[i]
    for (let j = 0; j < columns; j++) dense.data[i * columns + j] = row[j]
  }
  return dense
}

/** Nested rows of a flat matrix. */
export function rowsOf({ rows, columns, data }: Dense): number[][] {
  return Array.from({ length: rows }, (_, i) => Array.from(data.subarray(i * columns, (i + 1) * columns)))
}

export function identity(n: number): Dense {
  const dense = zeros(n, n)
  for (let i = 0; i < n; i++) dense.data[i * n + i] = 1
  return dense
}

export function copy(M: Dense): Dense {
  return { ...M, data: M.data.slice() }
}

export function multiply(a: Dense, b: Dense): Dense {
  const product = zeros(a.rows, b.columns)
  for (let i = 0; i < a.rows; i++) {
    for (let k = 0; k < a.columns; k++) {
      const factor = a.data[i * a.columns + k]
      if (factor === 0) continue
      for (let j = 0; j < b.columns; j++) {
        product.data[i * b.columns + j] += factor * b.data[k * b.columns + j]
      }
    }
  }
  return product
}

/** Row i of M times as many entries of a list, from one of them on. */
export function rowTimes({ data, columns }: Dense, i: number, x: Float64Array, from: number): number {
  let value = 0
  for (let j = 0; j < columns; j++) value += data[i * columns + j] * x[from + j]
  return value
}

export function transpose({ rows, columns, data }: Dense): Dense {
  const result = zeros(columns, rows)
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) result.data[j * rows + i] = data[i * columns + j]
  return result
}

/** Copy of `rows` × `columns` entries from a corner at (top, left). */
export function block(M: Dense, top: number, left: number, rows: number, columns: number): Dense {
  const result = zeros(rows, columns)
  for (let i = 0; i < rows; i++) {
    const from = (top + i) * M.columns + left
    for (let j = 0; j < columns; j++) result.data[i * columns + j] = M.data[from + j]
  }
  return result
}

export function sum(a: Dense, b: Dense): Dense {
  const result = zeros(a.rows, a.columns)
  for (let k = 0; k < a.data.length; k++) result.data[k] = a.data[k] + b.data[k]
  return result
}

export function times(M: Dense, factor: number): Dense {
  const result = zeros(M.rows, M.columns)
  for (let k = 0; k < M.data.length; k++) result.data[k] = M.data[k] * factor
  return result
}

/** Largest modulus of all entries. */
export function largest({ data }: Dense): number {
  let size = 0
  for (const value of data) size = Math.max(size, Math.abs(value))
  return size
}

/** The entries of some rows and columns, in the order given. */
export function selected(M: Dense, rows: readonly number[], columns: readonly number[]): Dense {
  const data = rows.flatMap((i) => columns.map((j) => M.data[i * M.columns + j]))
  return { rows: rows.length, columns: columns.length, data: Float64Array.from(data) }
}
