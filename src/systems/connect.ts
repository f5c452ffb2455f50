import { scopeOf } from '../internal/check.js'
import { closeDiagram } from './close-diagram.js'
import type { Blocks, TypedDiagram } from './port-names.js'
import type { StateSpace } from './types.js'

/** The one system that a diagram of blocks is, from its external inputs to its external outputs.
 *
 * Every wire is taken with the sign it is written with: no implied negative feedback. States are named `block_state`;
 * the delays of the blocks stay exact. A loop of direct feedthrough is solved if the reciprocal condition of I − D K
 * over the loop, with signals and equations scaled as well as can be, is at least 1e-13; then no unit changes the verdict.
 * @param diagram - blocks, external inputs and outputs, wires; a literal is checked by the compiler, any other at run time
 * @returns a system with one input per external input and one output per external output, in their order
 * @throws {@link IsolationError} `unknown-port` (with the ports there are), `unconnected-port`, `duplicate-port`,
 * `algebraic-loop` (with the blocks of the loop), `invalid-option`, `dimension-mismatch`, `not-finite`
 * @source K. Zhou, J. C. Doyle, K. Glover, Robust and Optimal Control, 1996, sections 3.6 and 5.2 (well-posedness);
 * F. L. Bauer, Optimally scaled matrices, Numerische Mathematik 5, 1963 (scaled condition)
 * @example
 * import { connect, frequencyResponse, gain, lowPass } from 'restmass'
 * const closed = connect({
 *   blocks: { plant: lowPass({ cutoff: 10 }), controller: gain(3) },
 *   inputs: ['reference'],
 *   outputs: { motion: 'plant.y1' },
 *   wires: { 'plant.u1': 'controller.y1', 'controller.u1': ['reference', '-plant.y1'] },
 * })
 * frequencyResponse(closed, [0]).re[0] // 0.75
 */
export function connect<B extends Blocks, X extends string, O extends string>(
  diagram: TypedDiagram<B, X, O>,
): StateSpace<X, O> {
  return closeDiagram(scopeOf('connect'), diagram) as StateSpace<X, O>
}
