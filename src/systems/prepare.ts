import { scopeOf, within } from '../internal/check.js'
import { anySystem, plainSystem } from './block.js'
import { type Factors, kernelOf } from './kernel-of.js'
import { stateEigenvalues } from './poles.js'
import type { DiscreteStateSpace, MechanicalSystem, PreparedSystem, StateSpace } from './types.js'

/** A system with its factors worked out once, for many questions about it.
 *
 * It holds the balanced Hessenberg form, or the matrices of the dynamic stiffness, and the poles. `frequencyResponse`,
 * `margins`, `stability`, `poles` and `simulate` accept it in place of the system. It is opaque and stays within one thread: send the
 * system itself to a worker.
 * @param system - state space, discrete or mechanical; it is not copied and must stay as it is
 * @returns the handle
 * @throws {@link IsolationError} errors of a malformed system; `no-convergence`
 * @source derived: the work that does not depend on the frequency
 * @example
 * import { channel, frequencyResponse, lowPass, prepare } from 'restmass'
 * const handle = prepare(lowPass({ cutoff: 10 }))
 * channel(frequencyResponse(handle, [0, 10]), { input: 'u1', output: 'y1' }).re[1] // 0.5
 */
export function prepare<I extends string, O extends string>(
  system: StateSpace<I, O> | DiscreteStateSpace<I, O> | MechanicalSystem<I, O>,
): PreparedSystem<I, O> {
  const scope = scopeOf('prepare')
  const plain = plainSystem(within(scope, 'system'), system)
  const state = anySystem(scope, plain)
  const delayed = state.kind === 'StateSpace' && state.delays !== null
  const factors: Factors = {
    kernel: kernelOf(
      plain,
      plain.outputs.map((_, o) => o),
      plain.inputs.map((_, i) => i),
      Number.POSITIVE_INFINITY,
    ),
    eigenvalues: delayed ? null : stateEigenvalues(scope, state),
  }
  return { kind: 'PreparedSystem', inputs: plain.inputs, outputs: plain.outputs, system: plain, factors }
}
