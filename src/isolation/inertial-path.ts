import { checkNoise } from '../elements/check-noise.js'
import { geophone } from '../elements/geophone.js'
import { idealActuator } from '../elements/ideal-actuator.js'
import type { Actuator, Sensor } from '../elements/types.js'
import { checkNumber, checkOptional, checkOptions, fail, type Scope, show, within } from '../internal/check.js'
import { delay } from '../systems/delay.js'
import type { Source, Wire } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import type { StateSpace } from '../systems/types.js'
import { singleChannel } from './single-channel.js'

/** An inertial velocity sensor: a second-order high-pass s²/(s² + 2ζω₀s + ω₀²), or a sensor record. */
export type SensorOptions = { readonly naturalFrequency: number; readonly dampingRatio: number } | Sensor

/** An actuator: a first-order lag ω/(s + ω), or an actuator record. */
export type ActuatorOptions = { readonly bandwidth: number } | Actuator

/** Blocks and wires that belong together in a diagram. */
export interface Fragment {
  readonly blocks: Record<string, StateSpace>
  readonly wires: Record<string, Wire>
}

export interface CheckedSensor {
  readonly block: StateSpace
  readonly noise: Sensor['noise']
}

/** The sensor as a block `velocity` → `signal`; absent means exact. */
export function sensorBlock(scope: Scope, sensor: SensorOptions | undefined): CheckedSensor {
  const at = within(scope, 'sensor')
  if (sensor === undefined) {
    return { block: { ...gain(1, { inputs: ['velocity'], outputs: ['signal'] }), role: 'inertialSensor' }, noise: null }
  }
  const record = isRecordOf<Sensor>(sensor, 'Sensor') ? sensor : geophoneOf(at, sensor)
  if (record.measures !== 'velocity') {
    fail(
      'unsupported',
      within(at, 'measures'),
      `must be 'velocity' here, got ${show(record.measures)}; another sensor needs its own controller`,
    )
  }
  if (record.noise !== null) checkNoise(at, record.noise)
  return {
    block: singleChannel(within(at, 'dynamics'), record.dynamics, 'velocity', 'signal', 'inertialSensor'),
    noise: record.noise,
  }
}

/** The actuator as a block `command` → `output`; absent means exact. */
export function actuatorBlock(
  scope: Scope,
  actuator: ActuatorOptions | undefined,
  output: string,
): { block: StateSpace; record: Actuator } {
  const at = within(scope, 'actuator')
  if (actuator !== undefined && !isRecordOf<Actuator>(actuator, 'Actuator')) checkOptions(at, actuator, ['bandwidth'])
  const record = isRecordOf<Actuator>(actuator, 'Actuator')
    ? actuator
    : idealActuator(
        actuator === undefined
          ? {}
          : { bandwidth: checkNumber(at, 'bandwidth', actuator.bandwidth, { unit: 'Hz', above: 0 }) },
      )
  const limits = checkOptions(within(at, 'limits'), record.limits, limitNames)
  for (const name of limitNames) {
    if (limits[name] !== undefined) checkNumber(within(at, 'limits'), name, limits[name], { above: 0 })
  }
  if (record.noise !== null) checkNoise(at, record.noise)
  return { block: singleChannel(within(at, 'dynamics'), record.dynamics, 'command', output, 'actuator'), record }
}

const limitNames = ['force', 'continuousForce', 'stroke', 'rate'] as const

/** A pure delay as a fragment that stands between `from` and the returned source; none for zero seconds. */
export function delayed(scope: Scope, seconds: unknown, name: string, from: Source): Fragment & { source: Source } {
  const tau = checkOptional(scope, 'delay', seconds, { unit: 's', atLeast: 0 }, 0)
  if (tau === 0) return { blocks: {}, wires: {}, source: from }
  return {
    blocks: { [name]: delay({ seconds: tau, input: 'signal', output: 'delayed' }) },
    wires: { [`${name}.signal`]: from },
    source: `${name}.delayed`,
  }
}

function geophoneOf(
  scope: Scope,
  sensor: { readonly naturalFrequency: number; readonly dampingRatio: number },
): Sensor {
  checkOptions(scope, sensor, ['naturalFrequency', 'dampingRatio'])
  return geophone({
    naturalFrequency: checkNumber(scope, 'naturalFrequency', sensor.naturalFrequency, { unit: 'Hz', above: 0 }),
    dampingRatio: checkNumber(scope, 'dampingRatio', sensor.dampingRatio, { above: 0 }),
  })
}

function isRecordOf<T extends { kind: string }>(value: unknown, kind: T['kind']): value is T {
  return typeof value === 'object' && value !== null && (value as { kind?: unknown }).kind === kind
}
