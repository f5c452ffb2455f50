import { fail, listed, type Scope, scopeOf, within } from '../internal/check.js'
import { blockSystem } from './block.js'
import type { Diagram } from './diagram.js'
import { layOut, missing, unknownPort } from './diagram-layout.js'
import type { Blocks, TypedDiagram } from './port-names.js'
import type { Block } from './types.js'

/** A diagram in which one block is another system with the same ports.
 *
 * @param diagram - blocks, external inputs and outputs, wires
 * @param name - the block to replace
 * @param system - the new block; its ports have the same names, in any order
 * @returns a new diagram; the given one stays as it is
 * @throws {@link IsolationError} `unknown-port` where the block or one of its ports is missing, `unconnected-port` where
 * the new block has an input more
 * @source common practice, no source
 * @example
 * import { connect, diagram, gain, replaceBlock } from 'restmass'
 * const single = diagram({
 *   blocks: { amplifier: gain(2) },
 *   inputs: ['voltage'],
 *   outputs: { current: 'amplifier.y1' },
 *   wires: { 'amplifier.u1': 'voltage' },
 * })
 * connect(replaceBlock(single, 'amplifier', gain(5))).D // [[5]]
 */
export function replaceBlock<B extends Blocks, X extends string, O extends string>(
  diagram: TypedDiagram<B, X, O>,
  name: NoInfer<keyof B & string>,
  system: Block,
): TypedDiagram<B, X, O> {
  const scope = scopeOf('replaceBlock')
  const { blocks } = layOut(scope, diagram as Diagram)
  const old = blocks.find((block) => block.name === name)?.system
  if (old === undefined) {
    const there = listed(blocks.map((block) => block.name))
    return unknownPort(scope, 'name', name, `${missing('block', name)}; blocks are ${there}`)
  }
  const block = blockSystem(within(scope, 'system'), system)
  checkSamePorts(scope, 'inputs', old.inputs, block.inputs)
  checkSamePorts(scope, 'outputs', old.outputs, block.outputs)
  return { ...diagram, blocks: { ...diagram.blocks, [name]: system } }
}

function checkSamePorts(scope: Scope, key: 'inputs' | 'outputs', old: readonly string[], now: readonly string[]): void {
  const at = within(within(scope, 'system'), key)
  for (const port of old) {
    if (!now.includes(port)) {
      unknownPort(scope, at.path, port, `the new block has no "${port}"; its ${key} are ${listed(now)}`)
    }
  }
  for (const port of now) {
    if (old.includes(port)) continue
    if (key === 'inputs') fail('unconnected-port', at, `has "${port}", which no wire drives; wired are ${listed(old)}`)
    unknownPort(scope, at.path, port, `the old block has no "${port}"; its ${key} are ${listed(old)}`)
  }
}
