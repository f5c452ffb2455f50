import { assembled, type ForceLine, forceLines, minus, withGravity } from '../elements/rigid-payload-lines.js'
import { type CheckedPayload, cross } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { Carrier } from '../elements/support-loads.js'
import { fail, type Scope } from '../internal/check.js'
import { type Dense, denseFrom, multiply, rowsOf, transpose } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import type { StateSpace } from '../systems/types.js'
import { axes, sixNames } from './six-axis-ports.js'

/** All mounts of a payload as one block. */
export interface MountsDesign {
  readonly payload: CheckedPayload
  readonly reference: Point
  /** Negative stiffness of the weight against tilt [N·m/rad] */
  readonly gravityStiffness: number
  /** Whether every foot moves by itself on top of the floor */
  readonly feet: 'rigid' | 'independent'
  /** Air springs that a valve feeds, valve by valve */
  readonly valves: readonly Carrier[]
}

/** What one input of the block does: to the stretch of each line, and to gravity in the frame of the floor. */
interface Drive {
  readonly name: string
  /** Rate of stretch of each line, as the spring and the dashpot feel it */
  readonly rates: readonly number[]
  /** Rate of the wrench with which the weight pulls sideways */
  readonly weight: readonly number[]
}

/** Mounts and weight as one block: relative velocity of payload and floor in, force and moment that pull the two together
 * and the stretch out, at the reference.
 *
 * The state e is the position of the payload measured from where it would rest: K_t e is the whole static wrench, with K_t
 * the static stiffness less gravity. Weight on a tilted floor and feet that move by themselves shift that place, so that no
 * state counts an angle or a displacement in space and none is a pole at zero. Relaxing branches with one time share the
 * states that their lines span.
 */
export function mountsBlock(scope: Scope, design: MountsDesign): StateSpace {
  const { payload, reference, valves } = design
  const lines = forceLines(payload.supports, reference)
  const rows = lines.map(({ row }) => row)
  const K = withGravity(
    assembled(
      rows,
      lines.map(({ law }) => law.stiffness),
    ),
    design.gravityStiffness,
  )
  const drives = drivesOf(design, lines)
  const relative = drives.slice(0, 6)
  const shifts = drives.slice(6)
  const stiffnesses = lines.map(({ law }) => law.stiffness)
  // A foot that goes up shortens its lines: the pull of the springs falls by Σ k row·rate, and e with it.
  const pulls = shifts.map(({ rates, weight }) => weighted(rows, stiffnesses, rates).map((pull, i) => pull - weight[i]))
  const shifted = solve(K, transpose(denseFrom(pulls, 6)))
  if (shifted === null) fail('singular', scope, 'stands exactly at its tipping limit')
  const gas = valves.map((valve) => gasOf(design, lines, valve))
  const branches = branchesOf(lines, drives, gas)
  const dashpots = drives.map(({ rates }) =>
    weighted(
      rows,
      lines.map(({ law }) => law.damping),
      rates,
    ),
  )
  const heights = valves.map(({ members }) =>
    axes.map((_, i) => members.reduce((sum, { index, part }) => sum + part * lines[3 * index + 2].row[i], 0)),
  )
  const states = 6 + branches.length + gas.length
  const unit = (i: number, n: number) => Array.from({ length: n }, (_, k) => (k === i ? 1 : 0))
  const none = (n: number) => new Array<number>(n).fill(0)
  return {
    kind: 'StateSpace',
    A: [
      ...axes.map(() => none(states)),
      ...branches.map(({ time }, b) => unit(6 + b, states).map((one) => (one === 0 ? 0 : -1 / time))),
      ...gas.map(() => none(states)),
    ],
    B: [
      ...axes.map((_, i) => [
        ...relative.map((_drive, j) => (i === j ? 1 : 0)),
        ...shifts.map((_drive, j) => shifted.data[i * shifts.length + j]),
        ...none(gas.length),
      ]),
      ...branches.map(({ rates }) => rates),
      ...gas.map((_, j) => [...none(drives.length), ...unit(j, gas.length)]),
    ],
    C: [
      ...rowsOf(K).map((row, i) => [
        ...row,
        ...branches.map(({ shape }) => shape[i]),
        ...gas.map(({ pull }) => pull[i]),
      ]),
      ...axes.map((_, i) => unit(i, states)),
      ...heights.map((height) => [...height, ...none(states - 6)]),
    ],
    D: [
      ...axes.map((_, i) => [...dashpots.map((dashpot) => dashpot[i]), ...none(gas.length)]),
      ...[...axes, ...valves].map(() => none(drives.length + gas.length)),
    ],
    inputs: [...drives.map(({ name }) => name), ...valves.map((_, j) => `valve${j + 1}`)],
    outputs: [...sixNames('tension'), ...sixNames('stretch'), ...valves.map((_, j) => `height${j + 1}`)],
    states: [
      ...sixNames('stretch'),
      ...branches.map((_, b) => `relaxation${b + 1}`),
      ...gas.map((_, j) => `valve${j + 1}`),
    ],
    delays: null,
  }
}

