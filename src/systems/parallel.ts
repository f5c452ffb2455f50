import { fail, scopeOf, within } from '../internal/check.js'
import { closeDiagram } from './close-diagram.js'
import { type InputName, namedBlocks, type OutputName } from './series.js'
import type { Block, StateSpace } from './types.js'

/** Systems side by side: the same inputs drive all of them, and their outputs add.
 *
 *     u ──┬──► a ──┬(+)──► y          G = a + b + …
 *         └──► b ──┘
 *
 * Ports are joined by their names; the order is that of the first system.
 * @param systems - all with the same input names and the same output names
 * @returns a system with those ports; states are named `s1_…`, `s2_…`
 * @throws {@link IsolationError} `dimension-mismatch` where the names differ, `invalid-option`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { gain, parallel } from 'restmass'
 * parallel(gain(2), gain(-5)).D // [[-3]]
 */
export function parallel<T extends readonly Block[]>(...systems: T): StateSpace<InputName<T[0]>, OutputName<T[0]>> {
  const scope = scopeOf('parallel')
  const blocks = namedBlocks(scope, systems)
  const { inputs, outputs } = systems[0]
  systems.forEach((system, k) => {
    for (const [key, names] of Object.entries({ inputs, outputs })) {
      const own = key === 'inputs' ? system.inputs : system.outputs
      if (own.length === names.length && names.every((name) => own.includes(name))) continue
      fail(
        'dimension-mismatch',
        within(scope, `systems[${k}].${key}`),
        `must be ${names.join(', ')} like those of the first system, got ${own.join(', ')}`,
      )
    }
  })
  const names = Object.keys(blocks)
  const sum = (port: string): string[] => names.map((name) => `${name}.${port}`)
  const closed = closeDiagram(scope, {
    blocks,
    inputs,
    outputs: Object.fromEntries(outputs.map((port) => [port, sum(port)])),
    wires: Object.fromEntries(inputs.flatMap((port) => sum(port).map((key) => [key, port]))),
  })
  return closed as StateSpace<InputName<T[0]>, OutputName<T[0]>>
}
