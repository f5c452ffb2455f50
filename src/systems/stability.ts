import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { strongComponents } from '../linear/strong-components.js'
import { anySystem } from './block.js'
import { boundaryPoles } from './boundary-poles.js'
import { delayedStability } from './delayed-stability.js'
import { preparedEigenvalues } from './kernel-of.js'
import { stateEigenvalues } from './poles.js'
import type { DiscreteStateSpace, LinearSystem, Matrix, Stability, StateSpace } from './types.js'

/** Whether a system is stable, marginal or unstable, and how many poles lie right of the imaginary axis.
 *
 * Without delays the eigenvalues decide. A pole counts as on the axis within 16 ε times the largest entry of the balanced
 * diagonal block of the state matrix that it belongs to; a pole in a cluster also where so small a change of the block
 * would put it there, since a k-fold pole is only known to about ε^(1/k).
 * A discrete system is judged against the unit circle, within 64 ε times its size.
 *
 * With delays the zeros of the exact characteristic function are counted by its turns along the axis, once right and once
 * left of it at a distance of 1e-10 times the frequency, or of 1e-13 times the fastest pole near 0 Hz; no approximation of
 * the delay takes part. Each step is so short that the poles and zeros between the delays prove its turn to be below 180°; delays in
 * loops with each other are taken up to eight.
 * Where that takes more than 500 000 steps, or a closed-loop pole lies on the path itself, there is no verdict but
 * `no-convergence`.
 * @param system - continuous or discrete; hidden modes count
 * @returns verdict, number of unstable poles and spectral abscissa [rad/s], null with delays or without states
 * @throws {@link IsolationError} `unsupported` where delays feed each other in a ring without roll-off, or
 * more than eight are in loops with each other; `no-convergence`
 * @source N. Olgac, R. Sipahi, IEEE Trans. Automatic Control 47 (2002) 793 (retarded systems); the argument principle
 * @example
 * import { stability, stateSpace } from 'restmass'
 * stability(stateSpace({ A: [[0, 1], [-4, 0]], B: [[0], [1]], C: [[1, 0]] })).verdict // 'marginal'
 */
export function stability(system: LinearSystem): Stability {
  const scope = scopeOf('stability')
  return stabilityOf(scope, anySystem(within(scope, 'system'), system), preparedEigenvalues(system))
}

/** The same for a system that has been checked. */
export function stabilityOf(
  scope: Scope,
  system: StateSpace | DiscreteStateSpace,
  known: Eigenvalues | null = null,
): Stability {
  const discrete = system.kind === 'DiscreteStateSpace'
  if (!discrete && system.delays !== null) {
    if (delaysInRing(system.delays.D22)) {
      fail('unsupported', scope, 'cannot judge a ring of delays whose gain does not roll off')
    }
    return { kind: 'Stability', ...delayedStability(scope, system, system.delays), abscissa: null }
  }
  const poles = known ?? stateEigenvalues(scope, system)
  if (poles.re.length === 0) return { kind: 'Stability', verdict: 'stable', unstablePoles: 0, abscissa: null }
  // Of a discrete pole the abscissa is that of ln z over the sample time.
  const rates = Array.from(poles.re, (re, k) =>
    discrete ? Math.log(hypotenuse(re, poles.im[k])) / system.sampleTime : re,
  )
  const onBoundary = boundaryPoles(denseFrom(system.A, system.A.length), poles, discrete ? 'circle' : 'axis')
  const unstablePoles = rates.filter((rate, k) => rate > 0 && !onBoundary[k]).length
  const verdict = unstablePoles > 0 ? 'unstable' : onBoundary.includes(true) ? 'marginal' : 'stable'
  return { kind: 'Stability', verdict, unstablePoles, abscissa: Math.max(...rates) }
}

/** Whether a delayed signal feeds itself through delays and constants alone. */
function delaysInRing(direct: Matrix): boolean {
  const groups = strongComponents(direct.map((row) => row.flatMap((value, k) => (value === 0 ? [] : [k]))))
  return groups.some((group) => group.length > 1 || direct[group[0]][group[0]] !== 0)
}
