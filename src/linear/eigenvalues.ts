import { balancingScales, scaleStates } from './balance.js'
import { type Dense, largest } from './dense.js'
import { diagonalBlocks } from './diagonal-blocks.js'
import { reduceToHessenberg } from './hessenberg.js'
import { powerOfTwo } from './power-of-two.js'

const epsilon = Number.EPSILON
const stepsPerEigenvalue = 300
/** Steps after which a subdiagonal is judged against the whole block rather than its neighbours. */
const patientSteps = 20

/** Eigenvalues side by side. */
export interface Eigenvalues {
  readonly re: Float64Array
  readonly im: Float64Array
}

/** Eigenvalues of a finite real matrix, diagonal block by diagonal block: balance, Hessenberg form, implicit double-shift QR
 * with exceptional shifts. Conjugates stand side by side. Returns null where the iteration does not converge within its cap.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, algorithms 7.5.1 and 7.5.2 */
export function eigenvalues(A: Dense): Eigenvalues | null {
  const found: Eigenvalues = { re: new Float64Array(A.rows), im: new Float64Array(A.rows) }
  let start = 0
  for (const block of diagonalBlocks(A)) {
    const n = block.rows
    const balanced = n === 1 ? block : scaleStates(block, balancingScales(block))
    if (!placeEigenvalues(balanced, found, start)) return null
    start += n
  }
  return found
}

/** Those of one balanced block, which is used up, from a place on; whether the iteration converged. */
function placeEigenvalues({ rows: n, columns, data }: Dense, found: Eigenvalues, start: number): boolean {
  if (n === 1) {
    found.re[start] = data[0]
    return true
  }
  // In units of the largest entry no square overflows, and one that underflows belongs to something negligible.
  const unit = powerOfTwo(Math.floor(Math.log2(largest({ rows: n, columns, data }) || 1)))
  for (let k = 0; k < data.length; k++) data[k] /= unit
  const { data: h } = reduceToHessenberg({ rows: n, columns, data })
  const blocks = deflate(h, n, null)
  if (blocks === null) return false
  for (const [first, last] of blocks) {
    if (first === last) found.re[start + last] = h[last * n + last]
    else pairOfBlock(h, n, last, found, start)
  }
  for (let k = start; k < start + n; k++) {
    found.re[k] *= unit
    found.im[k] *= unit
  }
  return true
}

/** Runs QR sweeps until only blocks of one or two rows are left, and returns their ends; null without convergence. With
 * q, the whole matrix is transformed and the transformation is multiplied into q. */
export function deflate(h: Float64Array, n: number, q: Float64Array | null): [number, number][] | null {
  const blocks: [number, number][] = []
  let last = n - 1
  let steps = 0
  while (last >= 0) {
    const first = startOfBlock(h, n, last, patience(h, n, last, steps))
    if (first >= last - 1) {
      blocks.push([first, last])
      last = first - 1
      steps = 0
    } else {
      if (steps === stepsPerEigenvalue) return null
      steps += 1
      francisStep(h, n, first, last, steps % 10 === 0, q)
    }
  }
  return blocks.reverse()
}

/** Sets subdiagonals that are negligible, or not above `floor`, to zero and returns where the active block that ends at
 * `last` begins. */
function startOfBlock(h: Float64Array, n: number, last: number, floor: number): number {
  for (let k = last; k > 0; k--) {
    const diagonal = Math.abs(h[(k - 1) * n + k - 1]) + Math.abs(h[k * n + k])
    const reference = diagonal > 0 ? diagonal : neighbours(h, n, k)
    if (Math.abs(h[k * n + k - 1]) <= Math.max(epsilon * reference, floor)) {
      h[k * n + k - 1] = 0
      return k
    }
  }
  return 0
}

/** Modulus below which a subdiagonal counts as zero whatever its neighbours are: a few ε times the block, growing from step
 * to step, for blocks whose diagonal vanishes and for clusters that hover just above ε. */
function patience(h: Float64Array, n: number, last: number, steps: number): number {
  if (steps < patientSteps) return 0
  let size = 0
  for (let i = 0; i <= last; i++) for (let j = 0; j <= last; j++) size = Math.max(size, Math.abs(h[i * n + j]))
  return (steps - patientSteps + 1) * epsilon * size
}

function neighbours(h: Float64Array, n: number, k: number): number {
  let size = Math.abs(h[(k - 1) * n + k])
  if (k > 1) size += Math.abs(h[(k - 1) * n + k - 2])
  if (k < n - 1) size += Math.abs(h[(k + 1) * n + k])
  return size
}

