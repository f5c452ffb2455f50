import { checkNumber, checkOptional, checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkLateral, mountRecord } from './check-mount.js'
import type { CoilSurge, Mount, MountRecord } from './types.js'

/** Options of {@link springMount}: the elements themselves, or the mass and how it is to swing. */
export type SpringMountOptions = SpringMountElements | SpringMountBehaviour

/** What every spring mount may have besides. */
export interface SpringMountExtras {
  /** The mount sideways. @defaultValue not known */
  readonly lateral?: Mount
  /** The mass of the coils and what damps their own resonances. @defaultValue a spring without mass */
  readonly surge?: CoilSurgeOptions
}

/** Coils that vibrate by themselves. */
export interface CoilSurgeOptions {
  /** Mass of the coils that move [kg], above 0 */
  readonly mass: number
  /** Damping ratio of their resonances, at least 0; 0.002 to 0.02 for bare steel (common practice, no source) */
  readonly dampingRatio: number
  /** Number of resonances in the model, 1 to 20. @defaultValue 1 */
  readonly modes?: number
}

/** A spring mount by its elements. */
export interface SpringMountElements extends SpringMountExtras {
  /** Stiffness [N/m], above 0 */
  readonly stiffness: number
  /** Dashpot beside the spring [N·s/m], at least 0. @defaultValue 0 */
  readonly damping?: number
}

/** A spring mount by what the mass on it does. */
export interface SpringMountBehaviour extends SpringMountExtras {
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
 *
 * A coil spring is also a rod of its own mass m: with both ends held it resonates at n/2·√(k/m), n = 1, 2, …, and there passes
 * on far more than K says. `surge` puts the first `modes` of them into the model, exactly as the rod has them: for odd n a mass
 * 8m/(nπ)² sprung to the mean of the two ends, for even n a mass 2m/(nπ)² sprung to their difference.
 * @param options - see {@link SpringMountOptions}
 * @returns the mount
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter on the theory of vibration isolation; A. M. Wahl, Mechanical Springs,
 * 2nd edition 1963, chapter on surge (frequencies), from memory; derived by partial fractions of θ·cot θ and θ/sin θ (masses)
 * @example
 * import { springMount } from 'restmass'
 * springMount({ mass: 250, naturalFrequency: 1.5, dampingRatio: 0.1 }).damping // 471.239
 */
export function springMount(options: SpringMountOptions): MountRecord {
  const scope = scopeOf('springMount')
  checkOptions(scope, options, ['stiffness', 'damping', 'mass', 'naturalFrequency', 'dampingRatio', ...extras])
  const parts = 'stiffness' in options ? byElements(scope, options) : byBehaviour(scope, options)
  return mountRecord(scope, {
    ...parts,
    relaxations: [],
    ...surgeOf(scope, options.surge, parts.stiffness),
    ...checkLateral(scope, options.lateral),
  })
}

const extras = ['lateral', 'surge']

function byElements(scope: Scope, options: SpringMountElements) {
  checkOptions(scope, options, ['stiffness', 'damping', ...extras])
  return {
    stiffness: checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 }),
    damping: checkOptional(scope, 'damping', options.damping, { unit: 'N·s/m', atLeast: 0 }, 0),
  }
}

function byBehaviour(scope: Scope, options: SpringMountBehaviour) {
  checkOptions(scope, options, ['mass', 'naturalFrequency', 'dampingRatio', ...extras])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const dampingRatio = checkNumber(scope, 'dampingRatio', options.dampingRatio, { atLeast: 0 })
  const omega = 2 * Math.PI * frequency
  return { stiffness: mass * omega ** 2, damping: 2 * dampingRatio * mass * omega }
}

function surgeOf(scope: Scope, surge: CoilSurgeOptions | undefined, stiffness: number): { surge?: CoilSurge[] } {
  if (surge === undefined) return {}
  const at = within(scope, 'surge')
  checkOptions(at, surge, ['mass', 'dampingRatio', 'modes'])
  const mass = checkNumber(at, 'mass', surge.mass, { unit: 'kg', above: 0 })
  const naturalFrequency = finiteResult(at, 'frequency', Math.sqrt(stiffness / mass) / 2)
  const dampingRatio = checkNumber(at, 'dampingRatio', surge.dampingRatio, { atLeast: 0 })
  const modes = checkOptional(at, 'modes', surge.modes, { integer: true, atLeast: 1, atMost: 20 }, 1)
  return { surge: [{ mass, naturalFrequency, dampingRatio, modes }] }
}