/** Inputs of the block: relative velocity, then rotation of the floor under the weight, then feet. */
function drivesOf({ payload, reference, feet }: MountsDesign, lines: readonly ForceLine[]): Drive[] {
  const weight = payload.mass * payload.gravity
  const still = lines.map(() => 0)
  const lever = minus(payload.centreOfMass, reference)
  const sideways = (force: Point) => [...force, ...cross(lever, force)]
  const relative = axes.map((axis, i) => ({
    name: `velocity${axis}`,
    rates: lines.map(({ row }) => row[i]),
    weight: axes.map(() => 0),
  }))
  // Seen from a floor turned by φ the weight leans by m g (φ_y, −φ_x).
  const turns: Drive[] = [
    { name: 'floorRx', rates: still, weight: sideways([0, -weight, 0]) },
    { name: 'floorRy', rates: still, weight: sideways([weight, 0, 0]) },
  ]
  const alone = payload.supports.flatMap((_, support) =>
    (['X', 'Y', 'Z'] as const).map((axis, i) => ({
      name: `foot${support + 1}${axis}`,
      rates: lines.map((line) => (line.support === support ? -line.row[i] : 0)),
      weight: axes.map(() => 0),
    })),
  )
  return [...relative, ...(weight > 0 ? turns : []), ...(feet === 'independent' ? alone : [])]
}

interface GasDrive {
  /** Wrench per stretch that the valve adds */
  readonly pull: readonly number[]
  /** Stretch that the valve adds to each line per unit; only its branches feel it through this */
  readonly rates: readonly number[]
}

/** One valve lets the same volume flow into each of its springs. */
function gasOf({ payload }: MountsDesign, lines: readonly ForceLine[], { members }: Carrier): GasDrive {
  const area = (index: number) => payload.supports[index].air?.area ?? 1
  const rates = lines.map(() => 0)
  for (const { index } of members) rates[3 * index + 2] = area(members[0].index) / area(index)
  const stiffnesses = lines.map(({ support, axial }) =>
    axial ? (payload.supports[support].air?.gas.stiffness ?? 0) : 0,
  )
  return {
    pull: weighted(
      lines.map(({ row }) => row),
      stiffnesses,
      rates,
    ),
    rates,
  }
}

interface Branch {
  readonly time: number
  /** Wrench per unit of the state */
  readonly shape: readonly number[]
  /** Rate of the state per unit of each input */
  readonly rates: readonly number[]
}

/** Branches with one time together: their wrench w obeys w' = −w/τ + Σ k row·rate, in the directions that it can have. */
function branchesOf(lines: readonly ForceLine[], drives: readonly Drive[], gas: readonly GasDrive[]): Branch[] {
  const rows = lines.map(({ row }) => row)
  const times = [...new Set(lines.flatMap(({ law }) => law.relaxations.map(({ time }) => time)))].sort((a, b) => b - a)
  return times.flatMap((time) => {
    const stiffnesses = lines.map(({ law }) =>
      law.relaxations.reduce((sum, branch) => sum + (branch.time === time ? branch.stiffness : 0), 0),
    )
    const wrenches = [...drives, ...gas].map(({ rates }) => weighted(rows, stiffnesses, rates))
    return directionsOf(assembled(rows, stiffnesses.map(Math.abs))).map((shape) => ({
      time,
      shape,
      rates: wrenches.map((wrench) => shape.reduce((sum, value, i) => sum + value * wrench[i], 0)),
    }))
  })
}

/** Orthonormal directions that a semidefinite matrix spans. */
function directionsOf(M: Dense): number[][] {
  const eigen = symmetricEigen(M)
  if (eigen === null) return axes.map((_, i) => axes.map((_axis, j) => (i === j ? 1 : 0)))
  const columns = rowsOf(transpose(eigen.vectors))
  return columns.filter((_, k) => eigen.values[k] > 1e-12 * eigen.values[5])
}

/** Σ value · rate · row over the lines. */
function weighted(rows: readonly (readonly number[])[], values: readonly number[], rates: readonly number[]): number[] {
  return Array.from(
    multiply(denseFrom([values.map((value, l) => value * rates[l])], rows.length), denseFrom(rows, 6)).data,
  )
}
