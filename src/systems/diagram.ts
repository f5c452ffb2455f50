import { scopeOf } from '../internal/check.js'
import { layOut } from './diagram-layout.js'
import type { Blocks, TypedDiagram, Wire } from './port-names.js'

/** `'block.output'` or the name of an external input; a leading `-` subtracts. */
export type Source = string

/** Blocks and wires as plain data, checked at run time: what programs build and models carry. */
export interface Diagram {
  readonly kind?: 'Diagram'
  /** Systems by name. */
  readonly blocks: Blocks
  /** Names of the external inputs, in their order in the closed system. */
  readonly inputs: readonly string[]
  /** External outputs by name, in their order in the closed system. */
  readonly outputs: Readonly<Record<string, Wire>>
  /** What drives each `'block.input'`; every one must be there. */
  readonly wires: Readonly<Record<string, Wire>>
}

/** A stored diagram that keeps the literal types of its names, so that the compiler checks them wherever it is used.
 *
 * Every block input stands in `wires` with what drives it: a source, a list of sources (summed), or `null` (held at zero).
 * A source is `'block.output'` or an external input; a leading `-` subtracts. There is no implied negative feedback.
 *
 *     floor ──►(−)──► mount.velocity   mount.force ──►(−)──► mass.force   mass.velocity ──┬──► payload
 *              (+)◄───────────────────────────────────────────────────────────────────────┘
 * @param diagram - blocks, external inputs and outputs, wires
 * @returns a copy, checked, with its `kind`
 * @throws {@link IsolationError} `unknown-port`, `unconnected-port`, `duplicate-port`, `invalid-option`
 * @source common practice, no source
 * @example
 * import { connect, diagram, gain, integrator, poles } from 'restmass'
 * const lag = diagram({
 *   blocks: { position: integrator(), stiffness: gain(3) },
 *   inputs: ['force'],
 *   outputs: { motion: 'position.y1' },
 *   wires: { 'position.u1': ['force', '-stiffness.y1'], 'stiffness.u1': 'position.y1' },
 * })
 * poles(connect(lag))[0].re // -3
 */
export function diagram<B extends Blocks, X extends string, O extends string>(
  diagram: TypedDiagram<B, X, O>,
): TypedDiagram<B, X, O> {
  layOut(scopeOf('diagram'), diagram)
  return {
    kind: 'Diagram',
    blocks: { ...diagram.blocks },
    inputs: [...diagram.inputs],
    outputs: { ...diagram.outputs },
    wires: { ...diagram.wires },
  }
}

export type { Blocks, TypedDiagram, Wire } from './port-names.js'
