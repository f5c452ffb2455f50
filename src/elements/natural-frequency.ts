import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link naturalFrequency}. */
export interface NaturalFrequencyOptions {
  /** Suspended mass [kg], above 0 */
  readonly mass: number
  /** Stiffness of all mounts together [N/m], above 0 */
  readonly stiffness: number
}

/** Undamped natural frequency [Hz] of a mass on a spring, √(stiffness/mass) / 2π.
 *
 * @param options - see {@link NaturalFrequencyOptions}
 * @returns the frequency [Hz]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter on the theory of vibration isolation
 * @example
 * import { naturalFrequency } from 'restmass'
 * naturalFrequency({ mass: 1000, stiffness: 39478.4176 }) // 1.0000
 */
export function naturalFrequency(options: NaturalFrequencyOptions): number {
  const scope = scopeOf('naturalFrequency')
  checkOptions(scope, options, ['mass', 'stiffness'])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const stiffness = checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 })
  return finiteResult(scope, 'frequency', Math.sqrt(stiffness) / Math.sqrt(mass) / (2 * Math.PI))
}
