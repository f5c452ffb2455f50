import { denseFrom } from '../linear/dense.js'
import { dynamicStiffnessKernel } from '../linear/dynamic-stiffness-kernel.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { type ResponseKernel, responseKernel } from '../linear/response-kernel.js'
import { continuousForm, denseSystem } from './dense-system.js'
import type { DiscreteStateSpace, LinearSystem, Matrix, MechanicalSystem, PreparedSystem, StateSpace } from './types.js'

/** What {@link prepare} works out. */
export interface Factors {
  readonly kernel: ResponseKernel
  /** Poles of a system without delays; null with delays */
  readonly eigenvalues: Eigenvalues | null
}

/** The evaluator of the channels between some inputs and some outputs of a checked system, for about so many points. */
export function kernelOf(
  system: StateSpace | DiscreteStateSpace | MechanicalSystem,
  rows: readonly number[],
  columns: readonly number[],
  points: number,
): ResponseKernel {
  if (system.kind === 'StateSpace') return responseKernel(denseSystem(system, columns, rows), points)
  if (system.kind === 'DiscreteStateSpace')
    return responseKernel(denseSystem(continuousForm(system), columns, rows), points)
  const n = system.mass.length
  const some = (matrix: Matrix) =>
    denseFrom(
      rows.map((row) => matrix[row]),
      n,
    )
  const forces = system.forces.map((row) => columns.map((column) => row[column]))
  return dynamicStiffnessKernel({
    mass: denseFrom(system.mass, n),
    damping: denseFrom(system.damping, n),
    stiffness: denseFrom(system.stiffness, n),
    forces: denseFrom(forces, columns.length),
    displacements: some(system.displacements),
    velocities: some(system.velocities),
    accelerations: some(system.accelerations),
  })
}

/** The evaluator that a prepared system holds. */
export function preparedKernel(system: PreparedSystem): ResponseKernel {
  return (system.factors as Factors).kernel
}

/** The poles that a prepared system holds; null for any other. */
export function preparedEigenvalues(system: LinearSystem): Eigenvalues | null {
  return system.kind === 'PreparedSystem' ? (system.factors as Factors).eigenvalues : null
}
