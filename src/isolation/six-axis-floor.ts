import { checkPoint } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import { dot } from '../elements/vectors.js'
import { checkNumbers, checkOptions, fail, type Scope, show, within } from '../internal/check.js'
import type { StateSpace } from '../systems/types.js'
import {
  checkModes,
  checkObject,
  type FloorBody,
  type FloorMode,
  type FloorModes,
  mobilityOf,
  type Oscillator,
  oscillatorsOf,
  ownMobility,
  withFree,
} from './floor-mobility.js'
import type { Storey } from './model.js'
import { transfer } from './seated.js'
import { type Axis, axes, measuresFloor } from './six-axis-ports.js'

/** One mode of a floor in six axes. */
export interface SixAxisFloorMode extends Omit<FloorMode, 'neighbourShape'> {
  /** Motion x, y, z [1] and rotation [rad/m] of the place of the isolation in this mode: six numbers */
  readonly shape: readonly number[]
  /** The same where a neighbour stands. @defaultValue six zeros */
  readonly neighbourShape?: readonly number[]
}

/** A floor that gives way in six axes.
 *
 * By axis a body or modes, for a rotation with moment of inertia [kg·m²], [N·m/rad] and [N·m·s] in place of mass, stiffness
 * and damping; axes that are not named do not give way. Or modes by their shapes. Or a mobility of your own from six forces
 * to six velocities, and six more where a neighbour stands; with it `stretch` misses what its rotation adds. Stiffness
 * against tilt is that with the payload standing there, its weight counted.
 */
export type SixAxisFloorOptions =
  | {
      readonly axes: Readonly<Partial<Record<Axis, FloorBody | FloorModes>>>
      /** Where the floor turns [m]. @defaultValue the reference of the model; in a stack that of the lowest storey */
      readonly position?: Point
    }
  | {
      readonly modes: readonly SixAxisFloorMode[]
      readonly position?: Point
    }
  | StateSpace

/** The block `floor` at the reference, with the angle that its own modes add. */
export function sixAxisFloorBlock(
  scope: Scope,
  floor: SixAxisFloorOptions,
  { diagram }: Storey,
  reference: Point,
): StateSpace {
  checkObject(scope, floor, '{ axes }, { modes } or a StateSpace')
  if ('kind' in floor) {
    if (measuresFloor(diagram)) {
      fail(
        'unsupported',
        scope,
        'must be given by axes or modes under valves, shared lines and position loops, which need its angle',
      )
    }
    return withFree(ownMobility(scope, floor, 6), axes)
  }
  const byAxis = 'axes' in floor
  checkOptions(scope, floor as { axes?: unknown; modes?: unknown; position?: Point }, [
    'position',
    byAxis ? 'axes' : 'modes',
  ])
  const up = transfer(
    reference,
    floor.position === undefined ? reference : checkPoint(scope, 'position', floor.position),
  )
  const moved = (byAxis ? axisOscillators(scope, floor.axes) : shapedOscillators(scope, floor.modes)).map((mode) => ({
    ...mode,
    shape: up.map((row) => dot(row, mode.shape)),
  }))
  const block = withFree(mobilityOf(moved), axes)
  const tilts = [3, 4].map((axis) => moved.flatMap(({ shape }) => [shape[axis], 0]))
  return {
    ...block,
    C: [...block.C, ...tilts],
    D: [...block.D, ...tilts.map(() => block.inputs.map(() => 0))],
    outputs: [...block.outputs, 'tiltRx', 'tiltRy'],
  }
}

function axisOscillators(scope: Scope, given: Readonly<Partial<Record<Axis, FloorBody | FloorModes>>>): Oscillator[] {
  const at = within(scope, 'axes')
  checkOptions(at, given, axes)
  const named = axes.filter((axis) => given[axis] !== undefined)
  if (named.length === 0) fail('invalid-option', at, `must name one of ${axes.join(', ')}`)
  return named.flatMap((axis) => {
    const here = within(at, axis)
    const own = given[axis] as FloorBody | FloorModes
    checkObject(here, own, '{ mass, stiffness } or { modes }')
    const along = ([value]: readonly number[]) => axes.map((name) => (name === axis ? value : 0))
    return oscillatorsOf(here, own).map((mode) => ({
      ...mode,
      shape: along(mode.shape),
      neighbour: along(mode.neighbour),
    }))
  })
}

function shapedOscillators(scope: Scope, modes: readonly SixAxisFloorMode[]): Oscillator[] {
  const six = (at: Scope, key: string, value: unknown) => {
    const numbers = Array.from(checkNumbers(at, key, value as number[]))
    if (numbers.length === 6) return numbers
    return fail('dimension-mismatch', within(at, key), `must have 6 entries, got ${show(numbers.length)}`)
  }
  return checkModes(scope, modes, ['shape', 'neighbourShape'], (here, { shape, neighbourShape }) => ({
    shape: six(here, 'shape', shape),
    neighbour: neighbourShape === undefined ? axes.map(() => 0) : six(here, 'neighbourShape', neighbourShape),
  }))
}
