import { lineRow } from '../elements/rigid-payload-lines.js'
import { checkDirection, checkPoint } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import { checkList, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { Wire } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import { numbered } from '../systems/numbered.js'
import type { StateSpace } from '../systems/types.js'
import { motorLimits } from './actuator-limits.js'
import {
  type ActuatorOptions,
  actuatorBlock,
  delayed,
  type Fragment,
  type SensorOptions,
  sensorBlock,
} from './inertial-path.js'
import type { ModelLimit, ModelLoop, NoiseSource } from './model.js'
import { type Coordinate, combined, coordinateOf, type SixAxisLoop, type SixAxisPlant } from './six-axis-coordinates.js'
import { axes, sixNames, sixWires } from './six-axis-ports.js'
import { withTilt } from './tilted-sensor.js'

/** A velocity sensor on the payload. */
export interface SixAxisSensor {
  /** [m] */
  readonly position: Point
  /** Where it counts up; any length above 0 */
  readonly direction: Point
  /** With a lower corner it reads tilt as well, in a level direction as g·θ/ω². @defaultValue exact, without tilt */
  readonly sensor?: SensorOptions
}

/** A force actuator between floor and payload. */
export interface SixAxisActuator {
  /** Where it takes hold of the payload [m] */
  readonly position: Point
  /** Where it pushes the payload; any length above 0 */
  readonly direction: Point
  /** @defaultValue an exact actuator */
  readonly actuator?: ActuatorOptions
}

/** Active damping in decoupled coordinates. */
export interface SixAxisDampingOptions {
  /** Together they tell the coordinate of each loop from all other motion */
  readonly sensors: readonly SixAxisSensor[]
  /** Together they drive the coordinate of each loop alone */
  readonly actuators: readonly SixAxisActuator[]
  /** At least one, each with a coordinate of its own */
  readonly loops: readonly SixAxisLoop[]
  /** Delay of every loop [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** Blocks from `payload.velocity…` to the forces of the actuators. */
export interface SixAxisDamping extends Fragment {
  /** Force of each actuator, its noise included, and how far those are stretched whose stroke is known */
  readonly outputs: Readonly<Record<string, Wire>>
  readonly loops: readonly ModelLoop[]
  readonly noiseSources: readonly NoiseSource[]
  readonly limits: readonly ModelLimit[]
}

interface Placed<T> {
  readonly at: Scope
  readonly entry: T
  readonly direction: Point
  readonly row: readonly number[]
}

/** Sensors, a matrix to coordinates, a controller each, a matrix to actuators: a force −g times the velocity. */
export function sixAxisDamping(scope: Scope, options: SixAxisDampingOptions, plant: SixAxisPlant): SixAxisDamping {
  checkOptions(scope, options, ['sensors', 'actuators', 'loops', 'delay'])
  const sensors = placed<SixAxisSensor>(scope, 'sensors', 'sensor', options.sensors, plant.reference)
  const actuators = placed<SixAxisActuator>(scope, 'actuators', 'actuator', options.actuators, plant.reference)
  const loops = listOf<SixAxisLoop>(scope, 'loops', options.loops).map(({ at, entry }) =>
    coordinateOf(at, entry, plant),
  )
  loops.forEach(({ at, name }, k) => {
    if (loops.findIndex((loop) => loop.name === name) < k) fail('invalid-option', at, `is ${name} a second time`)
  })
  const sensing = sensorPath(sensors, loops, plant, combined(within(scope, 'sensors'), sensors.map(rowOf), loops))
  const control = controlPath(scope, loops, options.delay)
  const driving = actuatorPath(actuators, loops, combined(within(scope, 'actuators'), actuators.map(rowOf), loops))
  return {
    blocks: { ...sensing.blocks, ...control.blocks, ...driving.blocks },
    wires: { ...sensing.wires, ...control.wires, ...driving.wires },
    outputs: driving.outputs,
    loops: [
      ...loops.map(({ name }, k) => ({ name: `damping, ${name}`, port: `controller${k + 1}.force` })),
      ...loops.flatMap(({ name, position }, k) =>
        position === null ? [] : [{ name: `position, ${name}`, port: `positionController${k + 1}.force` }],
      ),
    ],
    noiseSources: [...sensing.noiseSources, ...driving.noiseSources],
    limits: driving.limits,
  }
}

function sensorPath(
  sensors: readonly Placed<SixAxisSensor>[],
  loops: readonly Coordinate[],
  { payload: { gravity } }: SixAxisPlant,
  factors: readonly (readonly number[])[],
): Fragment & { readonly noiseSources: NoiseSource[] } {
  const tilts = sensors.map(({ direction: [x, y] }) => [0, 0, 0, y, -x, 0])
  const blocks: Record<string, StateSpace> = {
    sensorLines: gain([...sensors.map(rowOf), ...tilts], {
      inputs: sixNames('velocity'),
      outputs: [...numbered('velocity', sensors), ...numbered('tilting', sensors)],
    }),
    coordinates: gain(factors, { inputs: numbered('signal', sensors), outputs: numbered('velocity', loops) }),
  }
  const wires: Record<string, Wire> = sixWires('sensorLines.velocity', ['payload.velocity'])
  const noiseSources = sensors.map(({ at, entry, direction }, i): NoiseSource => {
    const { block, noise } = sensorBlock(at, entry.sensor)
    const level = gravity > 0 && Math.hypot(direction[0], direction[1]) > 1e-12
    const name = `sensor${i + 1}`
    blocks[name] = level ? withTilt(within(at, 'sensor'), block, gravity) : block
    for (const input of blocks[name].inputs) wires[`${name}.${input}`] = `sensorLines.${input}${i + 1}`
    wires[`coordinates.signal${i + 1}`] = [`${name}.signal`, `sensorNoise${i + 1}`]
    return { input: `sensorNoise${i + 1}`, unit: 'm/s', noise }
  })
  return { blocks, wires, noiseSources }
}

function controlPath(scope: Scope, loops: readonly Coordinate[], delay: number | undefined): Fragment {
  const blocks: Record<string, StateSpace> = {}
  const wires: Record<string, Wire> = {}
  const held = loops.filter(({ position }) => position !== null)
  if (held.length > 0) {
    const rows = held.map(({ dual }) => dual)
    const outputs = numbered('stretch', held)
    blocks.positions = { ...gain(rows, { inputs: sixNames('stretch'), outputs }), role: 'relativeSensor' }
    Object.assign(wires, sixWires('positions.stretch', ['mounts.stretch']))
  }
  loops.forEach(({ strength, position }, k) => {
    const name = `controller${k + 1}`
    blocks[name] = { ...gain(strength, { inputs: ['velocity'], outputs: ['force'] }), role: 'controller' }
    wires[`${name}.velocity`] = `coordinates.velocity${k + 1}`
    const sources = [`${name}.force`]
    if (position !== null) {
      blocks[`positionController${k + 1}`] = positionBlock(position)
      wires[`positionController${k + 1}.stretch`] = `positions.stretch${held.indexOf(loops[k]) + 1}`
      sources.push(`positionController${k + 1}.force`)
    }
    const forces = sources.map((source, i) => {
      const late = delayed(scope, delay, `${i === 0 ? 'delay' : 'positionDelay'}${k + 1}`, source)
      Object.assign(blocks, late.blocks)
      Object.assign(wires, late.wires)
      return `-${late.source}`
    })
    wires[`distribution.force${k + 1}`] = forces
  })
  return { blocks, wires }
}

/** Stretch in, stiffness · (1 + integralRate/s) of it out. */
function positionBlock({ stiffness, integralRate }: NonNullable<Coordinate['position']>): StateSpace {
  const ports = { inputs: ['stretch'], outputs: ['force'] }
  const block = gain(stiffness, ports)
  const integral = { A: [[0]], B: [[1]], C: [[stiffness * integralRate]], states: ['integral'] }
  return { ...block, ...(integralRate > 0 ? integral : {}), role: 'controller' }
}

function actuatorPath(
  actuators: readonly Placed<SixAxisActuator>[],
  loops: readonly Coordinate[],
  factors: readonly (readonly number[])[],
): Pick<SixAxisDamping, 'blocks' | 'wires' | 'outputs' | 'noiseSources' | 'limits'> {
  const blocks: Record<string, StateSpace> = {
    distribution: gain(
      actuators.map((_, j) => factors.map((row) => row[j])),
      { inputs: numbered('force', loops), outputs: numbered('command', actuators) },
    ),
    actuatorLines: gain(
      axes.map((_, i) => actuators.map(({ row }) => row[i])),
      { inputs: numbered('force', actuators), outputs: sixNames('force') },
    ),
  }
  const wires: Record<string, Wire> = {}
  const limits: ModelLimit[] = []
  const outputs: Record<string, Wire> = {}
  const noiseSources = actuators.map(({ at, entry }, j): NoiseSource => {
    const { block, record } = actuatorBlock(at, entry.actuator, 'force')
    blocks[`actuator${j + 1}`] = block
    wires[`actuator${j + 1}.command`] = `distribution.command${j + 1}`
    wires[`actuatorLines.force${j + 1}`] = [`actuator${j + 1}.force`, `actuatorNoise${j + 1}`]
    const [force, stretch] = [`actuatorForce${j + 1}`, `actuatorStretch${j + 1}`]
    outputs[force] = [`actuator${j + 1}.force`, `actuatorNoise${j + 1}`]
    if (record.limits.stroke !== undefined) outputs[stretch] = `travels.stretch${j + 1}`
    limits.push(...motorLimits(force, stretch, `${j + 1}`, record.limits))
    return { input: `actuatorNoise${j + 1}`, unit: 'N', noise: record.noise }
  })
  if (Object.keys(outputs).length > actuators.length) {
    const ports = { inputs: sixNames('stretch'), outputs: numbered('stretch', actuators) }
    blocks.travels = gain(actuators.map(rowOf), ports)
    Object.assign(wires, sixWires('travels.stretch', ['mounts.stretch']))
  }
  return { blocks, wires, outputs, noiseSources, limits }
}

/** Instruments with their place, and the row that turns motion at the reference into motion along them. */
function placed<T extends { readonly position: Point; readonly direction: Point }>(
  scope: Scope,
  key: string,
  instrument: string,
  list: readonly T[],
  reference: Point,
): Placed<T>[] {
  return listOf<T>(scope, key, list).map(({ at, entry }) => {
    checkOptions(at, entry, ['position', 'direction', instrument])
    const position = checkPoint(at, 'position', entry.position)
    const direction = checkDirection(at, 'direction', entry.direction)
    return { at, entry, direction, row: lineRow(position, direction, reference) }
  })
}

function listOf<T>(scope: Scope, key: string, list: readonly T[]): { readonly at: Scope; readonly entry: T }[] {
  const at = within(scope, key)
  return checkList(scope, key, list, 1).map((entry, i) => ({ at: within(at, i), entry }))
}

function rowOf({ row }: { readonly row: readonly number[] }): readonly number[] {
  return row
}
