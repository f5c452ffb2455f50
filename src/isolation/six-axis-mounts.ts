import { type LoadAbove, weightOnTilt } from '../elements/load-above.js'
import { assembled, type ForceLine, forceLines, withGravity } from '../elements/rigid-payload-lines.js'
import type { CheckedPayload } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { Carrier } from '../elements/support-loads.js'
import { minus } from '../elements/vectors.js'
import { must, type Scope } from '../internal/check.js'
import { denseFrom, rowsOf, transpose } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { numbered } from '../systems/numbered.js'
import type { Matrix, StateSpace } from '../systems/types.js'
import { type Branch, branchesOf, weighted } from './six-axis-branches.js'
import { exchangeOf, gasOf, pressureOf } from './six-axis-gas.js'
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
  /** Air springs that a line joins, group by group */
  readonly joined: readonly Carrier[]
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
  const shifts = must(
    solve(K, transpose(denseFrom(pulls, 6))),
    'singular',
    scope,
    'stands exactly at its tipping limit, or too far from the reference',
  )
  const joined = design.joined.flatMap(({ members }) => members.map(({ index }) => index))
  const gas = [
    ...design.valves.map((valve) => gasOf(design.payload, lines, valve)),
    ...design.joined.flatMap(({ members: [first, ...others] }) =>
      others.map(({ index }) => exchangeOf(design.payload, lines, first.index, index)),
    ),
  ]
  const branches = branchesOf(scope, lines, [...drives, ...gas], new Set(joined.map((support) => 3 * support + 2)))
  return assembledBlock({
    stiffness: rowsOf(K),
    drives: drives.map(({ name }) => name),
    dashpots: drives.map(({ rates }) => weighted(rows, dampings, rates)),
    shifts: rowsOf(transpose(shifts)),
    weights: drives.flatMap(({ weight }) => (weight.some((value) => value !== 0) ? [weight] : [])),
    branches,
    gas: gas.map(({ pull }) => pull),
    valves: design.valves.length,
    pressures: joined.map((support) => pressureOf(design.payload, lines, support, branches, gas)),
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
  /** How many of these come from valves, before what lines exchange */
  readonly valves: number
  /** Pressure in chambers that a line joins, per state */
  readonly pressures: Matrix
  readonly heights: Matrix
}

function assembledBlock({ drives, shifts, branches, gas, heights, ...parts }: MountsParts): StateSpace {
  const states = 6 + branches.length + gas.length
  const leans = shifts.slice(0, parts.weights.length)
  const lasting = [...gas, ...leans]
  const flows = [...numbered('valve', gas.slice(0, parts.valves)), ...numbered('exchange', gas.slice(parts.valves))]
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
      ...parts.pressures,
    ],
    D: [
      ...axes.map((_, i) => [...parts.dashpots.map((dashpot) => dashpot[i]), ...none(lasting.length)]),
      ...places.map(leaning),
      ...parts.weights.map(() => none(drives.length + lasting.length)),
      ...parts.pressures.map((row) => leaning(row.slice(0, 6))),
    ],
    inputs: [...drives, ...flows, ...turning('tilt', leans.length)],
    outputs: [
      ...sixNames('tension'),
      ...sixNames('stretch'),
      ...numbered('height', heights),
      ...turning('couple', leans.length),
      ...numbered('pressure', parts.pressures),
    ],
    states: [...sixNames('stretch'), ...numbered('relaxation', branches), ...flows],
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
