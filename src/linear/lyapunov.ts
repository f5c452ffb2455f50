import { type Dense, largest, multiply, transpose, zeros } from './dense.js'
import { type RealSchur, realSchur } from './real-schur.js'
import { luFactors, luSolve } from './solve.js'

/** X of A X + X Aᵀ + C = 0; null where A and −A nearly share an eigenvalue, so that X has no digits.
 * @source R. H. Bartels, G. W. Stewart, Comm. ACM 15 (1972) 820 */
export function lyapunov(A: Dense, C: Dense): Dense | null {
  const left = realSchur(A)
  if (left === null) return null
  const minus = { ...C, data: C.data.map((value) => -value) }
  return solveSchur(left, transposedSchur(left), minus)
}

/** Schur form of Aᵀ from that of A: rows and columns in reverse order make the transpose upper again. */
function transposedSchur({ T, Q, blocks }: RealSchur): RealSchur {
  const n = T.rows
  const S = zeros(n, n)
  const V = zeros(n, n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      S.data[i * n + j] = T.data[(n - 1 - j) * n + (n - 1 - i)]
      V.data[i * n + j] = Q.data[i * n + (n - 1 - j)]
    }
  }
  return { T: S, Q: V, blocks: blocks.map(([first, last]) => [n - 1 - last, n - 1 - first] as const).reverse() }
}

/** X of A X + X B = C from both Schur forms. */
function solveSchur(left: RealSchur, right: RealSchur, C: Dense): Dense | null {
  const Y = multiply(multiply(transpose(left.Q), C), right.Q)
  const smallest = Number.EPSILON * (largest(left.T) + largest(right.T))
  for (let k = 0; k < right.blocks.length; k++) {
    const columns = right.blocks[k]
    subtractEarlier(Y, right.T, columns)
    for (let i = left.blocks.length - 1; i >= 0; i--) {
      const rows = left.blocks[i]
      subtractBelow(Y, left.T, rows, columns)
      if (!solveBlock(Y, left.T, right.T, rows, columns, smallest)) return null
    }
  }
  return multiply(multiply(left.Q, Y), transpose(right.Q))
}

type Span = readonly [number, number]

/** Y_k ← Y_k − Σ_(j<k) Y_j S_jk */
function subtractEarlier(Y: Dense, S: Dense, [first, last]: Span): void {
  for (let i = 0; i < Y.rows; i++) {
    for (let c = first; c <= last; c++) {
      let sum = 0
      for (let j = 0; j < first; j++) sum += Y.data[i * Y.columns + j] * S.data[j * S.columns + c]
      Y.data[i * Y.columns + c] -= sum
    }
  }
}

/** Y_ik ← Y_ik − Σ_(j>i) R_ij Y_jk */
function subtractBelow(Y: Dense, R: Dense, [top, bottom]: Span, [first, last]: Span): void {
  for (let r = top; r <= bottom; r++) {
    for (let c = first; c <= last; c++) {
      let sum = 0
      for (let j = bottom + 1; j < R.columns; j++) sum += R.data[r * R.columns + j] * Y.data[j * Y.columns + c]
      Y.data[r * Y.columns + c] -= sum
    }
  }
}

/** Solves R_ii Y + Y S_kk = F for one block of at most 2 × 2, as a linear system in its entries. */
function solveBlock(Y: Dense, R: Dense, S: Dense, [top, bottom]: Span, [first, last]: Span, smallest: number): boolean {
  const height = bottom - top + 1
  const width = last - first + 1
  const size = height * width
  const M = zeros(size, size)
  const rhs = zeros(size, 1)
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      const row = r * width + c
      rhs.data[row] = Y.data[(top + r) * Y.columns + first + c]
      for (let j = 0; j < height; j++) M.data[row * size + j * width + c] += R.data[(top + r) * R.columns + top + j]
      for (let j = 0; j < width; j++) M.data[row * size + r * width + j] += S.data[(first + j) * S.columns + first + c]
    }
  }
  const factors = luFactors(M)
  for (let k = 0; k < size; k++) if (!(Math.abs(factors.data[k * size + k]) > smallest)) return false
  luSolve(factors, rhs)
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) Y.data[(top + r) * Y.columns + first + c] = rhs.data[r * width + c]
  }
  return true
}
