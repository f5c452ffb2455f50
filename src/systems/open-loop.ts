import { listed, type Scope, scopeOf } from '../internal/check.js'
import { closeDiagram } from './close-diagram.js'
import type { Diagram } from './diagram.js'
import { layOut, missing, unknownPort } from './diagram-layout.js'
import type { Blocks, OutputPort, TypedDiagram, Wire } from './port-names.js'
import type { StateSpace } from './types.js'
import { sourcesOf } from './wire-sources.js'

/** The loop L in 1/(1 + L) that passes through one block output, all other loops left closed.
 *
 * Every wire that takes the output takes the input `injected` instead, with its sign; the output `returned` is minus what
 * the block then gives. External inputs are held at zero.
 *
 *     injected ──► (everything else) ──► block ──► (−) ──► returned
 * @param diagram - blocks, external inputs and outputs, wires
 * @param port - the `'block.output'` to break
 * @returns the loop, from `injected` to `returned`
 * @throws {@link IsolationError} `unknown-port`, and whatever `connect` refuses
 * @source S. Skogestad, I. Postlethwaite, Multivariable Feedback Control, 2nd edition 2005, section 2.2
 * @example
 * import { gain, lowPass, margins, openLoop } from 'restmass'
 * const blocks = { plant: lowPass({ cutoff: 10 }), controller: gain(3) }
 * const wires = { 'plant.u1': 'controller.y1', 'controller.u1': ['reference', '-plant.y1'] } as const
 * const outputs = { motion: 'plant.y1' } as const
 * const loop = openLoop({ blocks, inputs: ['reference'], outputs, wires }, 'plant.y1')
 * margins(loop).phaseMarginDegrees // 109.471
 */
export function openLoop<B extends Blocks, X extends string, O extends string>(
  diagram: TypedDiagram<B, X, O>,
  port: NoInfer<OutputPort<B>>,
): StateSpace<'injected', 'returned'> {
  const scope = scopeOf('openLoop')
  checkPort(scope, diagram, port)
  return openedAt(scope, diagram as Diagram, port)
}

/** The same for a diagram and a port of it that have been checked. */
export function openedAt(scope: Scope, { blocks, wires }: Diagram, port: string): StateSpace<'injected', 'returned'> {
  const opened: Record<string, Wire> = {}
  for (const key of Object.keys(wires)) opened[key] = openWire(wires[key], port)
  const cut = { blocks, inputs: ['injected'], outputs: { returned: `-${port}` }, wires: opened }
  return closeDiagram(scope, cut) as StateSpace<'injected', 'returned'>
}

export function checkPort(scope: Scope, diagram: Diagram, port: unknown): void {
  const ports = layOut(scope, diagram).blocks.flatMap(({ name, system }) => system.outputs.map((y) => `${name}.${y}`))
  if (ports.includes(port as string)) return
  unknownPort(scope, 'port', port, `${missing('output', port)}; outputs are ${listed(ports)}`)
}

/** The wire without external inputs, and with `injected` in place of the broken output. */
function openWire(wire: Wire, port: string): Wire {
  return sourcesOf(wire)
    .filter((source) => source.includes('.'))
    .map((source) => (source === port ? 'injected' : source === `-${port}` ? '-injected' : source))
}
