import type { Actuator, Mount } from '../elements/types.js'
import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { StateSpace } from '../systems/types.js'
import { negative } from '../systems/wire-sources.js'
import { actuatorLimits } from './actuator-limits.js'
import { checkPayload, massBlock, type PayloadOptions } from './bodies.js'
import { onFloor } from './floor.js'
import type { FloorOptions } from './floor-mobility.js'
import { actuatorBlock, delayed, type SensorOptions, sensorBlock } from './inertial-path.js'
import type { LevellingOptions } from './levelling.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'
import { singleChannel } from './single-channel.js'
import { suspension } from './suspension.js'

/** Controller from measured velocity to commanded expansion: gain · 1/(s + ω_h) · ω_l/(s + ω_l). */
export interface SeriesControllerOptions {
  /** Expansion against displacement in band, no unit */
  readonly gain: number
  /** Corner below which the integration stops [Hz], above 0 */
  readonly highPass: number
  /** Corner above which the gain falls [Hz], above 0 */
  readonly lowPass: number
}

/** Stiff actuators between floor and active stage. */
export interface SeriesActuatorOptions {
  /** Stiffness of all actuators together [N/m], above 0 */
  readonly stiffness: number
  /** Damping of all actuators together [N·s/m], at least 0. @defaultValue 0 */
  readonly damping?: number
  /** Whole travel from end to end [m], above 0; the actuators rest in the middle of it */
  readonly stroke: number
}

