import {
  checkList,
  checkNumber,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { denseFrom } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { checkMatrix } from '../systems/check.js'
import type { Matrix } from '../systems/types.js'
import { checkAirSpring, checkMount } from './check-mount.js'
import type { PayloadSupport, Point, RigidPayload, RigidPayloadOptions, SupportOptions } from './rigid-payload-types.js'
import type { AirSpring, CanonicalMount } from './types.js'
import { cross, dot } from './vectors.js'

/** A support with every default filled in. */
export interface CheckedSupport extends Pick<PayloadSupport, 'position' | 'mount' | 'orientation' | 'valveGroup'> {
  /** Laws along the mount's own x, y, z */
  readonly laws: readonly [CanonicalMount, CanonicalMount, CanonicalMount]
  /** Its data, where the mount is an air spring */
  readonly air: AirSpring | null
}

export interface CheckedPayload extends Pick<RigidPayload, 'mass' | 'inertia' | 'centreOfMass' | 'gravity'> {
  readonly supports: readonly CheckedSupport[]
}

const given = ['mass', 'inertia', 'centreOfMass', 'supports', 'gravity']
const found = ['kind', 'deflection', 'tilt', 'stiffness', 'modes', 'tipping']
const givenOfSupport = ['position', 'mount', 'lateral', 'orientation', 'valveGroup']
const upright = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]

/** Checks options, or what was made from them before. */
export function checkPayloadOptions(scope: Scope, options: RigidPayloadOptions | RigidPayload): CheckedPayload {
  const isRecord = (options as Partial<RigidPayload> | undefined)?.kind === 'RigidPayload'
  checkOptions(scope, options, isRecord ? [...given, ...found] : given)
  const at = within(scope, 'supports')
  return {
    mass: checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 }),
    inertia: checkInertia(scope, options.inertia),
    centreOfMass: checkPoint(scope, 'centreOfMass', options.centreOfMass),
    gravity: checkOptional(scope, 'gravity', options.gravity, { unit: 'm/s²', atLeast: 0 }, standardGravity),
    supports: checkList<SupportOptions | PayloadSupport>(scope, 'supports', options.supports, 1).map((support, i) =>
      checkSupport(within(at, i), support, isRecord),
    ),
  }
}

/** Checks a place or direction of three finite numbers. */
export function checkPoint(scope: Scope, key: string | number, value: unknown): Point {
  const at = within(scope, key)
  if (!Array.isArray(value) || value.length !== 3) fail('invalid-option', at, `must be [x, y, z], got ${show(value)}`)
  return [0, 1, 2].map((i) => checkNumber(at, i, value[i], {})) as unknown as Point
}

/** Checks a direction and returns it with length 1. */
export function checkDirection(scope: Scope, key: string, value: unknown): Point {
  const [x, y, z] = checkPoint(scope, key, value)
  const length = Math.hypot(x, y, z)
  if (!(length > 0)) fail('out-of-range', within(scope, key), 'must have a length above 0')
  return [x / length, y / length, z / length]
}

function checkSupport(scope: Scope, support: SupportOptions | PayloadSupport, isRecord: boolean): CheckedSupport {
  checkOptions(scope, support, isRecord ? [...givenOfSupport, 'loadShare', 'load', 'deflection'] : givenOfSupport)
  const { mount, lateral, valveGroup } = support
  const axial = checkMount(within(scope, 'mount'), mount)
  const sides = lateral ?? (axial.lateral === undefined ? undefined : [axial.lateral, axial.lateral])
  const at = within(scope, 'lateral')
  if (!Array.isArray(sides) || sides.length !== 2) {
    fail('invalid-option', at, `must be two mounts, along x and y, unless mount.lateral is given; got ${show(lateral)}`)
  }
  return {
    position: checkPoint(scope, 'position', support.position),
    mount,
    orientation: checkRotation(scope, support.orientation),
    valveGroup: checkValveGroup(scope, isRecord ? (valveGroup ?? undefined) : valveGroup),
    laws: [checkMount(within(at, 0), sides[0]), checkMount(within(at, 1), sides[1]), axial].map(
      ({ lateral: _, ...law }) => law,
    ) as unknown as CheckedSupport['laws'],
    air: mount.kind === 'AirSpring' ? checkAirSpring(within(scope, 'mount'), mount) : null,
  }
}

/** Checks a name of a valve; absent it is null. */
export function checkValveGroup(scope: Scope, valveGroup: unknown): string | null {
  if (valveGroup === undefined) return null
  if (typeof valveGroup === 'string' && valveGroup !== '') return valveGroup
  fail('invalid-option', within(scope, 'valveGroup'), `must be a name, got ${show(valveGroup)}`)
}

function checkRotation(scope: Scope, orientation: unknown): Matrix {
  if (orientation === undefined) return upright
  const R = checkMatrix(scope, 'orientation', orientation, 3, 3)
  const [x, y, z] = [0, 1, 2].map((j) => R.map((row) => row[j]))
  const turned = cross(x, y)
  const isRotation = [Math.hypot(...x) - 1, Math.hypot(...y) - 1, dot(x, y), ...z.map((value, i) => value - turned[i])]
  if (isRotation.some((error) => Math.abs(error) > 1e-9)) {
    fail(
      'out-of-range',
      within(scope, 'orientation'),
      'must be a rotation: columns of length 1, at right angles, right-handed',
    )
  }
  return R
}

/** The tensor; its principal moments must be those of a body, each at most the sum of the other two. */
function checkInertia(scope: Scope, value: unknown): Matrix {
  const at = within(scope, 'inertia')
  const isDiagonal = Array.isArray(value) && !value.some(Array.isArray)
  const tensor = isDiagonal
    ? checkPoint(scope, 'inertia', value).map((moment, i) => upright[i].map((one) => one * moment))
    : checkMatrix(scope, 'inertia', value, 3, 3)
  const scale = Math.max(...tensor.flat().map(Math.abs))
  const symmetric = tensor.every((row, i) => row.every((entry, j) => Math.abs(entry - tensor[j][i]) <= 1e-12 * scale))
  const moments = symmetric ? symmetricEigen(at, denseFrom(tensor, 3)).values : undefined
  if (moments === undefined || !(moments[0] > 0) || moments[2] > (moments[0] + moments[1]) * (1 + 1e-9)) {
    const allowed = 'symmetric, with principal moments above 0, each at most the sum of the other two'
    fail('out-of-range', at, `must be ${allowed} [kg·m²]`, { allowed, unit: 'kg·m²' })
  }
  return tensor
}
