import { type Arena, arena } from './arena.js'
import { type ComplexDense, complexLu, complexLuSolve, complexZeros } from './complex-lu.js'
import { complexProduct, moduli, timesReal } from './complex-products.js'
import type { DelayedSystem } from './delayed-solve.js'
import type { Dense } from './dense.js'
import { type Eigenvalues, eigenvalues } from './eigenvalues.js'
import { eigenvectors } from './eigenvectors.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import { inputResidual, inverseSlack, modalResidual, modesByOutputs } from './modal-residual.js'
import { powerOfTwo } from './power-of-two.js'

/** A system without its delays in partial fractions, G = D + Σ c_k b_k/(s − λ_k), and bounds on every error made on the way.
 *
 * An error F of Λ, in modal coordinates, moves G by at most Σ |c_j| F_jk |b_k| / (|s − λ_j| |s − λ_k|). Rows are modes,
 * conjugates side by side. */
export interface ModalForm {
  readonly lambda: Eigenvalues
  /** What the eigenvalues are beyond their last digit, to be added to them */
  readonly rest: Eigenvalues
  /** Modes × inputs */
  readonly b: ComplexDense
  /** Modes × outputs */
  readonly c: ComplexDense
  /** Bounds on the errors of b and c */
  readonly bError: Float64Array
  readonly cError: Float64Array
  /** Largest bound on what is left of F in the row and column of each mode, and the Frobenius norm of F_jk/√(scale_j scale_k) */
  readonly scale: Float64Array
  readonly coupling: number
}

/** First-order corrections beyond this are not small. */
const smallCorrection = 1e-4

/** Modal form of a balanced system; null where its modes cannot be told apart.
 *
 * Eigenpairs from a double-precision iteration are off by the condition of the matrix. Their residual, summed in twice the
 * precision, says by how much, and one correction of first order removes it.
 * @source J. J. Dongarra, C. B. Moler, J. H. Wilkinson, SIAM J. Numer. Anal. 20 (1983) 23 (residuals in higher precision) */
export function modalForm({ A, B, C }: DelayedSystem): ModalForm | null {
  const lambda = eigenvalues(A)
  const n = A.rows
  if (lambda === null || n === 0) return null
  const ports = B.columns + C.rows
  const space = arena(17 * n * n + 13 * n * ports + 24 * n)
  const { real, complex } = space
  const V = eigenvectors(A, lambda)
  const W = inverse(V)
  if (W === null) return null
  const b = timesReal(W, B, complex(n, B.columns))
  const c = modesByOutputs(space, V, C)
  evenOut(V, W, b, c)
  const absA = real(n * n)
  for (let p = 0; p < n * n; p++) absA[p] = Math.abs(A.data[p])
  const sizes = { A: absA, V: moduli(V, real(n * n)), W: moduli(W, real(n * n)) }
  const slack = inverseSlack(V, W, sizes)
  if (!(slack < 0.1)) return null
  const F = complexProduct(W, modalResidual(space, A, V, lambda), complex(n, n))
  const P = correction(space, F, lambda)
  if (P === null) return null
  const bError = refinedInputs(space, W, V, B, b)
  const cError = real(n * C.rows)
  for (let p = 0; p < cError.length; p++) cError[p] = 2 * Number.EPSILON * hypotenuse(c.re[p], c.im[p])
  const { scale, coupling } = remainder(space, F, P, sizes, slack)
  apply(space, P, b, c, bError, cError)
  const finite = [bError, cError, scale, c.re, b.re].every((values) => values.every(Number.isFinite))
  return finite && Number.isFinite(coupling)
    ? { lambda, rest: diagonal(F, lambda), b, c, bError, cError, scale, coupling }
    : null
}

/** Moduli of the entries of three matrices of one order. */
interface Sizes {
  readonly A: Float64Array
  readonly V: Float64Array
  readonly W: Float64Array
}

function inverse(V: ComplexDense): ComplexDense | null {
  const n = V.rows
  const lu = complexLu(V)
  if (!(lu.smallestPivot > 1e-12)) return null
  const W = complexZeros(n, n)
  for (let k = 0; k < n; k++) W.re[k * n + k] = 1
  complexLuSolve(lu, W)
  return W
}

/** Scales each mode by a power of two so that its rows of b and of c are of equal size. */
function evenOut(V: ComplexDense, W: ComplexDense, b: ComplexDense, c: ComplexDense): void {
  const n = V.rows
  for (let k = 0; k < n; k++) {
    const [inSize, outSize] = [rowSize(b, k), rowSize(c, k)]
    if (inSize === 0 || outSize === 0) continue
    const factor = powerOfTwo(Math.round(Math.log2(inSize / outSize) / 2))
    for (let i = 0; i < n; i++) {
      V.re[i * n + k] *= factor
      V.im[i * n + k] *= factor
    }
    scaleRow(c, k, factor)
    scaleRow(W, k, 1 / factor)
    scaleRow(b, k, 1 / factor)
  }
}

function rowSize(M: ComplexDense, k: number): number {
  let size = 0
  for (let p = k * M.columns; p < (k + 1) * M.columns; p++) size = Math.max(size, hypotenuse(M.re[p], M.im[p]))
  return size
}

