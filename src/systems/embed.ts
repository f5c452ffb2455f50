import { checkOptions, scopeOf } from '../internal/check.js'
import { checkName } from './check.js'
import type { Diagram } from './diagram.js'
import { layOut } from './diagram-layout.js'
import type { Blocks, PrefixedDiagram, TypedDiagram, Wire } from './port-names.js'

/** Options of {@link embed}. */
export interface EmbedOptions<P extends string = string> {
  /** What every name starts with, such as `lower_`; a name itself. */
  readonly prefix: P
}

/** A diagram under other names, ready to stand beside another one: blocks, external inputs and outputs get a prefix.
 *
 * @param diagram - blocks, external inputs and outputs, wires
 * @param options - see {@link EmbedOptions}
 * @returns a new diagram with the same meaning
 * @throws {@link IsolationError} `invalid-option` for a prefix that is not a name, and whatever `diagram` refuses
 * @source common practice, no source
 * @example
 * import { connect, diagram, embed, gain } from 'restmass'
 * const single = diagram({
 *   blocks: { amplifier: gain(2) },
 *   inputs: ['voltage'],
 *   outputs: { current: 'amplifier.y1' },
 *   wires: { 'amplifier.u1': 'voltage' },
 * })
 * connect(embed(single, { prefix: 'lower_' })).outputs // ['lower_current']
 */
export function embed<B extends Blocks, X extends string, O extends string, P extends string>(
  diagram: TypedDiagram<B, X, O>,
  options: EmbedOptions<P>,
): PrefixedDiagram<B, X, O, P> {
  const scope = scopeOf('embed')
  const { prefix } = checkOptions(scope, options, ['prefix'])
  checkName(scope, 'prefix', prefix)
  layOut(scope, diagram)
  const { blocks, inputs, outputs, wires } = diagram as Diagram
  const embedded: Diagram = {
    kind: 'Diagram',
    blocks: renamed(blocks, prefix, (block) => block),
    inputs: inputs.map((name) => `${prefix}${name}`),
    outputs: renamed(outputs, prefix, (wire) => prefixedWire(wire, prefix)),
    wires: renamed(wires, prefix, (wire) => prefixedWire(wire, prefix)),
  }
  return embedded as PrefixedDiagram<B, X, O, P>
}

function renamed<V>(record: Readonly<Record<string, V>>, prefix: string, value: (entry: V) => V): Record<string, V> {
  return Object.fromEntries(Object.keys(record).map((key) => [`${prefix}${key}`, value(record[key])]))
}

function prefixedWire(wire: Wire, prefix: string): Wire {
  if (wire === null) return null
  return typeof wire === 'string' ? prefixedSource(wire, prefix) : wire.map((source) => prefixedSource(source, prefix))
}

function prefixedSource(source: string, prefix: string): string {
  return source.startsWith('-') ? `-${prefix}${source.slice(1)}` : `${prefix}${source}`
}
