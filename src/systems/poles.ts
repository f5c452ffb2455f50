import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { anySystem } from './block.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { preparedEigenvalues } from './kernel-of.js'
import type { DiscreteStateSpace, LinearSystem, Pole, StateSpace } from './types.js'

/** Poles of a system: the eigenvalues of its state matrix, hidden modes included.
 *
 * A k-fold pole is only known to about ε^(1/k) of its size. The QR iteration is capped; it has not been seen to fail on
 * finite matrices.
 * For a discrete system re and im are those of z; frequency and damping are those of ln z over the sample time, Infinity
 * and 1 for z = 0.
 * @param system - without delays; use `pade(system, { order })` first where there are
 * @returns one record per state, by ascending natural frequency, conjugates side by side
 * @throws {@link IsolationError} `unsupported` with delays; `no-convergence`; errors of a malformed system
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 7.5
 * @example
 * import { poles, stateSpace } from 'restmass'
 * const oscillator = stateSpace({ A: [[0, 1], [-100, -2]], B: [[0], [1]], C: [[1, 0]] })
 * poles(oscillator)[0].dampingRatio // 0.1
 */
export function poles(system: LinearSystem): Pole[] {
  const scope = scopeOf('poles')
  const form = anySystem(within(scope, 'system'), system)
  const discrete = form.kind === 'DiscreteStateSpace'
  if (!discrete) refuseDelays(scope, form)
  const { re, im } = preparedEigenvalues(system) ?? stateEigenvalues(scope, form)
  const list = Array.from(re, (real, k) =>
    discrete ? discretePoleRecord(real, im[k], form.sampleTime) : poleRecord(real, im[k]),
  )
  return list.sort((a, b) => a.naturalFrequency - b.naturalFrequency || a.re - b.re || b.im - a.im)
}

/** Throws where a system has delays that this function cannot treat. */
export function refuseDelays(scope: Scope, system: StateSpace): void {
  if (system.delays !== null) {
    fail('unsupported', scope, 'has no answer for a system with delays; use pade(system, { order }) first')
  }
}

export function stateEigenvalues(scope: Scope, system: StateSpace | DiscreteStateSpace): Eigenvalues {
  return eigenvaluesOf(scope, denseFrom(system.A, system.A.length))
}

function poleRecord(re: number, im: number): Pole {
  const size = hypotenuse(re, im)
  return { re, im, naturalFrequency: size / (2 * Math.PI), dampingRatio: size === 0 ? null : -re / size || 0 }
}

/** A pole z of a discrete system, its frequency and damping those of ln z over the sample time. */
function discretePoleRecord(re: number, im: number, sampleTime: number): Pole {
  const { naturalFrequency, dampingRatio } = poleRecord(
    Math.log(hypotenuse(re, im)) / sampleTime,
    Math.atan2(im, re) / sampleTime,
  )
  return { re, im, naturalFrequency, dampingRatio: naturalFrequency === Number.POSITIVE_INFINITY ? 1 : dampingRatio }
}