/** The active stage of {@link seriesActiveIsolation}. */
export interface ActiveStageOptions {
  /** Mass between actuators and mounts [kg], above 0 */
  readonly mass: number
  /** Stiffness and stroke, or the record of a `piezoStack`, whose dynamics then take part */
  readonly actuator: SeriesActuatorOptions | (Actuator & SeriesActuatorOptions)
  /** @defaultValue an exact velocity sensor */
  readonly sensor?: SensorOptions
  /** Where the sensor sits: feedback from the stage, or feedforward from the floor */
  readonly sensorLocation: 'activeStage' | 'floor'
  /** Three numbers, or any system with one input [m/s] and one output [m] */
  readonly controller: SeriesControllerOptions | StateSpace
  /** Delay of the path [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** Options of {@link seriesActiveIsolation}. */
export interface SeriesActiveIsolationOptions {
  readonly payload: PayloadOptions
  /** One mount between active stage and payload */
  readonly mount: Mount
  /** Number of mounts in parallel, above 0. @defaultValue 1 */
  readonly count?: number
  readonly activeStage: ActiveStageOptions
  /** Height control between active stage and payload, where the mount is an air spring. @defaultValue none */
  readonly levelling?: LevellingOptions
  /** A floor that gives way; a stage that senses it then has a loop. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions
}

/** Model of a stiff active stage in series with passive mounts.
 *
 *     payload       m
 *       | K(s) · count
 *     active stage  m_i
 *       | k_a + c_a s, expansion D = −C e^(−sτ) S v of stage or floor
 *     floor
 *
 * With the sensor on the floor, T = (1 − M k_a/(k_a + c_a s)) · T_mechanical with M = C e^(−sτ) S s. Piezo drives carry
 * high voltage: follow local electrical-safety codes.
 * @param options - see {@link SeriesActiveIsolationOptions}
 * @returns the diagram and the closed model; main loop `activeStage`, none where the sensor is on the floor
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`; `dimension-mismatch` for a controller
 * with other ports; `unsupported` for a sensor that does not measure velocity
 * @source derived: force balance of stage and payload; common practice, no source, for the controller
 * @example
 * import { seriesActiveIsolation } from 'restmass'
 * const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
 * const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
 * const activeStage = { mass: 60, actuator, sensorLocation: 'activeStage' as const, controller }
 * const mount = { stiffness: 3.1e6, damping: 6500 }
 * seriesActiveIsolation({ payload: { mass: 1100 }, mount, count: 4, activeStage }).loops[0].name // 'activeStage'
 */
export function seriesActiveIsolation(options: SeriesActiveIsolationOptions): IsolationModel {
  return closeStorey(seriesActiveStorey(scopeOf('seriesActiveIsolation'), options, 0))
}

export function seriesActiveStorey(scope: Scope, options: SeriesActiveIsolationOptions, above: number): Storey {
  checkOptions(scope, options, ['payload', 'mount', 'count', 'activeStage', 'levelling', 'floor'])
  const payload = checkPayload(scope, options.payload)
  const at = within(scope, 'activeStage')
  const stage = checkOptions(at, options.activeStage, [
    'mass',
    'actuator',
    'sensor',
    'sensorLocation',
    'controller',
    'delay',
  ])
  const stageMass = checkNumber(at, 'mass', stage.mass, { unit: 'kg', above: 0 })
  const location = checkOneOf(at, 'sensorLocation', stage.sensorLocation, ['activeStage', 'floor'])
  const { spring, dynamics, stroke, rate, noise } = checkActuator(at, stage.actuator)
  const springs = suspension(scope, options, payload.mass + above, ['payload.velocity', '-activeStage.velocity'])
  const sensor = sensorBlock(at, stage.sensor)
  const path = delayed(at, stage.delay, 'delay', 'controller.expansion')
  const loop = { name: 'activeStage', port: 'actuator.expansion' }
  return onFloor(scope, options.floor, {
    concept: 'seriesActive',
    diagram: {
      blocks: {
        payload: payload.block,
        ...springs.blocks,
        activeStage: massBlock(stageMass),
        actuatorSpring: spring,
        sensor: sensor.block,
        controller: controllerBlock(within(at, 'controller'), stage.controller),
        ...path.blocks,
        actuator: dynamics,
      },
      inputs: ['floorVelocity', 'payloadForce', 'reactionForce', 'sensorNoise', 'actuatorNoise'],
      outputs: {
        payloadVelocity: payload.velocity,
        stretch: springs.stretch,
        floorForce: 'actuatorSpring.tension',
        actuatorExpansion: ['actuator.expansion', 'actuatorNoise'],
      },
      wires: {
        ...springs.wires,
        ...path.wires,
        ...payload.driven(springs.tension.map(negative), [], ['payloadForce', 'reactionForce']),
        'activeStage.force': [...springs.lowerTension, '-actuatorSpring.tension'],
        'actuatorSpring.velocity': ['activeStage.velocity', '-floorVelocity'],
        'actuatorSpring.expansion': ['actuator.expansion', 'actuatorNoise'],
        'sensor.velocity': location === 'floor' ? 'floorVelocity' : 'activeStage.velocity',
        'controller.velocity': ['sensor.signal', 'sensorNoise'],
        'actuator.command': negative(path.source),
      },
    },
    loops: [...(location === 'floor' ? [] : [loop]), ...springs.loops],
    noiseSources: [
      { input: 'sensorNoise', unit: 'm/s', noise: sensor.noise },
      { input: 'actuatorNoise', unit: 'm', noise },
    ],
    limits: [
      ...actuatorLimits('actuatorExpansion', 'actuatorExpansion', 'm', { value: stroke / 2, rate }),
      ...springs.limits,
    ],
    weight: payload.mass + above + stageMass,
    floorLoops: location === 'floor' ? [loop] : [],
  })
}

function checkActuator(scope: Scope, actuator: ActiveStageOptions['actuator']) {
  const at = within(scope, 'actuator')
  const isRecord = (actuator as { kind?: unknown } | undefined)?.kind === 'Actuator'
  if (!isRecord) checkOptions(at, actuator, ['stiffness', 'damping', 'stroke'])
  const stiffness = checkNumber(at, 'stiffness', actuator.stiffness, { unit: 'N/m', above: 0 })
  const damping = checkOptional(at, 'damping', actuator.damping, { unit: 'N·s/m', atLeast: 0 }, 0)
  const stroke = checkNumber(at, 'stroke', actuator.stroke, { unit: 'm', above: 0 })
  const { block, record } = actuatorBlock(scope, isRecord ? (actuator as Actuator) : undefined, 'expansion')
  return {
    spring: actuatorSpring(stiffness, damping),
    dynamics: block,
    stroke,
    rate: record.limits.rate,
    noise: record.noise,
  }
}

/** Tension k_a (stretch − expansion) + c_a velocity; one state. */
function actuatorSpring(stiffness: number, damping: number): StateSpace {
  return {
    kind: 'StateSpace',
    A: [[0]],
    B: [[1, 0]],
    C: [[1], [stiffness]],
    D: [
      [0, 0],
      [damping, -stiffness],
    ],
    inputs: ['velocity', 'expansion'],
    outputs: ['stretch', 'tension'],
    states: ['stretch'],
    delays: null,
  }
}

function controllerBlock(scope: Scope, controller: SeriesControllerOptions | StateSpace): StateSpace {
  if ((controller as { kind?: unknown } | undefined)?.kind === 'StateSpace') {
    return singleChannel(scope, controller as StateSpace, 'velocity', 'expansion', 'controller')
  }
  const options = controller as SeriesControllerOptions
  if (typeof controller !== 'object' || controller === null) {
    fail('invalid-option', scope, `must be { gain, highPass, lowPass } or a StateSpace, got ${show(controller)}`)
  }
  checkOptions(scope, options, ['gain', 'highPass', 'lowPass'])
  const gain = checkNumber(scope, 'gain', options.gain, {})
  const high = angularFrequency(checkNumber(scope, 'highPass', options.highPass, { unit: 'Hz', above: 0 }))
  const low = angularFrequency(checkNumber(scope, 'lowPass', options.lowPass, { unit: 'Hz', above: 0 }))
  return {
    kind: 'StateSpace',
    A: [
      [-high, 0],
      [low, -low],
    ],
    B: [[gain], [0]],
    C: [[0, 1]],
    D: [[0]],
    inputs: ['velocity'],
    outputs: ['expansion'],
    states: ['integral', 'smoothed'],
    delays: null,
    role: 'controller',
  }
}
