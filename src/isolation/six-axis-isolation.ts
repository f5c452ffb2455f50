import type { LoadAbove } from '../elements/load-above.js'
import { standingPayload } from '../elements/rigid-payload.js'
import { assembled, forceLines, massMatrix, withGravity } from '../elements/rigid-payload-lines.js'
import { checkPoint } from '../elements/rigid-payload-options.js'
import { supportPart } from '../elements/rigid-payload-tipping.js'
import type { Point, RigidPayload, RigidPayloadOptions } from '../elements/rigid-payload-types.js'
import { carriersOf } from '../elements/support-loads.js'
import { checkOneOf, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { onFloor } from './floor.js'
import type { LevellingOptions } from './levelling.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'
import { joinedBy, type SharedLineOptions, sharedLine } from './shared-line.js'
import { bodyBlock, type NamedPoints, pointsBlock } from './six-axis-body.js'
import { type SixAxisDampingOptions, sixAxisDamping } from './six-axis-damping.js'
import type { SixAxisFloorOptions } from './six-axis-floor.js'
import { sixAxisLevelling, valvesOf } from './six-axis-levelling.js'
import { type MountsDesign, mountsBlock } from './six-axis-mounts.js'
import { axes, sixNames, sixWires } from './six-axis-ports.js'

/** Options of {@link sixAxisIsolation}. */
export interface SixAxisIsolationOptions extends NamedPoints {
  /** Payload and supports, as options or as the record of `rigidPayload` */
  readonly payload: RigidPayloadOptions | RigidPayload
  /** Place in the frame of the payload at which motion of floor and payload and forces are given [m]. @defaultValue its
   * centre of mass */
  readonly reference?: Point
  /** Whether each foot moves by itself on top of the floor, through `foot1VelocityX` and so on. @defaultValue 'rigid' */
  readonly feet?: 'rigid' | 'independent'
  /** Points of the payload to look at, by name [m]: `tool` gives the outputs `toolVelocityX`, Y and Z. @defaultValue none */
  readonly points?: Readonly<Record<string, Point>>
  /** Motion between two of these points, second minus first, by name. @defaultValue none */
  readonly differences?: Readonly<Record<string, readonly [string, string]>>
  /** Height control, one valve per air spring or group of them. @defaultValue none */
  readonly levelling?: LevellingOptions
  /** Line between air springs of one `valveGroup`. @defaultValue none: each keeps its gas in vibration */
  readonly sharedLine?: SharedLineOptions
  /** Active damping. @defaultValue none */
  readonly damping?: SixAxisDampingOptions
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: SixAxisFloorOptions
  /** What to do with a payload that tips at rest. @defaultValue 'refuse' */
  readonly tipping?: 'refuse' | 'model'
}

/** Model of a rigid payload on its supports in all six axes.
 *
 *     M v' = forces − tension,  tension = K(s)·(payload − floor) − gravity
 *
 * Ports end in X, Y, Z, Rx, Ry, Rz. In: `floorVelocity…`, `payloadForce…`, `reactionForce…`, with independent feet
 * `foot1VelocityX…`, and noise. Out: `payloadVelocity…`, `floorForce…` with the moment of the weight that moves off, points,
 * and `stretch…`, payload minus floor, less where feet of their own have put it. All of it at the reference.
 *
 * A floor that turns drives the payload sideways through gravity; velocities and forces have it from `floorVelocityRx` and
 * `Ry`. Only stretch, valves and position loops also need the angle, which no stable model can keep: with gravity, drive
 * `floorTiltRx` and `Ry` [rad] with the integral of those two, or leave out how far the payload leans on a turned floor.
 *
 * On a `floor` that gives way `floorVelocity…` stays that of the bare floor; `loadedFloorVelocity…` comes out beside it, and
 * `neighbourVelocity…` where a neighbour stands: what the forces here, as of a stage that moves, do to it.
 *
 * Chambers with a common valve are joined for the load; in vibration only through a `sharedLine`, which lets a pair lean
 * over slowly as if it were one spring at its middle.
 *
 * Read it with `frequencyResponse(model.closed, …)` and the ports by name; functions of one axis refuse it. A loop that
 * runs away moves a heavy load, and a tall one tips: limit force and stroke in hardware, follow local codes.
 * @param options - see {@link SixAxisIsolationOptions}
 * @returns the diagram and the closed model; loops of the damping in the order given, then `levelling1` and so on
 * @throws {@link IsolationError} those of `rigidPayload`; `unstable` for a payload that tips at rest; `invalid-option` also
 * for valves that work against each other; `singular` for a loop that sensors or actuators cannot span
 * @source Harris' Shock and Vibration Handbook, chapter "Vibration of a resiliently supported rigid body"; gravity on a
 * tilted floor derived from the balance of weight and loads
 * @example
 * import { dcGain, sixAxisIsolation } from 'restmass'
 * const mount = { stiffness: 1e5, damping: 500, lateral: { stiffness: 5e4, damping: 300 } }
 * const supports = [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as const, mount })))
 * const payload = { mass: 1000, inertia: [90, 90, 160] as const, centreOfMass: [0, 0, 0.5] as const, supports }
 * const { closed } = sixAxisIsolation({ payload })
 * dcGain(closed)[closed.outputs.indexOf('payloadVelocityX')][closed.inputs.indexOf('floorVelocityX')] // 1
 */
export function sixAxisIsolation(options: SixAxisIsolationOptions): IsolationModel {
  return closeStorey(sixAxisStorey(scopeOf('sixAxisIsolation'), options, null))
}

export function sixAxisStorey(scope: Scope, options: SixAxisIsolationOptions, above: LoadAbove | null): Storey {
  const keys = [
    'payload',
    'reference',
    'feet',
    'points',
    'differences',
    'levelling',
    'sharedLine',
    'damping',
    'tipping',
    'floor',
  ]
  checkOptions(scope, options, keys)
  const { record, checked, all, load } = standingPayload(within(scope, 'payload'), options.payload, above)
  refuseTipping(scope, options, record)
  const reference =
    options.reference === undefined ? checked.centreOfMass : checkPoint(scope, 'reference', options.reference)
  const feet = options.feet === undefined ? 'rigid' : checkOneOf(scope, 'feet', options.feet, ['rigid', 'independent'])
  const carriers = carriersOf(checked.supports.map((support) => ({ ...support, part: supportPart(support) })))
  const at = within(scope, 'levelling')
  const valves = options.levelling === undefined ? [] : valvesOf(at, checked, carriers)
  const lineAt = within(scope, 'sharedLine')
  const joined = options.sharedLine === undefined ? [] : joinedBy(lineAt, checked, carriers)
  if (valves.length + joined.length > 0 && feet === 'independent') {
    fail('unsupported', valves.length > 0 ? at : lineAt, 'measures against a rigid floor; give feet as rigid')
  }
  const design: MountsDesign = {
    payload: checked,
    reference,
    all,
    gravityStiffness: record.tipping.gravityStiffness,
    feet,
    valves,
    joined,
  }
  const line = options.sharedLine === undefined ? null : sharedLine(lineAt, options.sharedLine, joined)
  const levelling = options.levelling === undefined ? null : sixAxisLevelling(at, options.levelling, checked, valves)
  const damping =
    options.damping === undefined
      ? null
      : sixAxisDamping(within(scope, 'damping'), options.damping, { ...plantOf(design), payload: record })
  if (feet === 'independent' && damping?.blocks.positions !== undefined) {
    fail(
      'unsupported',
      within(scope, 'damping'),
      'has a position loop, which measures against a rigid floor; give feet as rigid',
    )
  }
  const points = pointsBlock(scope, options, reference)
  const body = bodyBlock(scope, checked, reference)
  const mounts = mountsBlock(within(scope, 'payload'), design)
  const turning = mounts.inputs.includes('tiltRx')
  return onFloor(scope, options.floor, {
    concept: 'sixAxis',
    diagram: {
      blocks: {
        payload: body,
        mounts,
        ...(points && { points: points.block }),
        ...damping?.blocks,
        ...levelling?.blocks,
        ...line?.blocks,
      },
      inputs: [
        ...sixNames('floorVelocity'),
        ...sixNames('payloadForce'),
        ...sixNames('reactionForce'),
        ...footInputs(mounts),
        ...(turning ? ['floorTiltRx', 'floorTiltRy'] : []),
        ...(damping?.noiseSources.map(({ input }) => input) ?? []),
      ],
      outputs: {
        ...sixWires('payloadVelocity', ['payload.velocity']),
        ...sixWires('stretch', ['mounts.stretch']),
        ...floorForce(turning, damping !== null),
        ...points?.outputs,
        ...Object.fromEntries(damping?.forces.map((force, j) => [`actuatorForce${j + 1}`, force]) ?? []),
      },
      wires: {
        ...sixWires('payload.force', [
          'payloadForce',
          'reactionForce',
          '-mounts.tension',
          ...(damping ? ['actuatorLines.force'] : []),
        ]),
        ...mountWires(mounts, turning),
        ...(points && sixWires('points.velocity', ['payload.velocity'])),
        ...damping?.wires,
        ...levelling?.wires,
        ...line?.wires,
      },
    },
    loops: [...(damping?.loops ?? []), ...(levelling?.loops ?? [])],
    noiseSources: damping?.noiseSources ?? [],
    limits: [...(damping?.limits ?? []), ...(levelling?.limits ?? [])],
    weight: all.mass,
    floorLoops: [],
    sixAxis: { load, reference, top: reference, gravity: checked.gravity },
  })
}

/** Pull of the mounts and actuators, and the moment of the weight that moves off. */
function floorForce(turning: boolean, driven: boolean): Record<string, Wire> {
  return Object.fromEntries(
    axes.map((axis) => [
      `floorForce${axis}`,
      [
        `mounts.tension${axis}`,
        ...(turning && (axis === 'Rx' || axis === 'Ry') ? [`mounts.couple${axis}`] : []),
        ...(driven ? [`-actuatorLines.force${axis}`] : []),
      ],
    ]),
  )
}

function refuseTipping(scope: Scope, { tipping }: SixAxisIsolationOptions, record: RigidPayload): void {
  const allowed = tipping === undefined ? 'refuse' : checkOneOf(scope, 'tipping', tipping, ['refuse', 'model'])
  const { verdict, margin, height, heightLimit } = record.tipping
  if (allowed === 'model' || verdict === 'stands' || record.gravity === 0) return
  const what = `tips: its centre of mass stands ${height.toPrecision(4)} m over the supports, and at rest ${(heightLimit ?? 0).toPrecision(4)} m is the limit`
  fail('unstable', within(scope, 'payload'), what, { value: margin, allowed: 'above 0', unit: 'N·m/rad' })
}

/** Mass and static stiffness at the reference. */
function plantOf({ payload, reference, all, gravityStiffness }: MountsDesign) {
  const lines = forceLines(payload.supports, reference)
  const rows = lines.map(({ row }) => row)
  const stiffnesses = lines.map(({ law }) => law.stiffness)
  return {
    reference,
    mass: massMatrix(payload, reference),
    stiffness: withGravity(assembled(rows, stiffnesses), gravityStiffness, all.lean.fast),
  }
}

function footInputs({ inputs }: StateSpace): Source[] {
  return inputs.filter((input) => input.startsWith('foot')).map((input) => input.replace(/(?=[XYZ]$)/, 'Velocity'))
}

function mountWires(mounts: StateSpace, turning: boolean): Record<string, Wire> {
  return {
    ...sixWires('mounts.velocity', ['payload.velocity', '-floorVelocity']),
    ...(turning && {
      'mounts.floorRx': 'floorVelocityRx',
      'mounts.floorRy': 'floorVelocityRy',
      'mounts.tiltRx': 'floorTiltRx',
      'mounts.tiltRy': 'floorTiltRy',
    }),
    ...Object.fromEntries(footInputs(mounts).map((input) => [`mounts.${input.replace('Velocity', '')}`, input])),
  }
}
