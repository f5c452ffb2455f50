import { checkNumber, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { checkLateral, mountRecord } from './check-mount.js'
import { optimalDamping } from './optimal-relaxation.js'
import type { Mount, MountRecord } from './types.js'

/** Options of {@link relaxationMount}. */
export interface RelaxationMountOptions {
  /** Stiffness of the main spring, K(0) [N/m], above 0 */
  readonly stiffness: number
  /** Stiffness of the spring that supports the damper over that of the main spring, above 0 */
  readonly stiffnessRatio: number
  /** Dashpot [N·s/m], above 0, or 'optimal' for the lowest peak of absolute transmissibility under `mass` */
  readonly damping: number | 'optimal'
  /** Mass that one mount carries [kg], above 0; needed for 'optimal'. @defaultValue none */
  readonly mass?: number
  /** The mount sideways. @defaultValue not known */
  readonly lateral?: Mount
}

/** A spring with an elastically supported damper beside it (relaxation isolator, standard linear solid).
 *
 * K(s) = k + c·s / (1 + (c/k₁)·s), k₁ = stiffnessRatio·k. It damps the resonance and still isolates with slope −2. The
 * optimum, c/(2√(k·m)) = N/(4(N + 1))·√(2(N + 2)), gives a peak of 1 + 2/N; |T| falls to 1 only well above √2·f₀.
 * @param options - see {@link RelaxationMountOptions}
 * @returns the mount, with one relaxing branch
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958; M. J. Brennan et al.,
 * On the dynamic behaviour of a mass supported by a parallel combination of a spring and an elastically connected damper,
 * J. Sound Vib. 309, 2008
 * @example
 * import { relaxationMount } from 'restmass'
 * const mount = relaxationMount({ stiffness: 1e4, stiffnessRatio: 3, damping: 'optimal', mass: 100 })
 * mount.relaxations[0].time // 0.0395285
 */
export function relaxationMount(options: RelaxationMountOptions): MountRecord {
  const scope = scopeOf('relaxationMount')
  checkOptions(scope, options, ['stiffness', 'stiffnessRatio', 'damping', 'mass', 'lateral'])
  const stiffness = checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 })
  const stiffnessRatio = checkNumber(scope, 'stiffnessRatio', options.stiffnessRatio, { above: 0 })
  const mass =
    options.mass === undefined ? undefined : checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const damping = dampingOf(scope, options.damping, stiffness, stiffnessRatio, mass)
  const supporting = stiffnessRatio * stiffness
  return mountRecord(scope, {
    stiffness,
    damping: 0,
    relaxations: [{ stiffness: supporting, time: damping / supporting }],
    ...checkLateral(scope, options.lateral),
  })
}

function dampingOf(
  scope: Scope,
  damping: number | 'optimal',
  stiffness: number,
  stiffnessRatio: number,
  mass: number | undefined,
): number {
  if (damping === 'optimal') {
    if (mass === undefined) fail('invalid-option', within(scope, 'mass'), "is needed where damping is 'optimal' [kg]")
    return optimalDamping(stiffnessRatio, stiffness, mass)
  }
  if (typeof damping === 'string') {
    fail('invalid-option', within(scope, 'damping'), `must be a number [N·s/m] or 'optimal', got '${damping}'`)
  }
  return checkNumber(scope, 'damping', damping, { unit: 'N·s/m', above: 0 })
}
