import { airSpring, idealActuator, piezoStack } from '../../../src/elements/index.js'
import type { Point } from '../../../src/elements/rigid-payload-types.js'
import type {
  ActivelyDampedIsolationOptions,
  IsolationOptions,
  ParallelActiveIsolationOptions,
  PassiveIsolationOptions,
  PneumaticIsolationOptions,
  SeriesActiveIsolationOptions,
  SixAxisIsolationOptions,
  StackedIsolationOptions,
} from '../../../src/isolation/index.js'
import { firstOrder, hertz } from './round-numbers.js'

// Options that leave none of their nested ones out, in numbers so round that each entry of a matrix can be checked by hand.

const hanging = { mass: 2, naturalFrequency: hertz(3), dampingRatio: 0.5 }
const mode = {
  modalMass: 4,
  naturalFrequency: hertz(10),
  dampingRatio: 0.25,
  mountShape: 0.5,
  sensorShape: -1,
  payloadShape: 2,
}
export const payload = { mass: 8 }
export const mount = { stiffness: 800, damping: 40, relaxations: [{ stiffness: 100, time: 0.5 }] }
const geophone = { naturalFrequency: hertz(2), dampingRatio: 0.5 }
const motor = { bandwidth: hertz(100) }
const limited = {
  ...idealActuator({ bandwidth: hertz(50) }),
  limits: { force: 30, continuousForce: 10, stroke: 0.02, rate: 500 },
  noise: { frequency: Float64Array.of(1, 100), amplitudeDensity: Float64Array.of(1e-3, 2e-3) },
}
const floorBody = { mass: 1000, stiffness: 9e6, damping: 6000 }
const floorModes = {
  modes: [
    { modalMass: 500, naturalFrequency: hertz(100), dampingRatio: 0.05, neighbourShape: -0.5 },
    { modalMass: 250, naturalFrequency: hertz(200), dampingRatio: 0.1 },
  ],
}
// 1.4 · 2e5 Pa · (0.01 m²)² / 0.002 m³ = 14 kN/m of gas, 1 kN/m of diaphragm; four of them carry 4 kN
const air = (options: object = {}) =>
  airSpring({
    area: 0.01,
    volume: 0.002,
    load: 1000,
    ambientPressure: 1e5,
    polytropicExponent: 1.4,
    diaphragmStiffness: 1000,
    diaphragmDamping: 50,
    lateral: { stiffness: 4000, damping: 20 },
    ...options,
  })
export const onAir = { payload: { mass: 4000 / 9.80665 }, mount: air(), count: 4 }
export const levelling = {
  flowGain: 0.02,
  deadBand: 1e-4,
  sensor: { bandwidth: hertz(80) },
  controller: firstOrder(5),
  delay: 0.01,
}

const passive: Record<string, PassiveIsolationOptions> = {
  'on a floor by its modes, with a part that hangs': {
    payload: { mass: 8, appendages: [hanging] },
    mount,
    count: 2,
    floor: floorModes,
  },
  'on a floor that is a body, with a mode': {
    payload: { mass: 8, appendages: [mode, hanging] },
    mount: { stiffness: 800, surge: [{ mass: 2, naturalFrequency: hertz(20), dampingRatio: 0.1, modes: 2 }] },
    floor: floorBody,
  },
}

const pneumatic: Record<string, PneumaticIsolationOptions> = {
  'with every part of a valve': { ...onAir, levelling },
}

const activelyDamped: Record<string, ActivelyDampedIsolationOptions> = {
  'by gain, with every part of a loop': {
    payload: { mass: 8, appendages: [mode] },
    mount,
    damping: { gain: 200, sensor: geophone, actuator: motor, delay: 0.01 },
  },
  'by ratio, levelled, with bounds': {
    ...onAir,
    levelling: { flowGain: 0.02 },
    damping: { dampingRatio: 0.5, actuator: limited },
  },
}

const parallelActive: Record<string, ParallelActiveIsolationOptions> = {
  'with a virtual mass through a motor that rolls off': {
    payload: { mass: 8, appendages: [mode] },
    mount,
    feedback: { velocityGain: 200, accelerationGain: 5, sensor: geophone, actuator: motor, delay: 0.01 },
    feedforward: { gain: 0.75, delay: 0.03, preview: 0.01, actuator: limited },
    floor: floorModes,
  },
  'with a virtual mass through an exact motor': {
    payload: { mass: 8, appendages: [hanging] },
    mount,
    feedback: { velocityGain: 200, accelerationGain: 5, sensor: geophone },
    feedforward: { gain: 0.75 },
  },
}

export const activeStage = {
  mass: 2,
  actuator: { stiffness: 9000, damping: 60, stroke: 0.004 },
  sensor: geophone,
  sensorLocation: 'activeStage' as const,
  controller: { gain: 3, highPass: hertz(0.5), lowPass: hertz(40) },
  delay: 0.01,
}
const seriesActive: Record<string, SeriesActiveIsolationOptions> = {
  'with feedback, on coils': {
    payload: { mass: 8, appendages: [mode] },
    mount: { stiffness: 800, surge: [{ mass: 2, naturalFrequency: hertz(20), dampingRatio: 0.1, modes: 1 }] },
    activeStage,
  },
  'with feedforward, levelled, on a floor': {
    ...onAir,
    levelling,
    activeStage: {
      ...activeStage,
      sensorLocation: 'floor',
      actuator: piezoStack({ stiffness: 9000, damping: 60, stroke: 0.004, bandwidth: hertz(300), rate: 0.5 }),
      controller: firstOrder(5),
    },
    floor: floorBody,
  },
}