function scaleRow(M: ComplexDense, k: number, factor: number): void {
  for (let p = k * M.columns; p < (k + 1) * M.columns; p++) {
    M.re[p] *= factor
    M.im[p] *= factor
  }
}

/** P with (Λ + F)(I + P) ≈ (I + P)(Λ + diag F): P_jk = F_jk/(λ_k − λ_j); null where that is not small. */
function correction({ complex }: Arena, F: ComplexDense, lambda: Eigenvalues): ComplexDense | null {
  const n = F.rows
  const P = complex(n, n)
  for (let j = 0; j < n; j++) {
    for (let k = 0; k < n; k++) {
      if (j === k) continue
      const p = j * n + k
      const [x, y] = [lambda.re[k] - lambda.re[j], lambda.im[k] - lambda.im[j]]
      const size = x * x + y * y
      P.re[p] = (F.re[p] * x + F.im[p] * y) / size
      P.im[p] = (F.im[p] * x - F.re[p] * y) / size
      if (!(hypotenuse(P.re[p], P.im[p]) < smallCorrection)) return null
    }
  }
  return P
}

/** b ← b + W (B − V b), twice, with the residual in twice the precision; returns a bound on what is left. */
function refinedInputs(space: Arena, W: ComplexDense, V: ComplexDense, B: Dense, b: ComplexDense): Float64Array {
  const bound = space.real(b.re.length)
  for (let pass = 0; pass < 2; pass++) {
    const step = complexProduct(W, inputResidual(space, V, B, b), space.complex(b.rows, b.columns))
    for (let p = 0; p < b.re.length; p++) {
      b.re[p] += step.re[p]
      b.im[p] += step.im[p]
      bound[p] = 2 * Number.EPSILON * hypotenuse(b.re[p], b.im[p]) + hypotenuse(step.re[p], step.im[p])
    }
  }
  return bound
}

/** What the correction leaves of F: its own error and terms of second order. */
function remainder(
  { real }: Arena,
  F: ComplexDense,
  P: ComplexDense,
  { A, V, W }: Sizes,
  slack: number,
): { scale: Float64Array; coupling: number } {
  const n = F.rows
  const absF = moduli(F, real(n * n))
  const absP = moduli(P, real(n * n))
  const AV = real(n * n)
  addProduct(A, V, AV, n)
  const [own, second] = [real(n * n), real(n * n)]
  addProduct(W, AV, own, n)
  addProduct(absP, absF, second, n)
  // The sums of twice the precision are off by about ε² times the sum of moduli.
  const tiny = rounding(n) * Number.EPSILON * n
  const bound = AV
  for (let p = 0; p < n * n; p++) bound[p] = 2 * (tiny * own[p] + second[p]) + (2 * slack + rounding(n)) * absF[p]
  const scale = real(n).fill(Number.MIN_VALUE)
  for (let j = 0; j < n; j++) {
    for (let k = 0; k < n; k++) {
      scale[j] = Math.max(scale[j], bound[j * n + k])
      scale[k] = Math.max(scale[k], bound[j * n + k])
    }
  }
  let sum = 0
  for (let j = 0; j < n; j++) for (let k = 0; k < n; k++) sum += bound[j * n + k] ** 2 / scale[j] / scale[k]
  return { scale, coupling: Math.sqrt(sum) }
}

/** Z ← Z + X Y, all square of order n */
function addProduct(X: Float64Array, Y: Float64Array, Z: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const factor = X[i * n + k]
      for (let j = 0; j < n; j++) Z[i * n + j] += factor * Y[k * n + j]
    }
  }
}

/** The diagonal of F. Real stays real: an imaginary part of 1e-33 would make it one of a pair. */
function diagonal(F: ComplexDense, { im }: Eigenvalues): Eigenvalues {
  const n = F.rows
  const rest = { re: new Float64Array(n), im: new Float64Array(n) }
  for (let k = 0; k < n; k++) {
    rest.re[k] = F.re[k * n + k]
    if (im[k] !== 0) rest.im[k] = F.im[k * n + k]
  }
  return rest
}

/** b ← b − P b, c ← c + c P, and what that adds to the bounds. */
function apply(
  { complex }: Arena,
  P: ComplexDense,
  b: ComplexDense,
  c: ComplexDense,
  bError: Float64Array,
  cError: Float64Array,
): void {
  const n = P.rows
  const take = (M: ComplexDense, error: Float64Array, turned: boolean, sign: number) => {
    const step = complexProduct(P, M, complex(n, M.columns), turned)
    const second = complexProduct(P, step, complex(n, M.columns), turned)
    for (let p = 0; p < M.re.length; p++) {
      M.re[p] += sign * step.re[p]
      M.im[p] += sign * step.im[p]
      error[p] =
        1.1 * error[p] +
        rounding(n) * hypotenuse(step.re[p], step.im[p]) +
        2 * hypotenuse(second.re[p], second.im[p]) +
        Number.EPSILON * hypotenuse(M.re[p], M.im[p])
    }
  }
  take(b, bError, false, -1)
  take(c, cError, true, 1)
}
