import type { Mount } from '../elements/types.js'
import { checkNumber, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { checkPayload, type PayloadOptions } from './bodies.js'
import { feedbackStorey } from './feedback-storey.js'
import type { FloorOptions } from './floor-mobility.js'
import type { ActuatorOptions, SensorOptions } from './inertial-path.js'
import type { LevellingOptions } from './levelling.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'

/** Active damping: a force against the velocity of the payload. */
export interface ActiveDampingOptions {
  /** Force per velocity [N·s/m], positive damps; give this or `dampingRatio` */
  readonly gain?: number
  /** Damping ratio that the force adds, at least 0: gain = 2 · dampingRatio · √(count · mount.stiffness · m) */
  readonly dampingRatio?: number
  /** @defaultValue an exact velocity sensor */
  readonly sensor?: SensorOptions
  /** @defaultValue an exact actuator */
  readonly actuator?: ActuatorOptions
  /** Delay of the loop [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** Options of {@link activelyDampedIsolation}. */
export interface ActivelyDampedIsolationOptions {
  readonly payload: PayloadOptions
  readonly mount: Mount
  /** Number of mounts in parallel, above 0. @defaultValue 1 */
  readonly count?: number
  /** Height control; needs an air spring. @defaultValue none */
  readonly levelling?: LevellingOptions
  readonly damping: ActiveDampingOptions
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions
}

/** Model of a payload on mounts, with a force that damps its motion in space.
 *
 *     force on the payload = −g A e^(−sτ) S v
 *     T = K/(m s² + K + s g A S e^(−sτ)),  L = g A S e^(−sτ) s/(m s² + K)
 *
 * A loop that runs away moves a heavy load: limit force and stroke in hardware and follow local safety practice.
 * @param options - see {@link ActivelyDampedIsolationOptions}
 * @returns the diagram and the closed model; main loop `damping`
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`; `unsupported` for a sensor that does not
 * measure velocity
 * @source D. Karnopp, M. J. Crosby, R. A. Harwood, J. Engineering for Industry 96 (1974) 619
 * @example
 * import { activelyDampedIsolation, isolationSummary } from 'restmass'
 * const mount = { stiffness: 1e6, damping: 0 }
 * const model = activelyDampedIsolation({ payload: { mass: 1000 }, mount, damping: { dampingRatio: 1 } })
 * isolationSummary(model).peak // 1.000
 */
export function activelyDampedIsolation(options: ActivelyDampedIsolationOptions): IsolationModel {
  return closeStorey(activelyDampedStorey(scopeOf('activelyDampedIsolation'), options, 0))
}

export function activelyDampedStorey(scope: Scope, options: ActivelyDampedIsolationOptions, above: number): Storey {
  checkOptions(scope, options, ['payload', 'mount', 'count', 'levelling', 'damping', 'floor'])
  const at = within(scope, 'damping')
  const { damping } = options
  checkOptions(at, damping, ['gain', 'dampingRatio', 'sensor', 'actuator', 'delay'])
  if ((damping.gain === undefined) === (damping.dampingRatio === undefined)) {
    fail('invalid-option', at, 'needs either gain or dampingRatio')
  }
  const { mass } = checkPayload(scope, options.payload)
  return feedbackStorey(scope, options, {
    concept: 'activelyDamped',
    loop: 'damping',
    at,
    path: damping,
    above,
    gains: (stiffness) => ({
      velocityGain:
        damping.gain === undefined
          ? 2 * checkNumber(at, 'dampingRatio', damping.dampingRatio, { atLeast: 0 }) * Math.sqrt(stiffness * mass)
          : checkNumber(at, 'gain', damping.gain, { unit: 'N·s/m' }),
      accelerationGain: 0,
    }),
  })
}
