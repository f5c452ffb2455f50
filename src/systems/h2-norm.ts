import { scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { delayFree, outputCovariance } from './stationary-covariance.js'
import type { LinearSystem } from './types.js'

/** H2 norm of a stable system: rms of all outputs together under unit white noise at all inputs.
 *
 * √(trace C X Cᵀ) with the covariance X of `stationaryCovariance`. Under a one-sided density S₀ the rms is √(S₀/2) times
 * this. Infinity for a continuous system with direct gain, which is the mathematical value.
 * @param plant - continuous without delays, or discrete; stable
 * @returns the norm, at least 0
 * @throws {@link IsolationError} `unstable`; `unsupported` with delays; `ill-conditioned`; `out-of-range`
 * beyond the range of numbers
 * @source K. Zhou, J. C. Doyle, K. Glover, Robust and Optimal Control, 1996, section 4.6
 * @example
 * import { h2Norm, stateSpace } from 'restmass'
 * h2Norm(stateSpace({ A: [[-2]], B: [[1]], C: [[1]] })) // 0.5
 */
export function h2Norm(plant: LinearSystem): number {
  const scope = scopeOf('h2Norm')
  const { system, direct } = delayFree(scope, plant)
  const { covariance, exponent } = outputCovariance(scope, system)
  if (direct && system.kind === 'StateSpace') return Number.POSITIVE_INFINITY
  let trace = 0
  for (let k = 0; k < covariance.rows; k++) trace += covariance.data[k * (covariance.rows + 1)]
  return trace > 0 ? finiteResult(scope, 'norm', Math.sqrt(trace) * 2 ** exponent) : 0
}
