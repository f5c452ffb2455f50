import { fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { type Dense, rowsOf } from '../linear/dense.js'
import { type Lean, type LoadAbove, leaning, weightOnTilt, withAbove } from './load-above.js'
import { assembled, forceLines, massMatrix, withGravity } from './rigid-payload-lines.js'
import { payloadModes, undampedModes } from './rigid-payload-modes.js'
import { type CheckedPayload, type CheckedSupport, checkPayloadOptions } from './rigid-payload-options.js'
import { slowStiffness, supportPart, tippingOf } from './rigid-payload-tipping.js'
import type { RigidPayload, RigidPayloadOptions } from './rigid-payload-types.js'
import { carriersOf, standingLoads } from './support-loads.js'
import { minus } from './vectors.js'

/** A rigid payload on any number of three-axis mounts: what each carries, how it moves, and whether it stands.
 *
 * A mount is a spring law along each of its three axes and none against rotation. Loads stand upright: three points share
 * them by statics, more by their slow vertical stiffness, supports with a common valve by area. Small motion; the weight
 * takes mass·g·height from the stiffness against tilt, with height that of the centre of mass over the supports. It stands
 * where what is left of the slow stiffness is above 0 whatever the direction.
 *
 * A payload that tips is an answer, not an error; one that nothing balances is refused. Before anyone stands beside a tall
 * load, have its stability and its seismic restraint confirmed under local codes.
 * @param options - see {@link RigidPayloadOptions}; a payload made before is worked out again
 * @returns loads, deflection, stiffness, six modes and the tipping limit
 * @throws {@link IsolationError} `invalid-option`, also where an air spring is set for another load (1 %); `not-finite`;
 * `dimension-mismatch`; `out-of-range`, also where the centre of mass lies outside the supports, a support would have to
 * pull, or the supports leave an axis free
 * @source Harris' Shock and Vibration Handbook, chapter "Vibration of a resiliently supported rigid body"; tipping derived
 * from the second-order potential of weight and loads
 * @example
 * import { rigidPayload, springMount } from 'restmass'
 * const mount = { ...springMount({ stiffness: 1e5 }), lateral: { stiffness: 5e4 } }
 * const supports = [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as const, mount })))
 * const payload = rigidPayload({ mass: 1000, inertia: [90, 90, 160], centreOfMass: [0, 0, 0.5], supports })
 * payload.tipping.heightLimit // 40.79
 */
export function rigidPayload(options: RigidPayloadOptions | RigidPayload): RigidPayload {
  return standingPayload(scopeOf('rigidPayload'), options).record
}

/** A payload with what it was made from and what stands on it. */
export interface StandingPayload {
  readonly record: RigidPayload
  readonly checked: CheckedPayload
  /** The payload and all above it, with how the latter leans */
  readonly all: LoadAbove
  /** The same as a load on what is beneath */
  readonly load: LoadAbove
}

/** The record of a payload that carries `above`, and the checked options that it was made from. */
export function standingPayload(
  scope: Scope,
  options: RigidPayloadOptions | RigidPayload,
  above: LoadAbove | null = null,
): StandingPayload {
  const checked = checkPayloadOptions(scope, options)
  const { supports, centreOfMass, gravity } = checked
  const all = withAbove(checked, above)
  const { mass, centreOfMass: centre, lean } = all
  const lines = forceLines(supports, centreOfMass)
  const M = massMatrix(checked, centreOfMass)
  const fast = assembled(
    lines.map(({ row }) => row),
    lines.map(({ law }) => law.stiffness),
  )
  refuseFree(scope, M, fast)
  const feet = feetOf(scope, checked)
  const standing = standingLoads(scope, mass * (gravity || 1), centre, feet)
  if (gravity > 0) checkSettings(scope, supports, standing.loads)
  const shares = standing.loads.map((load) => load / (mass * (gravity || 1)))
  const height = centre[2] - supports.reduce((sum, { position }, i) => sum + shares[i] * position[2], 0)
  const slow = withGravity(slowStiffness(supports, lines, carriersOf(feet)), 0, lean.slow)
  const tipping = tippingOf(scope, mass * gravity, height, slow, withGravity(fast, 0, lean.fast))
  const stiffness = withGravity(fast, tipping.gravityStiffness, lean.fast)
  const leans = (K: Dense, over: Lean['fast']) =>
    leaning(K, weightOnTilt(mass * gravity, minus(centre, centreOfMass), over), over)
  const modes = payloadModes(scope, M, stiffness, lines)
  const rest = gravity > 0 ? standing : { ...standing, deflection: 0, tilt: [0, 0], sinking: feet.map(() => 0) }
  const record: RigidPayload = {
    kind: 'RigidPayload',
    mass: checked.mass,
    inertia: checked.inertia,
    centreOfMass,
    gravity,
    supports: supports.map(({ position, mount, laws, orientation, valveGroup }, i) => ({
      position,
      mount,
      lateral: [laws[0], laws[1]],
      orientation,
      valveGroup,
      loadShare: shares[i],
      load: shares[i] * mass * gravity,
      deflection: rest.sinking[i],
    })),
    deflection: rest.deflection,
    tilt: [rest.tilt[0], rest.tilt[1]],
    stiffness: rowsOf(stiffness),
    modes,
    tipping,
  }
  const leant = {
    fast: leans(stiffness, lean.fast),
    slow: leans(withGravity(slow, tipping.gravityStiffness), lean.slow),
  }
  return { record, checked, all, load: { ...all, lean: leant } }
}

/** Refuses supports that leave an axis free in vibration. */
function refuseFree(scope: Scope, M: Dense, K: Dense): void {
  const { squares } = undampedModes(scope, M, K)
  if (squares[0] > 1e-12 * squares[5]) return
  const [{ name }] = payloadModes(scope, M, K, [])
  fail('out-of-range', within(scope, 'supports'), `do not hold all six axes: nothing against ${name}`, { unit: 'N/m' })
}

/** Supports as far as their loads go: an air spring is at its height with the load it is set for. */
function feetOf(scope: Scope, { supports, gravity }: CheckedPayload) {
  return supports.map((support, i) => {
    const { air, laws, orientation, position, valveGroup } = support
    const others = supports.filter((other) => valveGroup !== null && other.valveGroup === valveGroup)
    if (others.some((other) => (other.air === null) !== (air === null) || !(other.laws[2].stiffness > 0))) {
      const what = 'must join springs of one kind, all with a stiffness above 0'
      fail('invalid-option', within(within(within(scope, 'supports'), i), 'valveGroup'), what)
    }
    const vertical = orientation[2]
    const along = [laws[0].stiffness, laws[1].stiffness, air?.staticStiffness ?? laws[2].stiffness]
    return {
      position,
      valveGroup,
      stiffness: along.reduce((sum, k, axis) => sum + k * vertical[axis] ** 2, 0),
      preset: air === null || gravity === 0 ? 0 : air.load * vertical[2],
      part: supportPart(support),
    }
  })
}

function checkSettings(scope: Scope, supports: readonly CheckedSupport[], loads: readonly number[]): void {
  supports.forEach(({ air, orientation }, i) => {
    if (air === null) return
    const at = within(within(within(scope, 'supports'), i), 'mount')
    const upright = orientation[2][2]
    if (!(upright >= 0.5)) fail('unsupported', at, 'must stand within 60° of upright to carry weight as an air spring')
    const load = loads[i] / upright
    if (Math.abs(air.load - load) <= 0.01 * load) return
    const what = `is set for ${show(air.load)} N, but ${show(load)} N stands on it; set load or gaugePressure`
    fail('invalid-option', at, what, { value: air.load, allowed: `${load} within 1 %`, unit: 'N' })
  })
}
