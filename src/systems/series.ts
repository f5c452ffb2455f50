import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { blockSystem } from './block.js'
import { closeDiagram } from './close-diagram.js'
import type { Wire } from './port-names.js'
import type { Block, StateSpace } from './types.js'

/** Names of the inputs of a system. */
export type InputName<S extends Block> = S['inputs'][number]

/** Names of the outputs of a system. */
export type OutputName<S extends Block> = S['outputs'][number]

/** The last system of a list. */
export type LastOf<T extends readonly Block[]> = T extends readonly [...unknown[], infer S extends Block]
  ? S
  : T[number]

/** Systems one behind the other; the first acts first.
 *
 *     u ──► a ──► b ──► … ──► y          G = … · b · a
 *
 * Outputs are joined to the next inputs by their position, not by their names.
 * @param systems - each with as many inputs as the one before has outputs
 * @returns a system with the inputs of the first and the outputs of the last; states are named `s1_…`, `s2_…`
 * @throws {@link IsolationError} `dimension-mismatch`, `invalid-option`
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { gain, series } from 'restmass'
 * series(gain(2), gain(-4)).D // [[-8]]
 */
export function series<T extends readonly Block[]>(...systems: T): StateSpace<InputName<T[0]>, OutputName<LastOf<T>>> {
  const scope = scopeOf('series')
  const blocks = namedBlocks(scope, systems)
  const wires: Record<string, Wire> = {}
  systems.forEach((system, k) => {
    const before = systems[k - 1]
    if (before !== undefined && before.outputs.length !== system.inputs.length) {
      fail(
        'dimension-mismatch',
        within(scope, `systems[${k}]`),
        `must have ${before.outputs.length} inputs to follow the one before, got ${system.inputs.length}`,
      )
    }
    system.inputs.forEach((name, i) => {
      wires[`s${k + 1}.${name}`] = before === undefined ? name : `s${k}.${before.outputs[i]}`
    })
  })
  const last = systems[systems.length - 1]
  const outputs = Object.fromEntries(last.outputs.map((name) => [name, `s${systems.length}.${name}`]))
  const closed = closeDiagram(scope, { blocks, inputs: systems[0].inputs, outputs, wires })
  return closed as StateSpace<InputName<T[0]>, OutputName<LastOf<T>>>
}

/** Blocks `s1`, `s2`, … from a list of arguments. */
export function namedBlocks(scope: Scope, systems: readonly Block[]): Record<string, StateSpace> {
  if (systems.length === 0) fail('invalid-option', scope, 'needs at least one system')
  return Object.fromEntries(
    systems.map((system, k) => [`s${k + 1}`, blockSystem(within(scope, `systems[${k}]`), system)]),
  )
}
