import { checkNumber, checkOptions, type Scope, within } from '../internal/check.js'
import type { StateSpace } from '../systems/types.js'

/** What is to be kept still. */
export interface PayloadOptions {
  /** Mass [kg], above 0 */
  readonly mass: number
}

export function checkPayload(scope: Scope, payload: PayloadOptions): number {
  const at = within(scope, 'payload')
  checkOptions(at, payload, ['mass'])
  return checkNumber(at, 'mass', payload.mass, { unit: 'kg', above: 0 })
}

/** A rigid mass on one axis: force [N] in, velocity [m/s] and acceleration [m/s²] out; one state. */
export function massBlock(mass: number): StateSpace {
  return {
    kind: 'StateSpace',
    A: [[0]],
    B: [[1 / mass]],
    C: [[1], [0]],
    D: [[0], [1 / mass]],
    inputs: ['force'],
    outputs: ['velocity', 'acceleration'],
    states: ['velocity'],
    delays: null,
  }
}
