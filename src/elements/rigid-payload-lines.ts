import { type Dense, zeros } from '../linear/dense.js'
import type { CheckedPayload, CheckedSupport } from './rigid-payload-options.js'
import type { Point } from './rigid-payload-types.js'
import type { CanonicalMount } from './types.js'
import { cross, minus } from './vectors.js'

/** A force law along one straight line between floor and payload. Its stretch is `row` · (x, y, z, rotations). */
export interface ForceLine {
  readonly row: readonly number[]
  readonly law: CanonicalMount
  /** Index of the support it belongs to */
  readonly support: number
  /** Whether it is the axis of its mount */
  readonly axial: boolean
}

/** Three lines per support, for motion given at a reference point. */
export function forceLines(supports: readonly CheckedSupport[], reference: Point): ForceLine[] {
  return supports.flatMap(({ position, orientation, laws }, support) =>
    laws.map((law, axis) => ({
      row: lineRow(
        position,
        orientation.map((row) => row[axis]),
        reference,
      ),
      law,
      support,
      axial: axis === 2,
    })),
  )
}

/** What motion at the reference moves a place along a direction: d·(v + ω × r) = d·v + (r × d)·ω. */
export function lineRow(place: Point, direction: readonly number[], reference: Point): number[] {
  return [...direction, ...cross(minus(place, reference), direction)]
}

/** Σ value · row rowᵀ, 6 × 6. */
export function assembled(rows: readonly (readonly number[])[], values: readonly number[]): Dense {
  const K = zeros(6, 6)
  rows.forEach((row, l) => {
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) K.data[i * 6 + j] += values[l] * row[i] * row[j]
  })
  return K
}

/** Mass matrix of a rigid body for motion given at a reference point: [[m, −m c×], [m c×, J + m(c² − c cᵀ)]]. */
export function massMatrix({ mass, inertia, centreOfMass }: CheckedPayload, reference: Point): Dense {
  const M = zeros(6, 6)
  const c = minus(centreOfMass, reference)
  const square = c[0] ** 2 + c[1] ** 2 + c[2] ** 2
  const unit = (i: number) => [0, 1, 2].map((k) => (k === i ? 1 : 0))
  for (let i = 0; i < 3; i++) {
    const lever = cross(unit(i), c)
    for (let j = 0; j < 3; j++) {
      const same = i === j ? 1 : 0
      M.data[i * 6 + j] = mass * same
      M.data[j * 6 + 3 + i] = mass * lever[j]
      M.data[(3 + i) * 6 + j] = mass * lever[j]
      M.data[(3 + i) * 6 + 3 + j] = inertia[i][j] + mass * (square * same - c[i] * c[j])
    }
  }
  return M
}

/** K without what tilt takes from it: the weight at a height over the supports, and what leans above. */
export function withGravity(K: Dense, gravityStiffness: number, lean?: readonly (readonly number[])[]): Dense {
  const data = K.data.slice()
  for (let i = 0; i < 2; i++) {
    data[21 + 7 * i] -= gravityStiffness
    for (let j = 0; j < 2; j++) data[21 + 6 * i + j] -= lean?.[i][j] ?? 0
  }
  return { ...K, data }
}
