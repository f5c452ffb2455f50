import { checkOptional, checkOptions, fail, must, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { type Dense, largest, multiply, rowsOf, sum, times, transpose } from '../linear/dense.js'
import { lyapunov } from '../linear/lyapunov.js'
import { powerOfTwo } from '../linear/power-of-two.js'
import { stein } from '../linear/stein.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { refuseDelays } from './poles.js'
import { stabilityOf } from './stability.js'
import type { DiscreteStateSpace, LinearSystem, StateSpace } from './types.js'

/** Options of {@link stationaryCovariance}. */
export interface StationaryCovarianceOptions {
  /** Intensity W of the white noise at every input, E[w wᵀ] = W δ, at least 0; a one-sided density is twice that.
   * @defaultValue 1 */
  readonly intensity?: number
}

/** An exponent that any two numbers together stay above. */
const belowAll = -3000

/** Covariance of the outputs of a stable system under white noise at all its inputs, in the steady state.
 *
 * C X Cᵀ with A X + X Aᵀ + W B Bᵀ = 0, solved on the real Schur form of the balanced system; discrete: X = A X Aᵀ + W B Bᵀ
 * and D W Dᵀ added. A continuous output with direct gain has no finite variance.
 * @param plant - continuous without delays, or discrete; stable
 * @param options - see {@link StationaryCovarianceOptions}
 * @returns p × p [output unit²]
 * @throws {@link IsolationError} `unstable`; `improper` for a continuous system with direct gain; `unsupported` with delays;
 * `ill-conditioned` where the equation has no digits left
 * @source R. H. Bartels, G. W. Stewart, Comm. ACM 15 (1972) 820; H. Kwakernaak, R. Sivan, Linear Optimal Control Systems,
 * 1972, section 1.11
 * @example
 * import { stateSpace, stationaryCovariance } from 'restmass'
 * stationaryCovariance(stateSpace({ A: [[-2]], B: [[1]], C: [[1]] }))[0][0] // 0.25
 */
export function stationaryCovariance(plant: LinearSystem, options: StationaryCovarianceOptions = {}): number[][] {
  const scope = scopeOf('stationaryCovariance')
  checkOptions(scope, options, ['intensity'])
  const intensity = checkOptional(scope, 'intensity', options.intensity, { atLeast: 0 }, 1)
  const { system, direct } = delayFree(scope, plant)
  if (direct && system.kind === 'StateSpace') {
    fail('improper', within(scope, 'system'), 'has a direct gain: white noise through it has no finite variance')
  }
  const { covariance, exponent } = outputCovariance(scope, system)
  const unit = 2 ** exponent
  const scaled = covariance.data.map((entry) =>
    entry === 0 ? 0 : finiteResult(scope, 'covariance', entry * intensity * unit * unit),
  )
  return rowsOf({ ...covariance, data: scaled })
}

/** The checked state-space form of a system without delays, and whether any entry of D is not zero. */
export function delayFree(
  scope: Scope,
  plant: LinearSystem,
): { system: StateSpace | DiscreteStateSpace; direct: boolean } {
  const system = anySystem(within(scope, 'system'), plant)
  if (system.kind === 'StateSpace') refuseDelays(scope, system)
  return { system, direct: system.D.some((row) => row.some((value) => value !== 0)) }
}

/** C X Cᵀ under unit white noise, D Dᵀ added for a discrete system, over the square of a power of two: no unit of inputs and
 * outputs takes it beyond the range of numbers. */
export function outputCovariance(
  scope: Scope,
  system: StateSpace | DiscreteStateSpace,
): { covariance: Dense; exponent: number } {
  const { verdict } = stabilityOf(scope, system)
  if (verdict !== 'stable') fail('unstable', within(scope, 'system'), `is ${verdict}; it has no steady state`)
  const discrete = system.kind === 'DiscreteStateSpace'
  const balanced = balancedSystem(denseSystem(discrete ? continuousForm(system) : system))
  const [B, C, D] = [balanced.B, balanced.C, balanced.D].map(evened)
  const drive = multiply(B.matrix, transpose(B.matrix))
  const says = 'cannot solve the covariance equation: poles are too close to the stability limit'
  const X = must(discrete ? stein(balanced.A, drive) : lyapunov(balanced.A, drive), 'ill-conditioned', scope, says)
  const through = multiply(multiply(C.matrix, X), transpose(C.matrix))
  const exponent = B.exponent + C.exponent
  if (!discrete) return { covariance: through, exponent }
  const most = Math.max(exponent, D.exponent)
  const direct = times(multiply(D.matrix, transpose(D.matrix)), 4 ** (D.exponent - most))
  return { covariance: sum(times(through, 4 ** (exponent - most)), direct), exponent: most }
}

/** A matrix over 2^exponent, which is near its largest entry. */
function evened(matrix: Dense): { matrix: Dense; exponent: number } {
  const size = largest(matrix)
  const exponent = size === 0 ? belowAll : Math.round(Math.log2(size))
  return { matrix: times(matrix, powerOfTwo(-exponent)), exponent }
}
