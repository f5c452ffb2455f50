import { block, copy, type Dense, identity, multiply, sum, times, transpose, zeros } from './dense.js'
import { type Eigenvalues, eigenvalues } from './eigenvalues.js'
import { type Reflector, reflectColumns, reflectRows, rowCompression } from './rank-revealing.js'
import { luFactors, solve } from './solve.js'

/** Matrices of a system without delays. */
export interface Quadruple {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
}

/** Finite invariant zeros: values of s at which [A − s I, B; C, D] loses rank; null where the iteration fails.
 *
 * The system is reduced until D has full row rank, then its dual likewise, which leaves a square invertible D; the zeros
 * are then those of a pencil of the order that is left.
 * @param tolerance - below which a row or column counts as zero
 * @source A. Emami-Naeini, P. Van Dooren, Automatica 18 (1982) 415 */
export function pencilZeros(system: Quadruple, tolerance: number): Eigenvalues | null {
  const outer = dual(reduceRows(dual(reduceRows(system, tolerance)), tolerance))
  const n = outer.A.rows
  if (n === 0) return { re: new Float64Array(0), im: new Float64Array(0) }
  const r = outer.D.rows
  if (r === 0) return eigenvalues(outer.A)
  const quotient = directQuotient(outer) ?? compressedQuotient(outer, tolerance)
  return quotient === null ? null : eigenvalues(quotient)
}

/** A − B D⁻¹ C, which leaves integers exact; null where D is too close to singular for that. */
function directQuotient({ A, B, C, D }: Quadruple): Dense | null {
  const factors = luFactors(D)
  const pivots = Array.from({ length: D.rows }, (_, k) => Math.abs(factors.data[k * D.rows + k]))
  if (!(Math.min(...pivots) > 1e-6 * Math.max(...pivots))) return null
  return sum(A, times(multiply(B, solve(D, C, factors) as Dense), -1))
}

/** The same by column compression of [C D]: in the columns where it vanishes the pencil is s E − F with E invertible. */
function compressedQuotient({ A, B, C, D }: Quadruple, tolerance: number): Dense | null {
  const n = A.rows
  const r = D.rows
  const wide = zeros(r, n + r)
  for (let i = 0; i < r; i++) {
    wide.data.set(C.data.subarray(i * n, (i + 1) * n), i * (n + r))
    wide.data.set(D.data.subarray(i * r, (i + 1) * r), i * (n + r) + n)
  }
  const Q = identity(n + r)
  for (const reflector of rowCompression(transpose(wide), tolerance).reflectors) reflectColumns(Q, reflector, 0)
  const kernel = block(Q, 0, r, n + r, n)
  const E = block(kernel, 0, 0, n, n)
  return solve(E, sum(multiply(A, E), multiply(B, block(kernel, n, 0, r, n))))
}

/** Removes states and outputs until D has full row rank, keeping the zeros. */
function reduceRows(system: Quadruple, tolerance: number): Quadruple {
  let { A, B, C, D } = system
  for (;;) {
    const p = D.rows
    const { rank, reflectors } = rowCompression(D, tolerance)
    if (rank === p) return { A, B, C, D }
    const turnedD = turnedRows(D, reflectors)
    const inner = turnedRows(C, reflectors)
    const n = A.rows
    const rest = block(inner, rank, 0, p - rank, n)
    // States that the outputs without feedthrough see must stay at zero; what drives them becomes a new output.
    const seen = rowCompression(transpose(rest), tolerance)
    const nu = seen.rank
    if (nu === 0) {
      return { A, B, C: block(inner, 0, 0, rank, n), D: block(turnedD, 0, 0, rank, D.columns) }
    }
    const turnedA = turnedRows(A, seen.reflectors)
    const turnedB = turnedRows(B, seen.reflectors)
    for (const reflector of seen.reflectors) {
      reflectColumns(turnedA, reflector, 0)
      reflectColumns(inner, reflector, 0)
    }
    const m = B.columns
    A = block(turnedA, nu, nu, n - nu, n - nu)
    B = block(turnedB, nu, 0, n - nu, m)
    C = below(block(inner, 0, nu, rank, n - nu), block(turnedA, 0, nu, nu, n - nu))
    D = below(block(turnedD, 0, 0, rank, m), block(turnedB, 0, 0, nu, m))
  }
}

function turnedRows(M: Dense, reflectors: readonly Reflector[]): Dense {
  const turned = copy(M)
  for (const reflector of reflectors) reflectRows(turned, reflector, 0)
  return turned
}

function dual({ A, B, C, D }: Quadruple): Quadruple {
  return { A: transpose(A), B: transpose(C), C: transpose(B), D: transpose(D) }
}

function below(top: Dense, bottom: Dense): Dense {
  const result = zeros(top.rows + bottom.rows, top.columns)
  result.data.set(top.data)
  result.data.set(bottom.data, top.data.length)
  return result
}
