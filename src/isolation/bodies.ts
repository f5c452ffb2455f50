import { checkNumber, checkOptions, type Scope, within } from '../internal/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { type Appendage, checkAppendages, flexibleBlock, isOnePoint } from './appendages.js'

/** What is to be kept still. */
export interface PayloadOptions {
  /** Mass of the rigid part [kg], above 0; hanging appendages come on top of it */
  readonly mass: number
  /** Flexible parts. @defaultValue none, a rigid payload */
  readonly appendages?: readonly Appendage[]
}

export interface CheckedPayload {
  readonly block: StateSpace
  /** All of it, hanging appendages included [kg] */
  readonly mass: number
  /** Velocity where it is of interest, and where the sensor sits, with the acceleration there */
  readonly velocity: Source
  readonly sensed: Source
  readonly acceleration: Source
  /** Wires of what pulls at the mounts, of the motors, and of what acts on the payload itself */
  readonly driven: (
    mounts: readonly Source[],
    motors: readonly Source[],
    loads: readonly Source[],
  ) => Record<string, Wire>
}

export function checkPayload(scope: Scope, payload: PayloadOptions): CheckedPayload {
  const at = within(scope, 'payload')
  checkOptions(at, payload, ['mass', 'appendages'])
  const mass = checkNumber(at, 'mass', payload.mass, { unit: 'kg', above: 0 })
  const parts = checkAppendages(at, payload.appendages)
  const onePoint = isOnePoint(parts)
  const rigid = parts.hanging.length + parts.modes.length === 0
  return {
    block: rigid ? massBlock(mass) : flexibleBlock(mass, parts),
    mass: parts.hanging.reduce((sum, part) => sum + part.mass, mass),
    velocity: onePoint ? 'payload.velocity' : 'payload.payloadVelocity',
    sensed: onePoint ? 'payload.velocity' : 'payload.sensorVelocity',
    acceleration: 'payload.acceleration',
    driven: (mounts, motors, loads): Record<string, Wire> =>
      onePoint
        ? { 'payload.force': [...loads, ...mounts, ...motors] }
        : { 'payload.force': mounts, 'payload.motorForce': motors, 'payload.load': loads },
  }
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