const corners = [-1, 1].flatMap((x) => [-1, 1].map((y) => [x, y, 0] as Point))
const sideways = [
  { stiffness: 400, damping: 10 },
  { stiffness: 900, damping: 20 },
] as const
export const onSprings = {
  mass: 10,
  inertia: [4, 5, 8] as Point,
  centreOfMass: [0, 0, 0] as Point,
  gravity: 10,
  supports: corners.map((position) => ({ position, mount, lateral: sideways })),
}
export const onValves = {
  mass: 400,
  inertia: [100, 200, 300] as Point,
  centreOfMass: [0, 0, 0] as Point,
  gravity: 10,
  supports: corners.map((position, i) => ({ position, mount: air(), valveGroup: ['left', 'left', 'near', 'far'][i] })),
}
const upright = [0, 0, 1] as Point
const along = [1, 0, 0] as Point
export const damping = {
  sensors: [
    { position: [0, 0, 0] as Point, direction: upright, sensor: geophone },
    { position: [0, 0, 0] as Point, direction: along, sensor: geophone },
    { position: [0, 0, 0] as Point, direction: [0, 1, 0] as Point },
    { position: [0, 1, 0] as Point, direction: upright },
    { position: [1, 0, 0] as Point, direction: upright },
    { position: [0, 1, 0] as Point, direction: along },
  ],
  actuators: [
    { position: [0, 0, 0] as Point, direction: upright, actuator: motor },
    { position: [0, 0, 0] as Point, direction: along, actuator: limited },
    { position: [0, 0, 0] as Point, direction: [0, 1, 0] as Point },
    { position: [0, 2, 0] as Point, direction: upright },
    { position: [2, 0, 0] as Point, direction: upright },
    { position: [0, 2, 0] as Point, direction: along },
  ],
  loops: [
    { axis: 'Z' as const, gain: 30, position: { stiffness: 70, integralRate: 0.5 } },
    { axis: 'X' as const, dampingRatio: 0.5 },
    { axis: 'Rz' as const, gain: 7, position: { stiffness: 11 } },
  ],
  delay: 0.01,
}
const sixAxis: Record<string, SixAxisIsolationOptions> = {
  'damped, on a floor by axes': {
    payload: onSprings,
    reference: [0, 0, 0],
    points: { tool: [0, 1, 2], mirror: [1, 0, 2] },
    differences: { gap: ['tool', 'mirror'] },
    appendages: [
      { mass: 1, naturalFrequency: hertz(20), dampingRatio: 0.25, position: [1, 0, 0], direction: [0, 0, 2] },
      { mass: 2, naturalFrequency: hertz(10), dampingRatio: 0.5, position: [0, 0, 1], direction: [1, 0, 0] },
    ],
    damping,
    floor: { position: [0, 0, -1], axes: { Z: floorModes, X: floorBody } },
    tipping: 'model',
  },
  'damped in modes': {
    payload: onSprings,
    damping: {
      ...damping,
      sensors: damping.sensors.map(({ position, direction }) => ({ position, direction })),
      loops: [
        { mode: 2, gain: 3, position: { stiffness: 5, integralRate: 0 } },
        { mode: 1, dampingRatio: 0.5 },
      ],
      delay: 0,
    },
  },
  'levelled, with a line between chambers, on a floor by modes': {
    payload: onValves,
    levelling,
    sharedLine: { flowResistance: 1e6 },
    floor: {
      position: [0, 0, -1],
      modes: [
        {
          modalMass: 500,
          naturalFrequency: hertz(100),
          dampingRatio: 0.05,
          shape: [1, 0, 0, 0, 0.5, 0],
          neighbourShape: [0.5, 0, 0, 0, 0, 0.25],
        },
      ],
    },
  },
  'with feet that move by themselves': { payload: { ...onSprings, centreOfMass: [0, 0, 1] }, feet: 'independent' },
}

const sixAxisFloor = { axes: { Rx: { mass: 100, stiffness: 4e4, damping: 200 } } }
const stacked: Record<string, StackedIsolationOptions> = {
  'levelled beneath, active above': {
    lower: { concept: 'pneumatic', ...onAir, payload: { mass: 4000 / 9.80665 - 10 }, levelling },
    upper: { concept: 'seriesActive', payload: { mass: 8 }, mount, activeStage },
    floor: floorBody,
  },
  'of three, in six axes': {
    lower: { concept: 'sixAxis', payload: onSprings },
    upper: {
      concept: 'stacked',
      lower: {
        concept: 'sixAxis',
        payload: { ...onSprings, mass: 4 },
        damping: {
          sensors: damping.sensors.slice(0, 1),
          actuators: damping.actuators.slice(0, 1),
          loops: damping.loops.slice(0, 1),
        },
      },
      upper: { concept: 'sixAxis', payload: { ...onSprings, mass: 2, centreOfMass: [0, 0, 0.5] } },
    },
    floor: sixAxisFloor,
  },
}

const concepts = { passive, pneumatic, activelyDamped, parallelActive, seriesActive, stacked, sixAxis }

/** Every concept with all that its options can hold, by a description of what there is. */
export const fullModels: readonly (readonly [string, IsolationOptions])[] = Object.entries(concepts).flatMap(
  ([concept, cases]) =>
    Object.entries(cases).map(
      ([what, options]) => [`${concept}, ${what}`, { concept, ...options } as IsolationOptions] as const,
    ),
)

/** The same as arguments of the function of each concept. */
export const fullCalls: Readonly<Record<string, readonly (readonly unknown[])[]>> = Object.fromEntries(
  Object.entries(concepts).map(([concept, cases]) => [
    `${concept}Isolation`,
    Object.values<object>(cases).map((options) => [options]),
  ]),
)
