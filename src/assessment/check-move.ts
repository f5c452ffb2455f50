import { checkProfile } from '../elements/motion-phases.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import { checkDirection, checkPoint } from '../elements/rigid-payload-options.js'
import { cross } from '../elements/vectors.js'
import { checkNumber, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { sixNames } from '../isolation/six-axis-ports.js'
import type { PushPorts } from './move-response.js'

/** A stage that moves on the payload. */
export interface Move {
  /** From `motionProfile` */
  readonly profile: MotionProfile
  /** What the stage moves [kg], above 0 */
  readonly movingMass: number
  /** Direction of the move; needed in six axes, without meaning on one. Need not have unit length */
  readonly direction?: readonly [number, number, number]
  /** Centre of the moving mass at the start, from the reference of the model [m]; needed in six axes, without meaning on
   * one */
  readonly position?: readonly [number, number, number]
  /** Time from the start of one move to that of the next in an endless row [s], at least the move; on one axis.
   * @defaultValue one move from rest */
  readonly repeatEvery?: number
}

/** A move, checked, with the inputs of the model it acts on. */
export interface CheckedMove extends Pick<PushPorts, 'force' | 'weight'> {
  readonly profile: MotionProfile
  readonly movingMass: number
  /** null for a single move */
  readonly repeatEvery: number | null
}

export function checkMove(scope: Scope, move: Move, axes: 'one' | 'six'): CheckedMove {
  checkOptions(scope, move, ['profile', 'movingMass', 'direction', 'position', 'repeatEvery'])
  const profile = checkProfile(within(scope, 'profile'), move.profile)
  const movingMass = checkNumber(scope, 'movingMass', move.movingMass, { unit: 'kg', above: 0 })
  const repeatEvery = checkOptional(
    scope,
    'repeatEvery',
    move.repeatEvery,
    { unit: 's', atLeast: profile.duration },
    null,
  )
  return {
    profile,
    movingMass,
    repeatEvery,
    ...(axes === 'one' ? alone(scope, move) : inSpace(scope, move, movingMass)),
  }
}

function alone(scope: Scope, move: Move): Pick<PushPorts, 'force' | 'weight'> {
  for (const key of ['direction', 'position'] as const) {
    if (move[key] !== undefined) fail('unsupported', within(scope, key), 'has no meaning for a model of one axis')
  }
  return { force: [['reactionForce', 1]], weight: [] }
}

/** A force along d at r has the moment r × d; a weight W that wanders along d has W·(−d_y, d_x, 0) per metre. */
function inSpace(scope: Scope, move: Move, movingMass: number): Pick<PushPorts, 'force' | 'weight'> {
  if (move.repeatEvery !== undefined) {
    fail('unsupported', within(scope, 'repeatEvery'), 'is for one axis: in six each move shifts the weight further')
  }
  const direction = checkDirection(scope, 'direction', move.direction)
  const lever = checkPoint(scope, 'position', move.position)
  const weight = movingMass * standardGravity
  const shares = [...direction, ...cross(lever, direction)]
  return {
    force: sixNames('reactionForce').map((name, k) => [name, shares[k]]),
    weight: [
      ['payloadForceRx', -weight * direction[1]],
      ['payloadForceRy', weight * direction[0]],
    ],
  }
}
