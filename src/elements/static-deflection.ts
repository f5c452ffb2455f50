import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link staticDeflection}. */
export interface StaticDeflectionOptions {
  /** Undamped natural frequency [Hz], above 0 */
  readonly naturalFrequency: number
  /** Stiffness in vibration over stiffness under slow load, at least 1; 1.1 to 2.5 for rubber. @defaultValue 1 */
  readonly dynamicRatio?: number
}

/** How far a linear spring sags under the mass that gives it a natural frequency: g · dynamicRatio / (2π · f)² [m].
 *
 * Holds for linear springs only: an air spring held at its height, or a preloaded nonlinear spring, has no such relation.
 * @param options - see {@link StaticDeflectionOptions}
 * @returns the deflection [m] under standard gravity
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: k · d = m · g and (2π · f)² = dynamicRatio · k / m
 * @example
 * import { staticDeflection } from 'restmass'
 * staticDeflection({ naturalFrequency: 5 }) // 0.00993621
 */
export function staticDeflection(options: StaticDeflectionOptions): number {
  const scope = scopeOf('staticDeflection')
  checkOptions(scope, options, ['naturalFrequency', 'dynamicRatio'])
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const dynamicRatio = checkOptional(scope, 'dynamicRatio', options.dynamicRatio, { atLeast: 1 }, 1)
  return finiteResult(scope, 'deflection', (standardGravity * dynamicRatio) / (2 * Math.PI * frequency) ** 2)
}
