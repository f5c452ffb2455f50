import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { balancingScales, scaleStates } from '../linear/balance.js'
import { balancedSystem, type DelayedSystem, delayedSolver } from '../linear/delayed-solve.js'
import { type Dense, largest } from '../linear/dense.js'
import { diagonalBlocks } from '../linear/diagonal-blocks.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { strongComponents } from '../linear/strong-components.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { preparedEigenvalues } from './kernel-of.js'
import { stateEigenvalues } from './poles.js'
import { systemSeeds } from './system-seeds.js'
import type { DiscreteStateSpace, LinearSystem, Matrix, Stability, StateSpace } from './types.js'

const mostEvaluations = 1_000_000

/** Whether a system is stable, marginal or unstable, and how many poles lie right of the imaginary axis.
 *
 * Without delays the eigenvalues decide; a pole counts as on the axis within 16 ε times the largest entry of the balanced
 * diagonal blocks of the state matrix. With delays the zeros of the exact characteristic function are counted by its
 * turns along the axis, once right and once left of it at a distance of 1e-10 times the fastest pole; no approximation of
 * the delay takes part.
 * A discrete system is judged against the unit circle, within 64 ε times its size.
 * @param system - continuous or discrete; hidden modes count
 * @returns verdict, number of unstable poles and spectral abscissa [rad/s], null with delays or without states
 * @throws {@link IsolationError} `unsupported` where delays feed each other in a ring without roll-off; `no-convergence`
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
  if (system.kind === 'DiscreteStateSpace') return discreteStability(scope, system, known)
  if (system.delays !== null) {
    if (delaysInRing(system.delays.D22)) {
      fail('unsupported', scope, 'cannot judge a ring of delays whose gain does not roll off')
    }
    return delayedStability(scope, balancedSystem(denseSystem(system)))
  }
  const { re } = known ?? stateEigenvalues(scope, system)
  if (re.length === 0) return { kind: 'Stability', verdict: 'stable', unstablePoles: 0, abscissa: null }
  const tolerance = 16 * Number.EPSILON * balancedSize(denseSystem(system).A)
  const unstablePoles = re.filter((value) => value > tolerance).length
  const abscissa = re.reduce((largest, value) => Math.max(largest, value), Number.NEGATIVE_INFINITY)
  const verdict = unstablePoles > 0 ? 'unstable' : abscissa >= -tolerance ? 'marginal' : 'stable'
  return { kind: 'Stability', verdict, unstablePoles, abscissa }
}

/** Poles of a discrete system against the unit circle; the abscissa is that of ln z over the sample time. */
function discreteStability(scope: Scope, system: DiscreteStateSpace, known: Eigenvalues | null): Stability {
  const { re, im } = known ?? stateEigenvalues(scope, system)
  if (re.length === 0) return { kind: 'Stability', verdict: 'stable', unstablePoles: 0, abscissa: null }
  const size = Array.from(re, (real, k) => Math.hypot(real, im[k]))
  const tolerance = 64 * Number.EPSILON * Math.max(1, balancedSize(denseSystem(continuousForm(system)).A))
  const unstablePoles = size.filter((value) => value > 1 + tolerance).length
  const largest = Math.max(...size)
  const verdict = unstablePoles > 0 ? 'unstable' : largest >= 1 - tolerance ? 'marginal' : 'stable'
  return { kind: 'Stability', verdict, unstablePoles, abscissa: Math.log(largest) / system.sampleTime }
}

function balancedSize(A: Dense): number {
  return Math.max(0, ...diagonalBlocks(A).map((block) => largest(scaleStates(block, balancingScales(block)))))
}

function delayedStability(scope: Scope, system: DelayedSystem): Stability {
  const { open, fastest, seeds } = systemSeeds(scope, system, 0.25)
  const distance = 1e-10 * fastest
  const unstablePoles = zerosRightOf(scope, system, open, distance, seeds)
  const withAxis = zerosRightOf(scope, system, open, -distance, seeds)
  const verdict = unstablePoles > 0 ? 'unstable' : withAxis > 0 ? 'marginal' : 'stable'
  return { kind: 'Stability', verdict, unstablePoles, abscissa: null }
}

/** Number of zeros of the characteristic function with real part above `distance`, from its turns along that line.
 *
 * It is divided by the polynomial with the open poles mirrored to the left, which has no zeros there and makes it smooth.
 */
function zerosRightOf(
  scope: Scope,
  system: DelayedSystem,
  open: Eigenvalues,
  distance: number,
  seeds: number[],
): number {
  const solver = delayedSolver(system)
  let evaluations = 0
  const angle = (omega: number): number => {
    evaluations += 1
    let value = solver.characteristicAngle(distance, omega)
    for (let k = 0; k < open.re.length; k++) {
      value -= Math.atan2(omega - open.im[k], distance + Math.abs(open.re[k]) + 2 * Math.abs(distance))
    }
    if (!Number.isFinite(value) || evaluations > mostEvaluations) {
      fail('no-convergence', scope, `could not follow the characteristic function beyond ${omega / (2 * Math.PI)} Hz`)
    }
    return value
  }
  const start = angle(0)
  let turned = 0
  let left = { omega: 0, angle: start }
  for (const omega of seeds) {
    const right = { omega, angle: angle(omega) }
    turned += turnBetween(angle, left, right, 0)
    left = right
  }
  const count = -(turned + remainder(left.angle)) / Math.PI
  if (Math.abs(count - Math.round(count)) > 0.1 || count < -0.5) {
    fail('no-convergence', scope, `could not count the unstable poles (found ${count.toFixed(2)})`)
  }
  return Math.max(0, Math.round(count))
}

/** What is left to turn from the last sample to infinity, where the function tends to 1. */
function remainder(angle: number): number {
  return -wrapped(angle)
}

function turnBetween(
  angle: (omega: number) => number,
  left: { omega: number; angle: number },
  right: { omega: number; angle: number },
  depth: number,
): number {
  const turn = wrapped(right.angle - left.angle)
  const omega = left.omega + (right.omega - left.omega) / 2
  if (depth >= 60 || !(omega > left.omega && omega < right.omega)) return turn
  const middle = { omega, angle: angle(omega) }
  const first = wrapped(middle.angle - left.angle)
  const second = wrapped(right.angle - middle.angle)
  if (Math.abs(first) + Math.abs(second) < Math.PI / 3 && Math.abs(first + second - turn) < 1e-6) return turn
  return turnBetween(angle, left, middle, depth + 1) + turnBetween(angle, middle, right, depth + 1)
}

function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
}

/** Whether a delayed signal feeds itself through delays and constants alone. */
function delaysInRing(direct: Matrix): boolean {
  const groups = strongComponents(direct.map((row) => row.flatMap((value, k) => (value === 0 ? [] : [k]))))
  return groups.some((group) => group.length > 1 || direct[group[0]][group[0]] !== 0)
}
