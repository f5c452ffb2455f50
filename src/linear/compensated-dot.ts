import { type Dense, transpose, zeros } from './dense.js'

const splitter = 2 ** 27 + 1

/** Σ x_k y_k as if summed in twice the working precision, then rounded.
 * @source T. Ogita, S. M. Rump, S. Oishi, SIAM J. Sci. Comput. 26 (2005) 1955, algorithm 5.3 (Dot2) */
export function compensatedDot(x: Float64Array, y: Float64Array, count: number): number {
  let sum = 0
  let rest = 0
  for (let k = 0; k < count; k++) {
    const a = x[k]
    const b = y[k]
    const product = a * b
    const ah = a * splitter - (a * splitter - a)
    const bh = b * splitter - (b * splitter - b)
    const al = a - ah
    const bl = b - bh
    const productRest = al * bl - (product - ah * bh - al * bh - ah * bl)
    const total = sum + product
    const back = total - sum
    rest += productRest + (sum - (total - back)) + (product - back)
    sum = total
  }
  return sum + rest
}

/** X Y, every entry summed in twice the working precision, then rounded. */
export function compensatedProduct(X: Dense, Y: Dense): Dense {
  const product = zeros(X.rows, Y.columns)
  const rowsOf = ({ rows, columns, data }: Dense) =>
    Array.from({ length: rows }, (_, i) => data.subarray(i * columns, (i + 1) * columns))
  const turned = rowsOf(transpose(Y))
  rowsOf(X).forEach((row, i) => {
    turned.forEach((column, j) => {
      product.data[i * Y.columns + j] = compensatedDot(row, column, X.columns)
    })
  })
  return product
}
