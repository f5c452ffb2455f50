import type { Mount } from '../elements/types.js'
import { checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { negative } from '../systems/wire-sources.js'
import { checkPayload, type PayloadOptions } from './bodies.js'
import { onFloor } from './floor.js'
import type { FloorOptions } from './floor-mobility.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'
import { type SuspensionOptions, suspension } from './suspension.js'

/** Options of {@link passiveIsolation}. */
export interface PassiveIsolationOptions {
  readonly payload: PayloadOptions
  /** One mount; its assembled static stiffness must be above 0 */
  readonly mount: Mount
  /** Number of mounts in parallel, above 0. @defaultValue 1 */
  readonly count?: number
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions
}

/** Model of a payload on passive mounts, vertical axis.
 *
 *     payload  m
 *       | K(s) · count
 *     floor
 *
 * T = K/(m s² + K), compliance 1/(m s² + K).
 * @param options - see {@link PassiveIsolationOptions}
 * @returns the diagram and the closed model; no loops
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Harris' Shock and Vibration Handbook, chapter "Theory of vibration isolation"
 * @example
 * import { isolationSummary, passiveIsolation, springMount } from 'restmass'
 * const mount = springMount({ mass: 100, naturalFrequency: 5, dampingRatio: 0.1 })
 * const model = passiveIsolation({ payload: { mass: 100 }, mount })
 * isolationSummary(model).isolationFrom // 7.071
 */
export function passiveIsolation(options: PassiveIsolationOptions): IsolationModel {
  return closeStorey(passiveStorey(scopeOf('passiveIsolation'), options, 0))
}

/** A passive or pneumatic storey that carries `above` kilograms on its payload. */
export function passiveStorey(scope: Scope, options: PassiveIsolationOptions, above: number): Storey {
  checkOptions(scope, options, ['payload', 'mount', 'count', 'floor'])
  return suspendedStorey('passive', scope, options, above)
}

export function suspendedStorey(
  concept: 'passive' | 'pneumatic',
  scope: Scope,
  options: SuspensionOptions & { readonly payload: PayloadOptions; readonly floor?: FloorOptions },
  above: number,
): Storey {
  const payload = checkPayload(scope, options.payload)
  const weight = payload.mass + above
  const springs = suspension(scope, options, weight, ['payload.velocity', '-floorVelocity'])
  return onFloor(scope, options.floor, {
    concept,
    diagram: {
      blocks: { payload: payload.block, ...springs.blocks },
      inputs: ['floorVelocity', 'payloadForce', 'reactionForce'],
      outputs: { payloadVelocity: payload.velocity, stretch: springs.stretch, floorForce: springs.lowerTension },
      wires: {
        ...springs.wires,
        ...payload.driven(springs.tension.map(negative), [], ['payloadForce', 'reactionForce']),
      },
    },
    loops: springs.loops,
    noiseSources: [],
    limits: springs.limits,
    weight,
    floorLoops: [],
  })
}
