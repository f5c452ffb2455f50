import { balancingScales, scaleStates } from './balance.js'
import { compensatedProduct } from './compensated-dot.js'
import { type Dense, identity, multiply, sum, times, transpose } from './dense.js'
import { luFactors, solve } from './solve.js'

/** Coefficients of the [13/13] Padé numerator of the exponential, constant term first. */
const pade13 = [
  64764752532480000, 32382376266240000, 7771770303897600, 1187353796428800, 129060195264000, 10559470521600,
  670442572800, 33522128640, 1323241920, 40840800, 960960, 16380, 182, 1,
] as const

/** Size of a matrix over that of its powers above which products are summed in twice the precision. */
const cancelling = 10

type Product = (X: Dense, Y: Dense) => Dense

/** Largest one-norm for which [13/13] is accurate to the rounding unit. */
const theta13 = 4.25

/** e^A by balancing, scaling, [13/13] Padé and squaring; the scaling looks at powers of A, so that a large off-diagonal
 * part does not cost digits, and a triangular A has its diagonal and first off-diagonal corrected at every squaring.
 * Null where a power of A overflows.
 * @source A. H. Al-Mohy, N. J. Higham, SIAM J. Matrix Analysis 31 (2009) 970 */
export function matrixExponential(A: Dense): Dense | null {
  if (A.rows === 0) return A
  if (isUpper(A)) return exponential(A, true)
  if (isUpper(transpose(A))) {
    const result = exponential(transpose(A), true)
    return result === null ? null : transpose(result)
  }
  const scales = balancingScales(A)
  const inner = exponential(scaleStates(A, scales), false)
  return inner === null
    ? null
    : scaleStates(
        inner,
        scales.map((value) => 1 / value),
      )
}

function exponential(A: Dense, triangular: boolean): Dense | null {
  let found = powersOf(A, multiply)
  let product = multiply
  // Large entries that cancel in the powers, as where the states are badly chosen, take their digits with them.
  if (oneNorm(A) > cancelling * found.reach) {
    product = compensatedProduct
    found = powersOf(A, product)
  }
  const { powers, reach } = found
  if (!Number.isFinite(reach)) return null
  const squarings = Math.max(0, Math.ceil(Math.log2(reach / theta13)) + extraSquarings(A, reach))
  const factor = 2 ** -squarings
  const scaled = powers.map((M, k) => times(M, factor ** [1, 2, 4, 6][k]))
  let E = padeApproximant(scaled, product)
  if (E === null) return null
  if (triangular) correctDiagonals(E, A, factor)
  for (let k = squarings - 1; k >= 0; k--) {
    E = product(E, E)
    if (triangular) correctDiagonals(E, A, 2 ** -k)
  }
  return E.data.every(Number.isFinite) ? E : null
}

/** A, A², A⁴, A⁶, and the size of A that its powers show. */
function powersOf(A: Dense, product: Product): { powers: Dense[]; reach: number } {
  const A2 = product(A, A)
  const A4 = product(A2, A2)
  const A6 = product(A4, A2)
  const d6 = oneNorm(A6) ** (1 / 6)
  const d8 = oneNorm(product(A4, A4)) ** (1 / 8)
  const d10 = oneNorm(product(A4, A6)) ** (1 / 10)
  return { powers: [A, A2, A4, A6], reach: Math.min(Math.max(d6, d8), Math.max(d8, d10)) }
}

/** More squarings where the norm of |A| far exceeds that of its powers, so that the approximant itself keeps its digits. */
function extraSquarings(A: Dense, reach: number): number {
  const excess = oneNorm(A) / (reach || 1)
  return excess > 1e8 ? Math.ceil(Math.log2(excess) / 27) : 0
}

function padeApproximant([A, A2, A4, A6]: readonly Dense[], product: Product): Dense | null {
  const c = pade13
  const I = identity(A.rows)
  const oddTop = combine([c[13], A6], [c[11], A4], [c[9], A2])
  const odd = product(A, sum(product(A6, oddTop), combine([c[7], A6], [c[5], A4], [c[3], A2], [c[1], I])))
  const evenTop = combine([c[12], A6], [c[10], A4], [c[8], A2])
  const even = sum(product(A6, evenTop), combine([c[6], A6], [c[4], A4], [c[2], A2], [c[0], I]))
  const [below, above] = [combine([1, even], [-1, odd]), sum(even, odd)]
  const factors = luFactors(below)
  const quotient = solve(below, above, factors)
  if (quotient === null || product === multiply) return quotient
  return sum(quotient, solve(below, sum(above, times(product(below, quotient), -1)), factors) as Dense)
}

/** Exact diagonal e^(f a_ii) and divided difference on the first off-diagonal of the exponential of f A. */
function correctDiagonals(E: Dense, A: Dense, factor: number): void {
  const n = A.rows
  for (let i = 0; i < n; i++) {
    const a = factor * A.data[i * n + i]
    E.data[i * n + i] = Math.exp(a)
    if (i + 1 < n) {
      const b = factor * A.data[(i + 1) * n + i + 1]
      E.data[i * n + i + 1] = factor * A.data[i * n + i + 1] * dividedDifference(a, b)
    }
  }
}

/** (e^a − e^b)/(a − b) without cancellation and without overflow of a factor. */
function dividedDifference(a: number, b: number): number {
  const [low, high] = a < b ? [a, b] : [b, a]
  const gap = high - low
  return gap === 0 ? Math.exp(high) : (Math.exp(high) * -Math.expm1(-gap)) / gap
}

function isUpper({ rows, data }: Dense): boolean {
  for (let i = 1; i < rows; i++) for (let j = 0; j < i; j++) if (data[i * rows + j] !== 0) return false
  return true
}

function oneNorm({ rows, columns, data }: Dense): number {
  let largest = 0
  for (let j = 0; j < columns; j++) {
    let column = 0
    for (let i = 0; i < rows; i++) column += Math.abs(data[i * columns + j])
    largest = Math.max(largest, column)
  }
  return largest
}

function combine(...terms: readonly (readonly [number, Dense])[]): Dense {
  const [[first, M]] = terms
  const total = times(M, first)
  for (const [factor, { data }] of terms.slice(1)) {
    for (let k = 0; k < data.length; k++) total.data[k] += factor * data[k]
  }
  return total
}
