import {
  checkList,
  checkNumber,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { finiteResult } from '../internal/finite-result.js'
import { type Dense, zeros } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { checkPoint, checkValveGroup } from './rigid-payload-options.js'
import type { Point } from './rigid-payload-types.js'
import { dot } from './vectors.js'

/** Options of {@link supportLoads}. */
export interface SupportLoadsOptions {
  /** Mass [kg], above 0 */
  readonly mass: number
  /** Centre of mass [m] */
  readonly centreOfMass: Point
  /** At least one */
  readonly supports: readonly SupportPoint[]
  /** Acceleration of free fall [m/s²], above 0. @defaultValue 9.80665 */
  readonly gravity?: number
}

/** A support as far as the load is concerned. */
export interface SupportPoint {
  /** Where it takes hold of the payload [m] */
  readonly position: Point
  /** Vertical stiffness [N/m], above 0; only ratios count, and only with more than three points. @defaultValue 1 */
  readonly stiffness?: number
  /** Supports that name the same valve carry the same load. @defaultValue a valve of its own */
  readonly valveGroup?: string
}

/** What each support of a payload carries: three points by statics alone, more by their stiffness, all at one height.
 *
 * Vertical forces that balance the weight, Σ N = m·g, Σ N·(x − x_c) = 0, Σ N·(y − y_c) = 0, with N = k·(w + θ_x·y − θ_y·x).
 * Supports with a common valve count as one point at their middle. For sizing air springs before there are any: give each
 * its load. Under a heavy load leave a margin, and lock or block it while anyone works beneath.
 * @param options - see {@link SupportLoadsOptions}
 * @returns load of each support [N], in their order, all above 0
 * @throws {@link IsolationError} `invalid-option`, `not-finite`; `out-of-range` where the centre of mass lies outside the
 * supports or a support would have to pull
 * @source common statics; J. L. Meriam, L. G. Kraige, Engineering Mechanics: Statics, chapter on equilibrium in space
 * @example
 * import { supportLoads } from 'restmass'
 * const supports = [{ position: [-1, 0, 0] }, { position: [1, -1, 0] }, { position: [1, 1, 0] }] as const
 * supportLoads({ mass: 100, centreOfMass: [0.5, 0, 0.3], supports })[0] // 245.17
 */
export function supportLoads(options: SupportLoadsOptions): number[] {
  const scope = scopeOf('supportLoads')
  checkOptions(scope, options, ['mass', 'centreOfMass', 'supports', 'gravity'])
  const mass = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const gravity = checkOptional(scope, 'gravity', options.gravity, { unit: 'm/s²', above: 0 }, standardGravity)
  const at = within(scope, 'supports')
  const feet = checkList(scope, 'supports', options.supports, 1).map((support, i) => {
    const foot = within(at, i)
    checkOptions(foot, support, ['position', 'stiffness', 'valveGroup'])
    return {
      position: checkPoint(foot, 'position', support.position),
      stiffness: checkOptional(foot, 'stiffness', support.stiffness, { unit: 'N/m', above: 0 }, 1),
      valveGroup: checkValveGroup(foot, support.valveGroup),
      preset: 0,
      part: 1,
    }
  })
  return standingLoads(
    scope,
    mass * gravity,
    checkPoint(scope, 'centreOfMass', options.centreOfMass),
    feet,
  ).loads.slice()
}

/** A support that carries `preset` at its height and `stiffness` more per sinking. */
export interface Foot {
  readonly position: Point
  readonly stiffness: number
  readonly valveGroup: string | null
  readonly preset: number
  /** Weight of the support within its group */
  readonly part: number
}

/** Where supports with a common valve act as one, with the part of the load that each takes. */
export interface Carrier {
  readonly members: readonly { readonly index: number; readonly part: number }[]
  readonly place: readonly number[]
}

/** Supports that share a valve as one carrier, every other by itself. */
export function carriersOf(feet: readonly Pick<Foot, 'position' | 'valveGroup' | 'part'>[]): Carrier[] {
  const byName = new Map<string, number[]>()
  feet.forEach(({ valveGroup }, i) => {
    const key = valveGroup === null ? `${i}` : `=${valveGroup}`
    byName.set(key, [...(byName.get(key) ?? []), i])
  })
  return [...byName.values()].map((indices) => {
    const total = indices.reduce((sum, i) => sum + feet[i].part, 0)
    const members = indices.map((index) => ({ index, part: feet[index].part / total }))
    const place = [0, 1, 2].map((k) =>
      members.reduce((sum, { index, part }) => sum + part * feet[index].position[k], 0),
    )
    return { members, place }
  })
}

/** What a weight does to the feet under it. */
export interface Standing {
  /** Of each foot [N] */
  readonly loads: readonly number[]
  /** How far the centre of mass sinks [m] */
  readonly deflection: number
  /** Rotation about x and y [rad] */
  readonly tilt: readonly number[]
  /** How far each foot sinks [m] */
  readonly sinking: readonly number[]
}

/** Loads that balance a weight [N]. */
export function standingLoads(scope: Scope, weight: number, centre: Point, feet: readonly Foot[]): Standing {
  finiteResult(scope, 'weight', weight)
  const carriers = carriersOf(feet).map(({ members, place }) => ({
    members,
    place,
    lever: [1, place[1] - centre[1], centre[0] - place[0]],
    stiffness: members.reduce((sum, { index }) => sum + feet[index].stiffness, 0),
    preset: members.reduce((sum, { index }) => sum + feet[index].preset, 0),
  }))
  // Lengths are measured by the reach of the supports, so that none counts as small.
  const reach = Math.max(...carriers.map(({ lever }) => Math.hypot(lever[1], lever[2]))) || 1
  const levers = carriers.map(({ lever }) => [1, lever[1] / reach, lever[2] / reach])
  const A = zeros(3, 3)
  const missing = [weight, 0, 0]
  levers.forEach((lever, c) => {
    for (let i = 0; i < 3; i++) {
      missing[i] -= carriers[c].preset * lever[i]
      for (let j = 0; j < 3; j++) A.data[i * 3 + j] += carriers[c].stiffness * lever[i] * lever[j]
    }
  })
  const sinking = leastSolution(scope, A, missing)
  const carried = carriers.map(({ stiffness, preset }, c) => preset + stiffness * dot(levers[c], sinking))
  const balance = [0, 1, 2].map((i) =>
    carried.reduce((sum, load, c) => sum + load * levers[c][i], i === 0 ? -weight : 0),
  )
  if (Math.max(...balance.map(Math.abs)) > 1e-9 * weight) refuseOutside(scope, centre)
  carriers.forEach(({ members }, c) => {
    if (finiteResult(within(scope, 'supports'), 'load', carried[c]) > 0) return
    if (outside(carriers.map(({ lever }) => lever))) refuseOutside(scope, centre)
    const pull = `would have to pull with ${show(-carried[c])} N; give it another place, stiffness or load`
    fail('out-of-range', within(within(scope, 'supports'), members[0].index), pull, { value: carried[c], unit: 'N' })
  })
  const loads = feet.map(() => 0)
  for (const [c, { members }] of carriers.entries()) {
    for (const { index, part } of members) loads[index] = carried[c] * part
  }
  const sinkingAt = ({ position: [x, y] }: Foot) => dot(sinking, [1, (y - centre[1]) / reach, (centre[0] - x) / reach])
  return { loads, deflection: sinking[0], tilt: sinking.slice(1).map((s) => -s / reach), sinking: feet.map(sinkingAt) }
}

function refuseOutside(scope: Scope, [x, y]: Point): never {
  fail(
    'out-of-range',
    within(scope, 'centreOfMass'),
    `lies outside the supports, seen from above, at x ${x}, y ${y} m`,
    {
      allowed: 'inside the polygon of the supports, a common valve counting as one',
      unit: 'm',
    },
  )
}

/** Whether the origin lies outside points given as [1, y, −x]: then they leave a gap of at least half a turn. */
function outside(levers: readonly (readonly number[])[]): boolean {
  const angles = levers.map(([, y, x]) => Math.atan2(y, -x)).sort((a, b) => a - b)
  return angles.some((angle, k) => {
    const next = k + 1 < angles.length ? angles[k + 1] : angles[0] + 2 * Math.PI
    return next - angle >= Math.PI - 1e-12
  })
}

/** Smallest x of A x = b for a symmetric A that need not have full rank. */
function leastSolution(scope: Scope, A: Dense, b: readonly number[]): number[] {
  const eigen = symmetricEigen(scope, A)
  const x = b.map(() => 0)
  const n = b.length
  for (let k = 0; k < n; k++) {
    if (!(eigen.values[k] > 1e-12 * eigen.values[n - 1])) continue
    const vector = b.map((_, i) => eigen.vectors.data[i * n + k])
    const factor = dot(vector, b) / eigen.values[k]
    vector.forEach((value, i) => {
      x[i] += factor * value
    })
  }
  return x
}
