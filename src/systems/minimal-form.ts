import { checkOptional, checkOptions, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { largest, rowsOf } from '../linear/dense.js'
import { reachablePart, transposed } from '../linear/reachable-part.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { refuseDelays } from './poles.js'
import type { DiscreteStateSpace, LinearSystem, StateSpace } from './types.js'

/** Options of {@link minimalForm}. */
export interface MinimalFormOptions {
  /** Coupling below which a state counts as not reached, relative to the largest entry of the balanced state matrix, from 0
   * to below 1. @defaultValue 10 n ε for n states */
  readonly tolerance?: number
}

/** A system without its hidden states. */
export interface MinimalForm<S extends StateSpace | DiscreteStateSpace = StateSpace | DiscreteStateSpace> {
  readonly kind: 'MinimalForm'
  /** Same ports, same response */
  readonly system: S
  /** How many states were left out: those no input reaches, and of the others those no output shows */
  readonly removed: { readonly uncontrollable: number; readonly unobservable: number }
}

/** The same response with as few states as it takes: uncontrollable and unobservable parts removed.
 *
 * Orthogonal staircase of the balanced system, from the inputs and then from the outputs, each port scaled so that its unit
 * does not matter. Where nothing is hidden the system is returned as it is; otherwise the states are new and carry no
 * meaning (`x1`, `x2`, …). Whether a weakly coupled mode is hidden is a matter of the tolerance.
 * @param plant - continuous without delays, or discrete
 * @param options - see {@link MinimalFormOptions}
 * @returns see {@link MinimalForm}
 * @throws {@link IsolationError} `unsupported` with delays; `out-of-range`, `invalid-option`
 * @source P. M. Van Dooren, IEEE Trans. Automatic Control 26 (1981) 111 (staircase form)
 * @example
 * import { minimalForm, transferFunction } from 'restmass'
 * const cancelling = transferFunction({ numerator: [1, 3], denominator: [1, 5, 6] })
 * minimalForm(cancelling).removed.unobservable // 1
 */
export function minimalForm<I extends string, O extends string>(
  plant: DiscreteStateSpace<I, O>,
  options?: MinimalFormOptions,
): MinimalForm<DiscreteStateSpace<I, O>>
export function minimalForm<I extends string, O extends string>(
  plant: LinearSystem<I, O>,
  options?: MinimalFormOptions,
): MinimalForm<StateSpace<I, O>>
export function minimalForm(plant: LinearSystem, options: MinimalFormOptions = {}): MinimalForm {
  const scope = scopeOf('minimalForm')
  checkOptions(scope, options, ['tolerance'])
  const system = anySystem(within(scope, 'system'), plant)
  if (system.kind === 'StateSpace') refuseDelays(scope, system)
  const n = system.A.length
  const range = { atLeast: 0, below: 1 }
  const tolerance = checkOptional(scope, 'tolerance', options.tolerance, range, 10 * n * Number.EPSILON)
  const full = balancedSystem(denseSystem(system.kind === 'StateSpace' ? system : continuousForm(system)))
  const size = largest(full.A) || 1
  const reached = reachablePart(full, size, tolerance)
  const { A, B, C } = transposed(reachablePart(transposed(reached), size, tolerance))
  const removed = { uncontrollable: n - reached.A.rows, unobservable: reached.A.rows - A.rows }
  if (A.rows === n) return { kind: 'MinimalForm', system, removed }
  for (const { data } of [A, B, C]) for (const entry of data) finiteResult(scope, 'coefficient', entry)
  const states = Array.from({ length: A.rows }, (_, k) => `x${k + 1}`)
  return { kind: 'MinimalForm', system: { ...system, A: rowsOf(A), B: rowsOf(B), C: rowsOf(C), states }, removed }
}
