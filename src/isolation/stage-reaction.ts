import { checkDirection, checkPoint } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { SampledMotion } from '../elements/sample-profile.js'
import { cross } from '../elements/vectors.js'
import { checkNumber, checkNumbers, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { type Axis, axes } from './six-axis-ports.js'

/** Options of {@link stageReaction}. */
export interface StageReactionOptions {
  /** Mass that moves [kg], above 0; it is part of the mass of the payload */
  readonly mass: number
  /** Its centre of mass before the move, in the frame of the payload [m] */
  readonly position: Point
  /** Where it moves to; any length above 0 */
  readonly direction: Point
  /** What it does along that direction, such as `sampleProfile` gives it [m], [m/s²] */
  readonly motion: Pick<SampledMotion, 'position' | 'acceleration'>
  /** Place at which the forces are given [m], as in `sixAxisIsolation`; there by default the centre of mass */
  readonly reference: Point
  /** Acceleration of free fall [m/s²], at least 0. @defaultValue 9.80665 */
  readonly gravity?: number
}

/** Force and moment of a moving stage, by the port that takes them, each one sample per sample of the motion. */
export type StageReaction = Readonly<Record<`reactionForce${Axis}`, Float64Array>>

/** What a moving stage does to the payload it stands on: reaction force and moment, and the weight that wanders.
 *
 * With the travel x along the unit vector d from r: F = −m·a·d, M = (r − reference) × F + x·d × (0, 0, −m·g). Along +x a stage
 * at height z over the reference gives M_y = m·g·x − m·a·z. The change of the payload's inertia is left out, a product of two
 * small things. Stay out of the reach of a stage that may move.
 * @param options - see {@link StageReactionOptions}
 * @returns inputs for `simulate` on a model of `sixAxisIsolation`: forces [N], moments [N·m]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`; `dimension-mismatch`
 * @source derived: Newton's third law, and the moment of a displaced weight
 * @example
 * import { stageReaction } from 'restmass'
 * const motion = { position: Float64Array.of(0, 0.2), acceleration: Float64Array.of(0, 0) }
 * const stage = { mass: 50, position: [0, 0, 0.4], direction: [1, 0, 0], reference: [0, 0, 0] } as const
 * stageReaction({ ...stage, motion }).reactionForceRy[1] // 98.0665
 */
export function stageReaction(options: StageReactionOptions): StageReaction {
  const scope = scopeOf('stageReaction')
  checkOptions(scope, options, ['mass', 'position', 'direction', 'motion', 'reference', 'gravity'])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const gravity = checkOptional(scope, 'gravity', options.gravity, { unit: 'm/s²', atLeast: 0 }, standardGravity)
  const position = checkPoint(scope, 'position', options.position)
  const reference = checkPoint(scope, 'reference', options.reference)
  const direction = checkDirection(scope, 'direction', options.direction)
  const at = within(scope, 'motion')
  if (typeof options.motion !== 'object' || options.motion === null) fail('invalid-option', at, 'must be a motion')
  const travel = checkNumbers(at, 'position', options.motion.position)
  const acceleration = checkNumbers(at, 'acceleration', options.motion.acceleration)
  if (travel.length !== acceleration.length) {
    const what = `must have ${travel.length} entries like position, got ${acceleration.length}`
    fail('dimension-mismatch', within(at, 'acceleration'), what)
  }
  const lever = position.map((value, i) => value - reference[i])
  const perAcceleration = [...direction, ...cross(lever, direction)].map((value) => -mass * value)
  const perTravel = [0, 0, 0, ...cross(direction, [0, 0, -mass * gravity])]
  const wrench = axes.map((axis, i): [string, Float64Array] => [
    `reactionForce${axis}`,
    Float64Array.from(travel, (x, n) => perAcceleration[i] * acceleration[n] + perTravel[i] * x),
  ])
  if (!wrench.every(([, forces]) => forces.every(Number.isFinite))) {
    fail('out-of-range', scope, 'has forces beyond the range of numbers')
  }
  return Object.fromEntries(wrench) as StageReaction
}
