import { must, type Scope, scopeOf, within } from '../internal/check.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { largest, times } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { pencilZeros } from '../linear/pencil-zeros.js'
import { powerOfTwo } from '../linear/power-of-two.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { refuseDelays } from './poles.js'
import type { LinearSystem, StateSpace } from './types.js'

/** A finite zero of a system. */
export interface Zero {
  /** [rad/s]; of z for a discrete system */
  readonly re: number
  /** [rad/s]; of z for a discrete system */
  readonly im: number
}

/** Transmission (invariant) zeros of a system: the finite s at which [A − s I, B; C, D] loses rank.
 *
 * Found by orthogonal reductions of the balanced system; rows and columns below 10 n ε of its size count as zero. Hidden
 * modes count. A k-fold zero is only known to about ε^(1/k) of its size.
 * For a discrete system they are values of z.
 * @param plant - continuous or discrete, without delays; use `pade(system, { order })` first where there are
 * @returns the zeros by ascending modulus, conjugates side by side
 * @throws {@link IsolationError} `unsupported` with delays; `no-convergence`; errors of a malformed system
 * @source A. Emami-Naeini, P. Van Dooren, Automatica 18 (1982) 415
 * @example
 * import { transferFunction, zeros } from 'restmass'
 * zeros(transferFunction({ numerator: [1, 3], denominator: [1, 2, 5] }))[0].re // -3
 */
export function zeros(plant: LinearSystem): Zero[] {
  const scope = scopeOf('zeros')
  const system = anySystem(within(scope, 'system'), plant)
  if (system.kind === 'StateSpace') refuseDelays(scope, system)
  return invariantZeros(scope, system.kind === 'StateSpace' ? system : continuousForm(system))
}

/** The same for matrices that have been checked; a system without delays. */
export function invariantZeros(scope: Scope, system: StateSpace): Zero[] {
  const zeros = scaledZeros(system)
  const isKnown = zeros !== null && [zeros.re, zeros.im].every((parts) => parts.every(Number.isFinite))
  const found = must(isKnown ? zeros : null, 'no-convergence', scope, 'could not find the zeros')
  return Array.from(found.re, (re, k) => ({ re, im: found.im[k] })).sort(
    (a, b) => hypotenuse(a.re, a.im) - hypotenuse(b.re, b.im) || a.re - b.re || b.im - a.im,
  )
}

/** The zeros in no order; null where the iteration does not converge. */
export function scaledZeros(system: StateSpace): Eigenvalues | null {
  const { A, B, C, D } = balancedSystem(denseSystem(system))
  // Units of inputs and outputs do not move zeros: all four matrices are brought to the size of A.
  const size = largest(A) || 1
  const input = nearestPower(size / (largest(B) || 1))
  const output = nearestPower(size / (largest(C) || 1))
  const scaled = { A, B: times(B, input), C: times(C, output), D: times(D, input * output) }
  return pencilZeros(scaled, 10 * (A.rows + 1) * Number.EPSILON * size)
}

function nearestPower(value: number): number {
  return powerOfTwo(Math.round(Math.log2(value)))
}
