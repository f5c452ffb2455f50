import { type Dense, zeros } from './dense.js'
import { hypotenuse } from './hypotenuse.js'
import { leastSquares } from './least-squares.js'
import { luFactors, luInverse } from './solve.js'
import { sumOfSquares } from './sum-of-squares.js'

/** A least-squares fit of a model that is not linear in its parameters. */
export interface NonlinearFit {
  readonly parameters: Float64Array
  /** (JᵀJ)⁻¹ at the parameters: their covariance if every residual has unit variance */
  readonly covariance: Dense
  /** Sum of the squared residuals */
  readonly squares: number
}

/** Parameters that minimise Σ r², from a start near enough; null where a parameter does not matter, where residuals leave
 * the range of numbers, and where 200 steps do not converge. Parameters should be of order one, such as logarithms; none
 * moves by more than 1 in a step, and residuals that are infinite turn a step back.
 *
 * Damped Gauss-Newton steps by QR of [J; √λ·D], D the sizes of the columns of J, so that units do not matter; J by central
 * differences.
 * @source J. J. Moré, The Levenberg-Marquardt algorithm: implementation and theory, Lecture Notes in Mathematics 630 (1978)
 */
export function nonlinearLeastSquares(
  residuals: (parameters: Float64Array) => Float64Array,
  start: Float64Array,
): NonlinearFit | null {
  let p = start.slice()
  let r = residuals(p)
  let squares = sumOfSquares(r)
  let damping = 1e-3
  for (let step = 0; step < 200 && Number.isFinite(squares); step++) {
    const J = jacobian(residuals, p, r.length)
    let moved = Infinity
    let gained = 0
    for (; damping < 1e20 && gained <= 0; damping *= 8) {
      const move = dampedStep(J, r, damping)
      if (move === null) return null
      moved = Math.max(...move.map(Math.abs))
      const share = Math.min(1, longestMove / moved)
      const next = p.map((value, k) => value + share * move[k])
      const trial = residuals(next)
      const trialSquares = sumOfSquares(trial)
      if (trialSquares > squares || !Number.isFinite(trialSquares)) {
        if (moved < 1e-12) break
        continue
      }
      gained = squares - trialSquares
      ;[p, r, squares] = [next, trial, trialSquares]
      damping /= 64
      if (gained === 0) break
    }
    if (moved < 1e-9 || gained <= 1e-13 * squares) return fitAt(p, squares, jacobian(residuals, p, r.length))
  }
  return null
}

const longestMove = 1

function fitAt(parameters: Float64Array, squares: number, J: Dense): NonlinearFit | null {
  const { rows, columns, data } = J
  const size = columnSizes(J)
  const normal = zeros(columns, columns)
  for (let i = 0; i < rows; i++) {
    for (let a = 0; a < columns; a++) {
      for (let b = 0; b < columns; b++) {
        normal.data[a * columns + b] += (data[i * columns + a] / size[a]) * (data[i * columns + b] / size[b])
      }
    }
  }
  const factors = luFactors(normal)
  if (factors.singular) return null
  const covariance = luInverse(factors)
  covariance.data.forEach((value, k) => {
    covariance.data[k] = value / size[k % columns] / size[Math.floor(k / columns)]
  })
  for (let k = 0; k < columns; k++) if (!(covariance.data[k * (columns + 1)] > 0)) return null
  return { parameters, covariance, squares }
}

function dampedStep(J: Dense, r: Float64Array, damping: number): Float64Array | null {
  const { rows, columns } = J
  const augmented = zeros(rows + columns, columns)
  augmented.data.set(J.data)
  const right = new Float64Array(rows + columns)
  for (let i = 0; i < rows; i++) right[i] = -r[i]
  columnSizes(J).forEach((size, k) => {
    augmented.data[(rows + k) * columns + k] = Math.sqrt(damping) * size
  })
  return leastSquares(augmented, right)
}

function columnSizes({ rows, columns, data }: Dense): Float64Array {
  const sizes = new Float64Array(columns)
  for (let i = 0; i < rows; i++)
    for (let k = 0; k < columns; k++) sizes[k] = hypotenuse(sizes[k], data[i * columns + k])
  return sizes
}

function jacobian(residuals: (p: Float64Array) => Float64Array, p: Float64Array, rows: number): Dense {
  const J = zeros(rows, p.length)
  const h = 1e-5
  for (let k = 0; k < p.length; k++) {
    const up = residuals(p.map((value, j) => (j === k ? value + h : value)))
    const down = residuals(p.map((value, j) => (j === k ? value - h : value)))
    for (let i = 0; i < rows; i++) J.data[i * p.length + k] = (up[i] - down[i]) / (2 * h)
  }
  return J
}
