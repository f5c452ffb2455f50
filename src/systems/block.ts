import type { Scope } from '../internal/check.js'
import { checkSystem } from './check.js'
import type { StateSpace } from './types.js'

/** The state-space form of a block of a diagram; the one place that knows which records may be blocks. */
export function blockSystem(scope: Scope, block: unknown): StateSpace {
  checkSystem(scope, block)
  return block
}
