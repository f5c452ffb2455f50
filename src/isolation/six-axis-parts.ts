import type { LoadAbove } from '../elements/load-above.js'
import { type StandingPayload, standingPayload } from '../elements/rigid-payload.js'
import { assembled, forceLines, massMatrix, withGravity } from '../elements/rigid-payload-lines.js'
import { checkPoint } from '../elements/rigid-payload-options.js'
import { supportPart } from '../elements/rigid-payload-tipping.js'
import type { Point, RigidPayload } from '../elements/rigid-payload-types.js'
import { carriersOf } from '../elements/support-loads.js'
import { checkOneOf, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { StateSpace } from '../systems/types.js'
import type { Fragment } from './inertial-path.js'
import { joinedBy, sharedLine } from './shared-line.js'
import { type SixAxisAppendages, sixAxisAppendages } from './six-axis-appendages.js'
import { bodyBlock, pointsBlock } from './six-axis-body.js'
import { type SixAxisDamping, sixAxisDamping } from './six-axis-damping.js'
import { type SixAxisLevelling, sixAxisLevelling, valvesOf } from './six-axis-levelling.js'
import { type MountsDesign, mountsBlock } from './six-axis-mounts.js'
import type { SixAxisIsolationOptions } from './six-axis-options.js'

const keys: readonly (keyof SixAxisIsolationOptions)[] = [
  'payload',
  'reference',
  'feet',
  'points',
  'differences',
  'levelling',
  'sharedLine',
  'appendages',
  'damping',
  'tipping',
  'floor',
]

/** What a storey in six axes is put together from. */
export interface SixAxisParts {
  readonly reference: Point
  readonly gravity: number
  /** The payload and what stands on it [kg] */
  readonly weight: number
  /** The same as a load on what is beneath */
  readonly load: LoadAbove
  readonly body: StateSpace
  readonly mounts: StateSpace
  readonly line: Fragment | null
  readonly levelling: SixAxisLevelling | null
  readonly damping: SixAxisDamping | null
  readonly points: ReturnType<typeof pointsBlock>
  readonly hanging: SixAxisAppendages | null
}

/** The parts of a storey that carries `above`. */
export function sixAxisParts(scope: Scope, options: SixAxisIsolationOptions, above: LoadAbove | null): SixAxisParts {
  checkOptions(scope, options, keys)
  const standing = standingPayload(within(scope, 'payload'), options.payload, above)
  const { record, checked, all, load } = standing
  refuseTipping(scope, options, record)
  const design = designOf(scope, options, standing)
  const { reference, valves, joined, feet } = design
  const given = <T, R>(key: string, value: T | undefined, make: (at: Scope, value: T) => R): R | null =>
    value === undefined ? null : make(within(scope, key), value)
  const damping = given('damping', options.damping, (at, value) =>
    sixAxisDamping(at, value, { ...plantOf(design), payload: record }),
  )
  if (feet === 'independent' && damping?.blocks.positions !== undefined) {
    const what = 'has a position loop, which measures against a rigid floor; give feet as rigid'
    fail('unsupported', within(scope, 'damping'), what)
  }
  const hanging = given('appendages', options.appendages, (_, list) => sixAxisAppendages(scope, list, reference))
  return {
    reference,
    gravity: checked.gravity,
    weight: all.mass,
    load,
    line: given('sharedLine', options.sharedLine, (at, value) => sharedLine(at, value, joined)),
    levelling: given('levelling', options.levelling, (at, value) => sixAxisLevelling(at, value, checked, valves)),
    damping,
    points: pointsBlock(scope, options, reference),
    hanging,
    body: bodyBlock(scope, checked, reference, hanging?.mass),
    mounts: mountsBlock(within(scope, 'payload'), design),
  }
}

function designOf(
  scope: Scope,
  options: SixAxisIsolationOptions,
  { record, checked, all }: StandingPayload,
): MountsDesign {
  const carriers = carriersOf(checked.supports.map((support) => ({ ...support, part: supportPart(support) })))
  const feet = options.feet === undefined ? 'rigid' : checkOneOf(scope, 'feet', options.feet, ['rigid', 'independent'])
  const [at, lineAt] = [within(scope, 'levelling'), within(scope, 'sharedLine')]
  const valves = options.levelling === undefined ? [] : valvesOf(at, checked, carriers)
  const joined = options.sharedLine === undefined ? [] : joinedBy(lineAt, checked, carriers)
  if (valves.length + joined.length > 0 && feet === 'independent') {
    fail('unsupported', valves.length > 0 ? at : lineAt, 'measures against a rigid floor; give feet as rigid')
  }
  return {
    payload: checked,
    reference:
      options.reference === undefined ? checked.centreOfMass : checkPoint(scope, 'reference', options.reference),
    all,
    gravityStiffness: record.tipping.gravityStiffness,
    feet,
    valves,
    joined,
  }
}

function refuseTipping(scope: Scope, { tipping }: SixAxisIsolationOptions, record: RigidPayload): void {
  const allowed = tipping === undefined ? 'refuse' : checkOneOf(scope, 'tipping', tipping, ['refuse', 'model'])
  const { verdict, margin, height, heightLimit } = record.tipping
  if (allowed === 'model' || verdict === 'stands' || record.gravity === 0) return
  const what = `tips: its centre of mass stands ${height.toPrecision(4)} m over the supports, and at rest ${(heightLimit as number).toPrecision(4)} m is the limit`
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
