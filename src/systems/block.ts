import { checkNumbers, checkRecord, fail, must, type Scope, show, within } from '../internal/check.js'
import { denseFrom, multiply, rowsOf, sum, times } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { checkDiscreteSystem, checkSystem } from './check.js'
import type { Factors } from './kernel-of.js'
import { checkMechanicalSystem } from './mechanical-system.js'
import type { DiscreteStateSpace, LinearSystem, MechanicalSystem, PreparedSystem, StateSpace } from './types.js'

/** The state-space form of a continuous system or block, checked; the one place that knows which records may be blocks. */
export function blockSystem<I extends string, O extends string>(
  scope: Scope,
  block: LinearSystem<I, O>,
): StateSpace<I, O> {
  const system = anySystem(scope, block)
  if (system.kind === 'DiscreteStateSpace')
    fail('unsupported', scope, 'must be a continuous system, got a discrete one')
  return system
}

/** The state-space form of any system, checked. */
export function anySystem<I extends string, O extends string>(
  scope: Scope,
  value: LinearSystem<I, O>,
): StateSpace<I, O> | DiscreteStateSpace<I, O> {
  const plain = plainSystem(scope, value)
  return plain.kind === 'MechanicalSystem' ? stateForm(scope, plain) : plain
}

/** Any system as the plain record it is, checked; a prepared one with its factors. */
export function plainSystem<I extends string, O extends string>(
  scope: Scope,
  value: LinearSystem<I, O>,
): StateSpace<I, O> | DiscreteStateSpace<I, O> | MechanicalSystem<I, O> {
  switch ((value as LinearSystem<I, O> | null | undefined)?.kind) {
    case 'PreparedSystem':
      return checkedHandle(scope, value as PreparedSystem<I, O>)
    case 'MechanicalSystem':
      checkMechanicalSystem(scope, value as MechanicalSystem)
      return value as MechanicalSystem<I, O>
    case 'DiscreteStateSpace':
      checkDiscreteSystem(scope, value)
      return value as DiscreteStateSpace<I, O>
    case 'StateSpace':
      checkSystem(scope, value)
      return value as StateSpace<I, O>
    default:
      return fail('invalid-option', scope, `must be a StateSpace, got ${show(value)}`)
  }
}

/** The system of a handle that {@link prepare} made: a copy of it through text, or parts of one, does not answer. */
function checkedHandle<I extends string, O extends string>(scope: Scope, handle: PreparedSystem<I, O>) {
  const { kernel, eigenvalues } = checkRecord(within(scope, 'factors'), handle.factors as Factors)
  const callable = (['at', 'boundedAt', 'along'] as const).every((name) => typeof kernel?.[name] === 'function')
  if (
    !callable ||
    eigenvalues === undefined ||
    (handle.system as LinearSystem | undefined)?.kind === 'PreparedSystem'
  ) {
    fail('invalid-option', scope, 'must be a handle as prepare made it')
  }
  if (eigenvalues !== null) {
    for (const key of ['re', 'im'] as const)
      checkNumbers(within(within(scope, 'factors'), 'eigenvalues'), key, eigenvalues[key])
  }
  return plainSystem(within(scope, 'system'), handle.system)
}

/** x = [q; q'], x' = [0, I; −M⁻¹K, −M⁻¹C] x + [0; M⁻¹F] u */
function stateForm<I extends string, O extends string>(scope: Scope, system: MechanicalSystem<I, O>): StateSpace<I, O> {
  const n = system.mass.length
  const m = system.inputs.length
  const M = denseFrom(system.mass, n)
  const perMass = (matrix: MechanicalSystem['mass'], columns: number) => {
    const says = 'has a mass matrix that cannot be inverted'
    return must(solve(M, denseFrom(matrix, columns)), 'singular', scope, says)
  }
  const K = perMass(system.stiffness, n)
  const C = perMass(system.damping, n)
  const F = perMass(system.forces, m)
  const accelerations = denseFrom(system.accelerations, n)
  const fromDisplacement = sum(denseFrom(system.displacements, n), times(multiply(accelerations, K), -1))
  const fromVelocity = sum(denseFrom(system.velocities, n), times(multiply(accelerations, C), -1))
  const beside = (left: number[][], right: number[][]) => left.map((row, i) => [...row, ...right[i]])
  const unit = (k: number) => Array.from({ length: 2 * n }, (_, j) => (j === n + k ? 1 : 0))
  return {
    kind: 'StateSpace',
    A: [...Array.from({ length: n }, (_, k) => unit(k)), ...beside(rowsOf(times(K, -1)), rowsOf(times(C, -1)))],
    B: [...Array.from({ length: n }, () => new Array<number>(m).fill(0)), ...rowsOf(F)],
    C: beside(rowsOf(fromDisplacement), rowsOf(fromVelocity)),
    D: rowsOf(multiply(accelerations, F)),
    inputs: system.inputs,
    outputs: system.outputs,
    states: ['displacement', 'velocity'].flatMap((name) => Array.from({ length: n }, (_, k) => `${name}${k + 1}`)),
    delays: null,
    ...(system.role === undefined ? {} : { role: system.role }),
  }
}
