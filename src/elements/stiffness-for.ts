import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link stiffnessFor}. */
export interface StiffnessForOptions {
  /** Suspended mass [kg], above 0 */
  readonly mass: number
  /** Undamped natural frequency wanted [Hz], above 0 */
  readonly naturalFrequency: number
}

/** Stiffness [N/m] that all mounts together need for a natural frequency, mass · (2π · naturalFrequency)².
 *
 * @param options - see {@link StiffnessForOptions}
 * @returns the total stiffness [N/m]; divide by the number of mounts for one of them
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter on the theory of vibration isolation
 * @example
 * import { stiffnessFor } from 'restmass'
 * stiffnessFor({ mass: 1000, naturalFrequency: 1.5 }) // 88826.440
 */
export function stiffnessFor(options: StiffnessForOptions): number {
  const scope = scopeOf('stiffnessFor')
  checkOptions(scope, options, ['mass', 'naturalFrequency'])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  return finiteResult(scope, 'stiffness', mass * (2 * Math.PI * frequency) ** 2)
}
