import { assembled, type ForceLine } from '../elements/rigid-payload-lines.js'
import type { Scope } from '../internal/check.js'
import { type Dense, denseFrom, multiply, rowsOf, transpose } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'

/** A relaxing branch of the mounts. */
export interface Branch {
  readonly time: number
  /** The line that it belongs to, where that needs its own tension */
  readonly line?: number
  /** Wrench per unit of the state */
  readonly shape: readonly number[]
  /** Rate of the state per unit of each input */
  readonly rates: readonly number[]
}

/** Branches with one time together: their wrench w obeys w' = −w/τ + Σ k row·rate, in the directions that it can have.
 * Lines that stand `apart` keep theirs, whose state is their own tension. */
export function branchesOf(
  scope: Scope,
  lines: readonly ForceLine[],
  all: readonly { readonly rates: readonly number[] }[],
  apart: ReadonlySet<number>,
): Branch[] {
  const rows = lines.map(({ row }) => row)
  const own = [...apart].flatMap((line) =>
    lines[line].law.relaxations.map(({ stiffness, time }) => ({
      time,
      line,
      shape: rows[line],
      rates: all.map(({ rates }) => stiffness * rates[line]),
    })),
  )
  const together = lines.map(({ law }, line) => (apart.has(line) ? [] : law.relaxations))
  const times = [...new Set(together.flatMap((list) => list.map(({ time }) => time)))].sort((a, b) => b - a)
  const merged = times.flatMap((time) => {
    const stiffnesses = together.map((list) =>
      list.reduce((sum, branch) => sum + (branch.time === time ? branch.stiffness : 0), 0),
    )
    const wrenches = all.map(({ rates }) => weighted(rows, stiffnesses, rates))
    return directionsOf(scope, assembled(rows, stiffnesses.map(Math.abs))).map((shape) => ({
      time,
      shape,
      rates: wrenches.map((wrench) => shape.reduce((sum, value, i) => sum + value * wrench[i], 0)),
    }))
  })
  return [...merged, ...own]
}

/** Orthonormal directions that a semidefinite matrix spans. */
function directionsOf(scope: Scope, M: Dense): number[][] {
  const eigen = symmetricEigen(scope, M)
  const columns = rowsOf(transpose(eigen.vectors))
  return columns.filter((_, k) => eigen.values[k] > 1e-12 * eigen.values[5])
}

/** Σ value · rate · row over the lines. */
export function weighted(
  rows: readonly (readonly number[])[],
  values: readonly number[],
  rates: readonly number[],
): number[] {
  return Array.from(
    multiply(denseFrom([values.map((value, l) => value * rates[l])], rows.length), denseFrom(rows, 6)).data,
  )
}
