import { type ComplexDense, complexZeros, luSpace } from './complex-lu.js'
import type { Dense } from './dense.js'
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
  const { mass, damping, stiffness, forces, displacements, velocities, accelerations } = system
  const n = mass.rows
  const Z = complexZeros(n, n)
  const space = luSpace(n)
  const rhs: ComplexDense = { ...forces, re: forces.data, im: new Float64Array(forces.data.length) }
  const q = complexZeros(n, forces.columns)
  const correction = complexZeros(n, forces.columns)
  const response = complexZeros(displacements.rows, forces.columns)
  return {
    at: (re, im) => {
      const [squareRe, squareIm] = [re * re - im * im, 2 * re * im]
      for (let k = 0; k < n * n; k++) {
        Z.re[k] = stiffness.data[k] + re * damping.data[k] + squareRe * mass.data[k]
        Z.im[k] = im * damping.data[k] + squareIm * mass.data[k]
      }
      if (!refinedSolve(Z, rhs, space, q, correction)) return null
      response.re.fill(0)
      response.im.fill(0)
      for (let o = 0; o < response.rows; o++) {
        for (let k = 0; k < n; k++) {
          const p = o * n + k
          const a = displacements.data[p] + re * velocities.data[p] + squareRe * accelerations.data[p]
          const b = im * velocities.data[p] + squareIm * accelerations.data[p]
          if (a === 0 && b === 0) continue
          for (let i = 0; i < q.columns; i++) {
            const [x, y] = [q.re[k * q.columns + i], q.im[k * q.columns + i]]
            response.re[o * q.columns + i] += a * x - b * y
            response.im[o * q.columns + i] += a * y + b * x
          }
        }
      }
      return response
    },
  }
}
