import { type ComplexDense, complexZeros, finite, luSpace } from './complex-lu.js'
import type { Dense } from './dense.js'
import { rounding, solutionErrorBound } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import { pointByPoint } from './point-by-point.js'
import { refinedSolve } from './refined-solve.js'
import type { ResponseKernel } from './response-kernel.js'

/** Matrices of M q'' + C q' + K q = F u with y = R₀ q + R₁ q' + R₂ q''. */
export interface SecondOrderSystem {
  readonly mass: Dense
  readonly damping: Dense
  readonly stiffness: Dense
  readonly forces: Dense
  readonly displacements: Dense
  readonly velocities: Dense
  readonly accelerations: Dense
}

/** Evaluator by the dynamic stiffness K + s C + s² M itself, which keeps small outputs accurate entry by entry.
 * @source D. J. Ewins, Modal Testing, 2nd edition 2000, section 2.3 */
export function dynamicStiffnessKernel(system: SecondOrderSystem): ResponseKernel {
  const { mass, forces, displacements } = system
  const n = mass.rows
  const Z = complexZeros(n, n)
  const space = luSpace(n)
  const rhs: ComplexDense = { ...forces, re: forces.data, im: new Float64Array(forces.data.length) }
  const q = complexZeros(n, forces.columns)
  const correction = complexZeros(n, forces.columns)
  const response = complexZeros(displacements.rows, forces.columns)
  const at = (re: number, im: number): ComplexDense | null => {
    loadStiffness(Z, system, re, im)
    if (!refinedSolve(Z, rhs, space, q, correction)) return null
    readOut(system, q, response, re, im)
    return finite(response)
  }
  return {
    at,
    along: (points, entries, _, into) => pointByPoint(at, points, entries, into),
    boundedAt: (re, im) => {
      const value = at(re, im)
      return value === null ? null : { value, bound: readOutBound(system, q, solutionErrorBound(Z, q, rhs), re, im) }
    },
  }
}

/** Z ← K + s C + s² M */
function loadStiffness(Z: ComplexDense, { mass, damping, stiffness }: SecondOrderSystem, re: number, im: number): void {
  for (let k = 0; k < Z.re.length; k++) {
    Z.re[k] = stiffness.data[k] + re * damping.data[k] + (re * re - im * im) * mass.data[k]
    Z.im[k] = im * damping.data[k] + 2 * re * im * mass.data[k]
  }
}

/** y ← (R₀ + s R₁ + s² R₂) q */
function readOut(system: SecondOrderSystem, q: ComplexDense, response: ComplexDense, re: number, im: number): void {
  const { displacements, velocities, accelerations } = system
  const n = q.rows
  response.re.fill(0)
  response.im.fill(0)
  for (let o = 0; o < response.rows; o++) {
    for (let k = 0; k < n; k++) {
      const p = o * n + k
      const a = displacements.data[p] + re * velocities.data[p] + (re * re - im * im) * accelerations.data[p]
      const b = im * velocities.data[p] + 2 * re * im * accelerations.data[p]
      if (a === 0 && b === 0) continue
      for (let i = 0; i < q.columns; i++) {
        const [x, y] = [q.re[k * q.columns + i], q.im[k * q.columns + i]]
        response.re[o * q.columns + i] += a * x - b * y
        response.im[o * q.columns + i] += a * y + b * x
      }
    }
  }
}

function readOutBound(system: SecondOrderSystem, q: ComplexDense, error: Float64Array, re: number, im: number) {
  const { displacements, velocities, accelerations } = system
  const n = q.rows
  const m = q.columns
  const size = hypotenuse(re, im)
  const gamma = rounding(n)
  const bound = new Float64Array(displacements.rows * m)
  for (let p = 0; p < displacements.data.length; p++) {
    const factor =
      Math.abs(displacements.data[p]) +
      size * Math.abs(velocities.data[p]) +
      size * size * Math.abs(accelerations.data[p])
    const [o, k] = [Math.floor(p / n), p % n]
    for (let i = 0; i < m; i++) {
      bound[o * m + i] += factor * (error[k * m + i] + gamma * hypotenuse(q.re[k * m + i], q.im[k * m + i]))
    }
  }
  return bound
}
