import { checkNumber, checkOptional, checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { mountRecord } from './check-mount.js'
import type { MountRecord } from './types.js'

/** Options of {@link springMount}: the elements themselves, or the mass and how it is to swing. */
export type SpringMountOptions = SpringMountElements | SpringMountBehaviour

/** A spring mount by its elements. */
export interface SpringMountElements {
  /** Stiffness [N/m], above 0 */
  readonly stiffness: number
  /** Dashpot beside the spring [N·s/m], at least 0. @defaultValue 0 */
  readonly damping?: number
}

/** A spring mount by what the mass on it does. */
export interface SpringMountBehaviour {
  /** Mass that one mount carries [kg], above 0 */
  readonly mass: number
  /** Undamped natural frequency [Hz], above 0 */
  readonly naturalFrequency: number
  /** Fraction of critical damping, at least 0 */
  readonly dampingRatio: number
}

/** A spring with a dashpot beside it, K(s) = stiffness + damping·s.
 *
 * From a mass: stiffness = m·ω₀², damping = 2·dampingRatio·m·ω₀, ω₀ = 2π·naturalFrequency. For a negative (magnetic) spring
 * write the mount as a literal.
 * @param options - see {@link SpringMountOptions}
 * @returns the mount
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter on the theory of vibration isolation
 * @example
 * import { springMount } from 'restmass'
 * springMount({ mass: 250, naturalFrequency: 1.5, dampingRatio: 0.1 }).damping // 471.239
 */
export function springMount(options: SpringMountOptions): MountRecord {
  const scope = scopeOf('springMount')
  checkOptions(scope, options, ['stiffness', 'damping', 'mass', 'naturalFrequency', 'dampingRatio'])
  const parts = 'stiffness' in options ? byElements(scope, options) : byBehaviour(scope, options)
  return mountRecord(scope, { ...parts, relaxations: [] })
}

function byElements(scope: Scope, options: SpringMountElements) {
  checkOptions(scope, options, ['stiffness', 'damping'])
  return {
    stiffness: checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 }),
    damping: checkOptional(scope, 'damping', options.damping, { unit: 'N·s/m', atLeast: 0 }, 0),
  }
}

function byBehaviour(scope: Scope, options: SpringMountBehaviour) {
  checkOptions(scope, options, ['mass', 'naturalFrequency', 'dampingRatio'])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const dampingRatio = checkNumber(scope, 'dampingRatio', options.dampingRatio, { atLeast: 0 })
  const omega = 2 * Math.PI * frequency
  return { stiffness: mass * omega ** 2, damping: 2 * dampingRatio * mass * omega }
}
