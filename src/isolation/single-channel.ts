import { fail, type Scope } from '../internal/check.js'
import { checkSystem } from '../systems/check.js'
import type { BlockRole, StateSpace } from '../systems/types.js'

/** A system with one input and one output, its ports renamed for a diagram. */
export function singleChannel(
  scope: Scope,
  system: StateSpace,
  input: string,
  output: string,
  role?: BlockRole,
): StateSpace {
  checkSystem(scope, system)
  if (system.inputs.length !== 1 || system.outputs.length !== 1) {
    fail(
      'dimension-mismatch',
      scope,
      `must have one input and one output, got ${system.inputs.length} and ${system.outputs.length}`,
    )
  }
  return { ...system, inputs: [input], outputs: [output], ...(role === undefined ? {} : { role }) }
}
