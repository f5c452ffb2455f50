import type { Dense } from '../linear/dense.js'
import { denseFrom, multiply, rowsOf, transpose } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import type { CheckedPayload } from './rigid-payload-options.js'
import type { Point } from './rigid-payload-types.js'
import { cross } from './vectors.js'

/** What stands on a body: its weight acts there through its own springs. */
export interface LoadAbove {
  readonly mass: number
  /** Of all of it [m] */
  readonly centreOfMass: Point
  /** 2 × 2, about x and y [N·m/rad]: by how much its leaning over adds to the moment of a body that tilts beneath it */
  readonly lean: Lean
}

/** The same on the stiffness in vibration and at rest. */
export interface Lean {
  readonly fast: readonly (readonly number[])[]
  readonly slow: readonly (readonly number[])[]
}

const upright = [
  [0, 0],
  [0, 0],
]

/** A payload with what stands on it: mass and centre of mass of both, and how the latter leans. */
export function withAbove({ mass, centreOfMass }: CheckedPayload, above: LoadAbove | null): LoadAbove {
  if (above === null) return { mass, centreOfMass, lean: { fast: upright, slow: upright } }
  const total = mass + above.mass
  const middle = (i: 0 | 1 | 2) => (mass * centreOfMass[i] + above.mass * above.centreOfMass[i]) / total
  return { mass: total, centreOfMass: [middle(0), middle(1), middle(2)], lean: above.lean }
}

/** Wrench of a weight per rotation of what is beneath, about x and about y, in the frame that turns: it leans sideways by
 * m g (φ_y, −φ_x), and what stands on it leans in turn. By reciprocity also the couple of the weight on what is beneath. */
export function weightOnTilt(
  weight: number,
  lever: Point | readonly number[],
  lean: readonly (readonly number[])[],
): number[][] {
  return [
    [0, -weight, 0],
    [weight, 0, 0],
  ].map((force, i) => [...force, ...cross(lever, force).map((value, k) => value + (lean[i][k] ?? 0))])
}

/** How a load leans on springs K, less gravity: Wᵀ K⁻¹ W besides what leans on it. */
export function leaning(
  K: Dense,
  wrenches: readonly (readonly number[])[],
  above: readonly (readonly number[])[],
): number[][] {
  const W = transpose(denseFrom(wrenches, 6))
  const follow = solve(K, W)
  const own = follow === null ? upright : rowsOf(multiply(transpose(W), follow))
  return own.map((row, i) => row.map((value, j) => value + above[i][j]))
}
