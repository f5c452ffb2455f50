import { type LoadAbove, weightOnTilt } from '../elements/load-above.js'
import { assembled, type ForceLine, forceLines, withGravity } from '../elements/rigid-payload-lines.js'
import type { CheckedPayload } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { Carrier } from '../elements/support-loads.js'
import { minus } from '../elements/vectors.js'
import { fail, type Scope } from '../internal/check.js'
import { type Dense, denseFrom, multiply, rowsOf, transpose } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { numbered } from '../systems/numbered.js'
import type { Matrix, StateSpace } from '../systems/types.js'
import { axes, sixNames } from './six-axis-ports.js'

/** All mounts of a payload as one block. */
export interface MountsDesign {
  readonly payload: CheckedPayload
  readonly reference: Point
  /** The payload and what stands on it */
  readonly all: LoadAbove
  /** Negative stiffness of all that weight against tilt [N·m/rad] */
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
 * states that their lines span. Where the payload stands on a floor that leans needs the angle of the floor, as an input.
 *
 * `couple` is the moment on the floor of the weight that moves off with e. What comes with the angle of the floor itself,
 * which the weight takes from the stiffness beneath, is in the lean of the load (`load-above.ts`).
 */
export function mountsBlock(scope: Scope, design: MountsDesign): StateSpace {
  const lines = forceLines(design.payload.supports, design.reference)
  const rows = lines.map(({ row }) => row)
  const stiffnesses = lines.map(({ law }) => law.stiffness)
  const dampings = lines.map(({ law }) => law.damping)
  const K = withGravity(assembled(rows, stiffnesses), design.gravityStiffness, design.all.lean.fast)
  const drives = drivesOf(design, lines)
  // A foot that goes up shortens its lines: the pull of the springs falls by Σ k row·rate, and e with it.
  const pulls = drives
    .slice(6)
    .map(({ rates, weight }) => weighted(rows, stiffnesses, rates).map((pull, i) => pull - weight[i]))
  const shifts = solve(K, transpose(denseFrom(pulls, 6)))
  if (shifts === null) fail('singular', scope, 'stands exactly at its tipping limit')
  const gas = design.valves.map((valve) => gasOf(design, lines, valve))
  return assembledBlock({
    stiffness: rowsOf(K),
    drives: drives.map(({ name }) => name),
    dashpots: drives.map(({ rates }) => weighted(rows, dampings, rates)),
    shifts: rowsOf(transpose(shifts)),
    weights: drives.flatMap(({ weight }) => (weight.some((value) => value !== 0) ? [weight] : [])),
    branches: branchesOf(lines, drives, gas),
    gas: gas.map(({ pull }) => pull),
    heights: design.valves.map(({ members }) =>
      axes.map((_, i) => members.reduce((sum, { index, part }) => sum + part * lines[3 * index + 2].row[i], 0)),
    ),
  })
}

/** What the block is put together from; lists run over inputs, valves or branches. */
interface MountsParts {
  readonly stiffness: Matrix
  readonly drives: readonly string[]
  /** Wrench per rate of each drive */
  readonly dashpots: Matrix
  /** Shift of e per rate of each drive after the first six */
  readonly shifts: Matrix
  /** Wrench of the weight per rotation of the floor, about x and y, to which the first shifts belong; none without gravity */
  readonly weights: Matrix
  readonly branches: readonly Branch[]
  readonly gas: Matrix
  readonly heights: Matrix
}

function assembledBlock({ drives, shifts, branches, gas, heights, ...parts }: MountsParts): StateSpace {
  const states = 6 + branches.length + gas.length
  const leans = shifts.slice(0, parts.weights.length)
  const lasting = [...gas, ...leans]
  const none = (n: number) => new Array<number>(n).fill(0)
  const unit = (i: number, n: number) => none(n).map((_, k) => (k === i ? 1 : 0))
  // Seen from the place where it would rest, the payload on a leaning floor stands where the lean has put it.
  const leaning = (row: readonly number[]) => [
    ...none(drives.length + gas.length),
    ...leans.map((shift) => -row.reduce((sum, value, i) => sum + value * shift[i], 0)),
  ]
  const places = [...axes.map((_, i) => unit(i, 6)), ...heights]
  return {
    kind: 'StateSpace',
    A: unit(0, states).map((_, i) => {
      const branch = branches[i - 6]
      return branch === undefined ? none(states) : unit(i, states).map((one) => (one === 0 ? 0 : -1 / branch.time))
    }),
    B: [
      ...axes.map((_, i) => [...unit(i, 6), ...shifts.map((shift) => shift[i]), ...none(lasting.length)]),
      ...branches.map(({ rates }) => [...rates, ...none(leans.length)]),
      ...gas.map((_, j) => unit(drives.length + j, drives.length + lasting.length)),
    ],
    C: [
      ...parts.stiffness.map((row, i) => [
        ...row,
        ...branches.map(({ shape }) => shape[i]),
        ...gas.map((pull) => pull[i]),
      ]),
      ...[...places, ...parts.weights].map((row) => [...row, ...none(states - 6)]),
    ],
    D: [
      ...axes.map((_, i) => [...parts.dashpots.map((dashpot) => dashpot[i]), ...none(lasting.length)]),
      ...places.map(leaning),
      ...parts.weights.map(() => none(drives.length + lasting.length)),
    ],
    inputs: [...drives, ...numbered('valve', gas), ...turning('tilt', leans.length)],
    outputs: [
      ...sixNames('tension'),
      ...sixNames('stretch'),
      ...numbered('height', heights),
      ...turning('couple', leans.length),
    ],
    states: [...sixNames('stretch'), ...numbered('relaxation', branches), ...numbered('valve', gas)],
    delays: null,
  }
}

function turning(beginning: string, count: number): string[] {
  return ['Rx', 'Ry'].slice(0, count).map((axis) => beginning + axis)
}

/** Inputs of the block: relative velocity, then rotation of the floor under the weight, then feet. */
function drivesOf({ payload, reference, all, feet }: MountsDesign, lines: readonly ForceLine[]): Drive[] {
  const weight = all.mass * payload.gravity
  const still = lines.map(() => 0)
  const wrenches = weightOnTilt(weight, minus(all.centreOfMass, reference), all.lean.fast)
  const relative = axes.map((axis, i) => ({
    name: `velocity${axis}`,
    rates: lines.map(({ row }) => row[i]),
    weight: axes.map(() => 0),
  }))
  const turns = turning('floor', 2).map((name, i): Drive => ({ name, rates: still, weight: wrenches[i] }))
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
