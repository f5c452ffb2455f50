import { checkProfile } from '../elements/motion-phases.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import { checkNumber, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'

/** A stage that moves on the payload. */
export interface Move {
  /** From `motionProfile` */
  readonly profile: MotionProfile
  /** What the stage moves [kg], above 0 */
  readonly movingMass: number
  /** Direction of the move in six axes; not judged on one axis */
  readonly direction?: readonly [number, number, number]
  /** Where the stage is in six axes [m]; not judged on one axis */
  readonly position?: readonly [number, number, number]
  /** Time from the start of one move to that of the next in an endless row [s], at least the move. @defaultValue one move
   * from rest */
  readonly repeatEvery?: number
}

/** A move along the axis of the model, checked. */
export interface CheckedMove {
  readonly profile: MotionProfile
  readonly movingMass: number
  /** null for a single move */
  readonly repeatEvery: number | null
}

export function checkMove(scope: Scope, move: Move): CheckedMove {
  checkOptions(scope, move, ['profile', 'movingMass', 'direction', 'position', 'repeatEvery'])
  for (const key of ['direction', 'position'] as const) {
    if (move[key] !== undefined) fail('unsupported', within(scope, key), 'has no meaning for a model of one axis')
  }
  const profile = checkProfile(within(scope, 'profile'), move.profile)
  return {
    profile,
    movingMass: checkNumber(scope, 'movingMass', move.movingMass, { unit: 'kg', above: 0 }),
    repeatEvery: checkOptional(scope, 'repeatEvery', move.repeatEvery, { unit: 's', atLeast: profile.duration }, null),
  }
}
