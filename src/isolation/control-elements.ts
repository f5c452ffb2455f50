import { scopeOf, within } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { blockSystem } from '../systems/block.js'
import { denseSystem } from '../systems/dense-system.js'
import type { Diagram } from '../systems/diagram.js'
import { relevantPart } from '../systems/relevant-states.js'
import type { StateSpace } from '../systems/types.js'
import { sourcesOf, unsigned } from '../systems/wire-sources.js'
import { checkModel } from './check-model.js'
import type { IsolationModel } from './model.js'

/** What a model has of the three things that active control needs. */
export interface ControlElements {
  readonly kind: 'ControlElements'
  /** A sensor of motion in space */
  readonly inertialSensor: boolean
  /** A path from such a sensor to an actuator, as feedback or feedforward */
  readonly controlLoop: boolean
  /** A device that puts in force or motion on command; a levelling valve is none */
  readonly actuator: boolean
  /** All three, connected */
  readonly active: boolean
  /** What was found and what is missing, in sentences */
  readonly reasons: readonly string[]
}

/** Whether a model is active control: an inertial sensor that drives an actuator through feedback or feedforward.
 *
 * Judged from the blocks of the diagram. A block is an inertial sensor if it is marked as one, or if it takes the velocity
 * of a body or of the floor and does not respond to a constant one, as every real inertial sensor. Levelling, mechanical or
 * electronic, measures against the floor and is not active control.
 * @param model - of any concept
 * @returns see {@link ControlElements}
 * @throws {@link IsolationError} `invalid-option`
 * @source common practice, no source
 * @example
 * import { controlElements, passiveIsolation } from 'restmass'
 * controlElements(passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 100 } })).active // false
 */
export function controlElements(model: IsolationModel): ControlElements {
  const { diagram } = checkModel(scopeOf('controlElements'), model)
  const names = Object.keys(diagram.blocks)
  const sensors = names.filter((name) => isInertialSensor(diagram, name))
  const actuators = names.filter((name) => diagram.blocks[name].role === 'actuator')
  const driven = actuators.filter((name) => sensors.some((sensor) => drives(diagram, sensor, name)))
  const levelled = names.some((name) => diagram.blocks[name].role === 'valve')
  const active = driven.length > 0
  return {
    kind: 'ControlElements',
    inertialSensor: sensors.length > 0,
    controlLoop: active,
    actuator: actuators.length > 0,
    active,
    reasons: [
      sensors.length > 0 ? `inertial sensor: ${sensors.join(', ')}` : 'no inertial sensor',
      actuators.length > 0 ? `actuator: ${actuators.join(', ')}` : 'no actuator',
      active ? `driven by an inertial sensor: ${driven.join(', ')}` : 'no inertial sensor drives an actuator',
      ...(levelled && !active ? ['levelling holds the height above the floor; it is not active control'] : []),
    ],
  }
}

function isInertialSensor(diagram: Diagram, name: string): boolean {
  if (diagram.blocks[name].role === 'inertialSensor') return true
  const block = stateForm(diagram, name)
  if (block.role !== undefined || block.inputs.length !== 1 || block.A.length === 0) return false
  const sources = sourcesOf(diagram.wires[`${name}.${block.inputs[0]}`])
  return sources.length === 1 && isVelocityInSpace(sources[0]) && ignoresConstantInput(block)
}

function stateForm(diagram: Diagram, name: string): StateSpace {
  return blockSystem(within(scopeOf('controlElements'), `diagram.blocks.${name}`), diagram.blocks[name])
}

function isVelocityInSpace(source: string): boolean {
  return /^-?(floorVelocity|[a-zA-Z0-9_]*floorVelocity|[a-zA-Z0-9_]+\.(velocity|sensorVelocity))$/.test(source)
}

function ignoresConstantInput(block: StateSpace): boolean {
  const still = responseKernel(denseSystem(block), 1).at(0, 0)
  if (still === null) return false
  const size = Math.max(...still.re.map(Math.abs))
  const scale = Math.max(...block.D.flat().map(Math.abs), ...block.C.flat().map(Math.abs))
  return scale > 0 && size <= 1e-9 * scale
}

/** Whether a signal path leads from one block to another without passing an actuator on the way. */
function drives(diagram: Diagram, from: string, to: string): boolean {
  const seen = new Set([from])
  const open = [from]
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    for (const target of Object.keys(diagram.blocks)) {
      if (seen.has(target) || !feeds(diagram, name, target)) continue
      if (target === to) return true
      seen.add(target)
      if (diagram.blocks[target].role !== 'actuator' && !isDead(stateForm(diagram, target))) open.push(target)
    }
  }
  return false
}

function feeds(diagram: Diagram, from: string, to: string): boolean {
  return diagram.blocks[to].inputs.some((input) =>
    sourcesOf(diagram.wires[`${to}.${input}`]).some((source) => unsigned(source).startsWith(`${from}.`)),
  )
}

/** A block that passes nothing on from any input to any output, such as a controller of gain zero. */
function isDead(block: StateSpace): boolean {
  return block.inputs.every((_, input) =>
    block.outputs.every((_, output) => {
      const { A, D, delays } = relevantPart(block, input, output)
      return A.length === 0 && delays === null && D[0][0] === 0
    }),
  )
}