/** Eigenvalues of the 2 × 2 block that ends at `last`, without overflow or cancellation. */
function pairOfBlock(h: Float64Array, n: number, last: number, { re, im }: Eigenvalues, start: number): void {
  const a = h[(last - 1) * n + last - 1]
  const b = h[(last - 1) * n + last]
  const c = h[last * n + last - 1]
  const d = h[last * n + last]
  const half = (a - d) / 2
  const product = b * c
  const discriminant = half * half + product
  const [first, second] = [start + last - 1, start + last]
  if (product === 0) {
    re[first] = a
    re[second] = d
  } else if (discriminant >= 0) {
    const root = Math.abs(half) + Math.sqrt(discriminant)
    const shift = half >= 0 ? root : -root
    re[first] = d + shift
    re[second] = d - product / shift
  } else {
    re[first] = d + half
    re[second] = d + half
    im[first] = Math.sqrt(-discriminant)
    im[second] = -im[first]
  }
}

/** Real parts of the two shifts, and the imaginary part they have with opposite signs: the eigenvalues of the last two
 * rows or, where those are real, the one nearer to the corner twice, since one from each of two clusters never settles. */
function shifts(h: Float64Array, n: number, last: number, exceptional: boolean) {
  let a = h[(last - 1) * n + last - 1]
  let d = h[last * n + last]
  let product = h[last * n + last - 1] * h[(last - 1) * n + last]
  if (exceptional) {
    const size = Math.abs(h[last * n + last - 1]) + Math.abs(h[(last - 1) * n + last - 2])
    a = d += 0.75 * size
    product = -0.4375 * size * size
  }
  const half = (a - d) / 2
  const discriminant = half * half + product
  if (discriminant < 0) return { first: d + half, second: d + half, imaginary: Math.sqrt(-discriminant) }
  const root = Math.abs(half) + Math.sqrt(discriminant)
  const nearer = root === 0 ? d : d - product / (half >= 0 ? root : -root)
  return { first: nearer, second: nearer, imaginary: 0 }
}

/** One implicit double-shift QR sweep on the active block. */
function francisStep(
  h: Float64Array,
  n: number,
  first: number,
  last: number,
  exceptional: boolean,
  q: Float64Array | null,
): void {
  const at = (i: number, j: number) => h[i * n + j]
  const shift = shifts(h, n, last, exceptional)
  // First column of (H − λ₁)(H − λ₂), from differences, which keep what tells close eigenvalues apart.
  const top = at(first, first)
  const below = at(first + 1, first)
  let x = (top - shift.first) * (top - shift.second) + shift.imaginary * shift.imaginary + at(first, first + 1) * below
  let y = below * (top - shift.first + (at(first + 1, first + 1) - shift.second))
  let z = below * at(first + 2, first + 1)
  for (let k = first; k < last; k++) {
    const rows = k + 2 <= last ? 3 : 2
    reflect(h, n, k, rows, first, last, x, y, rows === 3 ? z : 0, q)
    x = at(k + 1, k)
    y = k + 2 <= last ? at(k + 2, k) : 0
    z = k + 3 <= last ? at(k + 3, k) : 0
  }
}

/** Applies the reflector that maps (x, y, z) to (·, 0, 0) to rows and columns k, k + 1, k + 2. */
function reflect(
  h: Float64Array,
  n: number,
  k: number,
  rows: number,
  first: number,
  last: number,
  x: number,
  y: number,
  z: number,
  q: Float64Array | null,
): void {
  const scale = Math.abs(x) + Math.abs(y) + Math.abs(z)
  if (scale === 0) return
  let v0 = x / scale
  const v1 = y / scale
  const v2 = z / scale
  const norm = Math.sqrt(v0 * v0 + v1 * v1 + v2 * v2)
  v0 += v0 >= 0 ? norm : -norm
  const beta = 1 / (norm * Math.abs(v0))
  const left = Math.max(k - 1, first)
  const right = q === null ? last : n - 1
  for (let j = left; j <= right; j++) {
    const third = rows === 3 ? h[(k + 2) * n + j] : 0
    const sum = beta * (v0 * h[k * n + j] + v1 * h[(k + 1) * n + j] + v2 * third)
    h[k * n + j] -= sum * v0
    h[(k + 1) * n + j] -= sum * v1
    if (rows === 3) h[(k + 2) * n + j] -= sum * v2
  }
  const bottom = Math.min(k + 3, last)
  fromRight(h, n, k, rows, q === null ? first : 0, bottom, beta, v0, v1, v2)
  if (q !== null) fromRight(q, n, k, rows, 0, n - 1, beta, v0, v1, v2)
  if (k > first) {
    h[(k + 1) * n + k - 1] = 0
    if (rows === 3) h[(k + 2) * n + k - 1] = 0
  }
}

function fromRight(
  matrix: Float64Array,
  n: number,
  k: number,
  rows: number,
  from: number,
  to: number,
  beta: number,
  v0: number,
  v1: number,
  v2: number,
): void {
  for (let i = from; i <= to; i++) {
    const p = i * n + k
    const third = rows === 3 ? matrix[p + 2] : 0
    const sum = beta * (v0 * matrix[p] + v1 * matrix[p + 1] + v2 * third)
    matrix[p] -= sum * v0
    matrix[p + 1] -= sum * v1
    if (rows === 3) matrix[p + 2] -= sum * v2
  }
}
