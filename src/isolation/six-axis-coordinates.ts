import type { Point, RigidPayload } from '../elements/rigid-payload-types.js'
import { cross, dot, minus } from '../elements/vectors.js'
import { checkNumber, checkOneOf, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import { type Dense, denseFrom, multiply, transpose } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { type Axis, axes } from './six-axis-ports.js'

/** A force against the stretch of one coordinate, stiffness · (1 + integralRate/s). */
export interface SixAxisPosition {
  /** Force per displacement: [N/m], [N·m/rad] for a rotation, [1/s²] for a mode with its modal mass of 1 kg */
  readonly stiffness: number
  /** Rate at which it takes a lasting stretch away, before what it then changes [1/s], at least 0. @defaultValue 0 */
  readonly integralRate?: number
}

/** A loop in one decoupled coordinate: a mode of the payload, counted from 1 up in frequency, or an axis at the reference. */
export type SixAxisLoop = (
  | {
      /** Damping ratio that the loop adds to its coordinate, at least 0 */
      readonly dampingRatio: number
    }
  | {
      /** Force per velocity: [N·s/m], [N·m·s] for a rotation, [1/s] for a mode with its modal mass of 1 kg */
      readonly gain: number
    }
) &
  ({ readonly mode: number } | { readonly axis: Axis }) & {
    /** A position loop on top, from exact sensors between floor and payload. @defaultValue none */
    readonly position?: SixAxisPosition
  }

/** What the loops need to know of the payload, at the reference. */
export interface SixAxisPlant {
  readonly payload: RigidPayload
  readonly reference: Point
  readonly mass: Dense
  readonly stiffness: Dense
}

/** A coordinate q' = dual · v that a force of one unit drives with the wrench `dual`. */
export interface Coordinate {
  readonly at: Scope
  readonly name: string
  readonly dual: readonly number[]
  /** Force per velocity */
  readonly strength: number
  readonly position: null | { readonly stiffness: number; readonly integralRate: number }
}

export function coordinateOf(at: Scope, loop: SixAxisLoop, plant: SixAxisPlant): Coordinate {
  const given = checkOptions(at, loop, ['mode', 'axis', 'dampingRatio', 'gain', 'position']) as Partial<
    Record<'mode' | 'dampingRatio' | 'gain', number> & { readonly axis: Axis; readonly position: SixAxisPosition }
  >
  if ((given.mode === undefined) === (given.axis === undefined)) fail('invalid-option', at, 'needs either mode or axis')
  if ((given.gain === undefined) === (given.dampingRatio === undefined)) {
    fail('invalid-option', at, 'needs either gain or dampingRatio')
  }
  const { name, dual, scale } = given.axis === undefined ? modeOf(at, given.mode, plant) : axisOf(at, given.axis, plant)
  const position = given.position === undefined ? null : checkPosition(within(at, 'position'), given.position)
  if (given.gain !== undefined) return { at, name, dual, position, strength: checkNumber(at, 'gain', given.gain, {}) }
  const dampingRatio = checkNumber(at, 'dampingRatio', given.dampingRatio, { atLeast: 0 })
  if (!(scale > 0))
    fail('out-of-range', within(at, 'dampingRatio'), 'needs a coordinate that stands by itself; give gain')
  return { at, name, dual, position, strength: 2 * dampingRatio * Math.sqrt(scale) }
}

function checkPosition(at: Scope, position: SixAxisPosition) {
  checkOptions(at, position, ['stiffness', 'integralRate'])
  return {
    stiffness: checkNumber(at, 'stiffness', position.stiffness, {}),
    integralRate: checkOptional(at, 'integralRate', position.integralRate, { unit: '1/s', atLeast: 0 }, 0),
  }
}

/** A mode by its number: q = φᵀ M v, driven by M φ; 1 kg and ω². */
function modeOf(at: Scope, number: unknown, { payload, reference, mass }: SixAxisPlant) {
  const mode = payload.modes[checkNumber(at, 'mode', number, { integer: true, atLeast: 1, atMost: 6 }) - 1]
  const turning = mode.shape.slice(3)
  const shift = cross(turning, minus(reference, payload.centreOfMass))
  const shape = [...shift.map((value, i) => mode.shape[i] + value), ...turning]
  const dual = Array.from(
    multiply(
      mass,
      denseFrom(
        shape.map((value) => [value]),
        1,
      ),
    ).data,
  )
  return { name: mode.name, dual, scale: mode.frequency === null ? 0 : (2 * Math.PI * mode.frequency) ** 2 }
}

function axisOf(at: Scope, name: unknown, { mass, stiffness }: SixAxisPlant) {
  const axis = checkOneOf(at, 'axis', name, axes)
  const i = axes.indexOf(axis)
  return { name: axis, dual: axes.map((_, k) => (k === i ? 1 : 0)), scale: mass.data[7 * i] * stiffness.data[7 * i] }
}

/** For each coordinate the smallest factors with which lines of sensors or actuators add up to it; refuses what they
 * cannot tell from, or drive without, another. */
export function combined(
  at: Scope,
  rows: readonly (readonly number[])[],
  coordinates: readonly Coordinate[],
): number[][] {
  // Rotations count by the reach of the lines, so that neither metres nor radians are small.
  const reach = Math.max(Number.MIN_VALUE, ...rows.map((row) => Math.hypot(row[3], row[4], row[5])))
  const scaled = (row: readonly number[]) => row.map((value, i) => (i < 3 ? value : value / reach))
  const L = denseFrom(rows.map(scaled), 6)
  const gram = multiply(transpose(L), L)
  const eigen = symmetricEigen(at, gram)
  return coordinates.map(({ at: loop, name, dual }) => {
    const target = scaled(dual)
    const x = target.map(() => 0)
    for (let k = 0; k < 6; k++) {
      if (!(eigen.values[k] > 1e-12 * eigen.values[5])) continue
      const vector = target.map((_, i) => eigen.vectors.data[i * 6 + k])
      const factor = dot(vector, target) / eigen.values[k]
      vector.forEach((value, i) => {
        x[i] += factor * value
      })
    }
    const reached = multiply(
      gram,
      denseFrom(
        x.map((value) => [value]),
        1,
      ),
    ).data
    if (target.some((value, i) => Math.abs(value - reached[i]) > 1e-6 * Math.hypot(...target))) {
      const last = at.path.split('.').pop()
      fail(
        'singular',
        loop,
        `is ${name}, which the ${last} do not span apart from other motion; add ${last} or choose another axis`,
      )
    }
    return rows.map((row) => dot(scaled(row), x))
  })
}
