import type { ActuatorLimits } from '../elements/types.js'
import type { Scope } from '../internal/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { negative } from '../systems/wire-sources.js'
import { motorLimits } from './actuator-limits.js'
import { type CheckedPayload, checkPayload, type PayloadOptions } from './bodies.js'
import { onFloor } from './floor.js'
import type { FloorOptions } from './floor-mobility.js'
import {
  type ActuatorOptions,
  actuatorBlock,
  delayed,
  type Fragment,
  type SensorOptions,
  sensorBlock,
} from './inertial-path.js'
import type { Storey } from './model.js'
import { integralInput, velocityController, withRate } from './rate.js'
import { type SuspensionOptions, suspension } from './suspension.js'

/** Gains of the force against velocity and acceleration of the payload. */
export interface FeedbackGains {
  /** [N·s/m] */
  readonly velocityGain: number
  /** [kg] */
  readonly accelerationGain: number
}

/** What a concept with inertial feedback adds to a suspended payload. */
export interface FeedbackDesign {
  readonly concept: 'activelyDamped' | 'parallelActive'
  /** Name of the main loop */
  readonly loop: string
  /** Scope of the options in `path` */
  readonly at: Scope
  readonly path: { readonly sensor?: SensorOptions; readonly actuator?: ActuatorOptions; readonly delay?: number }
  /** Mass that stands on the payload [kg] */
  readonly above: number
  readonly gains: (stiffness: number) => FeedbackGains
  /** Blocks that drive a second force from `reactionForce`; the source is that force on the payload. */
  readonly feedforward?: Fragment & { readonly source: Source; readonly limits: ActuatorLimits }
}

/** A payload on mounts with a motor in parallel: force = −(g_v + s g_a) A e^(−sτ) S v, its reaction on the body beneath. */
export function feedbackStorey(
  scope: Scope,
  options: SuspensionOptions & { readonly payload: PayloadOptions; readonly floor?: FloorOptions },
  design: FeedbackDesign,
): Storey {
  const { at, path } = design
  const payload = checkPayload(scope, options.payload)
  const weight = payload.mass + design.above
  const springs = suspension(scope, options, weight, ['payload.velocity', '-floorVelocity'])
  const feedback = feedbackPath(at, path, payload, design.gains(springs.stiffness))
  const forces: Source[] = [
    'actuator.force',
    'actuatorNoise',
    ...(design.feedforward ? [design.feedforward.source] : []),
  ]
  return onFloor(scope, options.floor, {
    concept: design.concept,
    diagram: {
      blocks: {
        payload: payload.block,
        ...springs.blocks,
        ...feedback.blocks,
        ...design.feedforward?.blocks,
      },
      inputs: [
        'floorVelocity',
        'payloadForce',
        'reactionForce',
        ...(feedback.noisy ? ['sensorNoise'] : []),
        'actuatorNoise',
      ],
      outputs: {
        payloadVelocity: payload.velocity,
        stretch: springs.stretch,
        floorForce: [...springs.lowerTension, ...forces.map(negative)],
        actuatorForce: forces,
      },
      wires: {
        ...springs.wires,
        ...feedback.wires,
        ...design.feedforward?.wires,
        ...payload.driven(springs.tension.map(negative), forces, ['payloadForce', 'reactionForce']),
      },
    },
    loops: [{ name: design.loop, port: 'actuator.force' }, ...springs.loops],
    noiseSources: [
      ...(feedback.noisy ? [{ input: 'sensorNoise', unit: 'm/s' as const, noise: feedback.sensorNoise }] : []),
      { input: 'actuatorNoise', unit: 'N', noise: feedback.actuatorNoise },
    ],
    limits: [
      ...motorLimits('actuatorForce', 'stretch', '', feedback.limits, design.feedforward?.limits),
      ...springs.limits,
    ],
    weight,
    floorLoops: [],
  })
}

/** Sensor, controller, delay and actuator in a row. The derivative that acceleration feedback needs is taken where it is
 * proper: in an actuator that rolls off, else as the sensor's response to the payload's acceleration. */
function feedbackPath(
  at: Scope,
  path: FeedbackDesign['path'],
  payload: CheckedPayload,
  { velocityGain, accelerationGain }: FeedbackGains,
) {
  const sensor = sensorBlock(at, path.sensor)
  const { block: actuator, record } = actuatorBlock(at, path.actuator, 'force')
  const rollsOff = actuator.D[0][0] === 0 && actuator.delays === null
  const differentiates = accelerationGain !== 0
  const noisy = !differentiates || rollsOff
  const blocks: Record<string, StateSpace> = { sensor: sensor.block }
  const wires: Record<string, Wire> = { 'sensor.velocity': payload.sensed }
  const signal: Source[] = noisy ? ['sensor.signal', 'sensorNoise'] : ['sensor.signal']
  blocks.controller = velocityController(velocityGain, differentiates ? accelerationGain : null, !noisy)
  wires['controller.signal'] = signal
  const force = delayed(at, path.delay, 'delay', 'controller.force')
  Object.assign(blocks, force.blocks)
  Object.assign(wires, force.wires)
  blocks.actuator = actuator
  wires['actuator.command'] = negative(force.source)
  if (differentiates && noisy) {
    const impulse = delayed(at, path.delay, 'impulseDelay', 'controller.impulse')
    Object.assign(blocks, impulse.blocks, { actuator: integralInput(actuator) })
    Object.assign(wires, impulse.wires, { 'actuator.impulse': negative(impulse.source) })
  } else if (differentiates) {
    blocks.sensor = withRate(sensor.block)
    Object.assign(wires, { 'sensor.acceleration': payload.acceleration, 'controller.rate': 'sensor.rate' })
  }
  return {
    blocks,
    wires,
    noisy,
    sensorNoise: sensor.noise,
    actuatorNoise: record.noise,
    limits: record.limits,
  }
}
