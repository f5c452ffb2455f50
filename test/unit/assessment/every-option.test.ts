import * as assessment from '../../../src/assessment/index.js'
import { motionProfile, type Point, voiceCoil } from '../../../src/elements/index.js'
import { activelyDampedIsolation, sixAxisIsolation } from '../../../src/isolation/index.js'
import { spectrum, transferEstimate } from '../../../src/vibration/index.js'
import { everyOption } from '../every-option.js'
import { flatFloor, voigt } from './sites.js'

const floor = flatFloor(1e-14, 0.5, 100)
const payloadForce = spectrum({ quantity: 'force', frequency: [0.5, 100], density: [1e-20, 1e-20] })
const profile = motionProfile({ distance: 0.05, maxVelocity: 1, maxAcceleration: 2 })
const settled = { band: 1e-3, padeOrder: 3 }
const settling = { ...settled, within: 10, sampleTime: 0.01 }
const site = {
  floor: { z: floor },
  payloadForce: { z: payloadForce },
  axis: 'z',
  criterion: 'VC-A',
  minimumModulusMargin: 0.4,
  duration: 1e6,
  confidence: 0.9,
  statistic: 'average',
  sensorNoise: flatFloor(1e-20, 0.5, 100),
  moves: [{ profile, movingMass: 1e-3, repeatEvery: 10 }],
  settling,
  tolerance: { limit: 1, of: 'payload', exposure: 1, measure: 'peak' },
}
const table = voigt(2, 0.5)
const mount = { stiffness: 1e5, damping: 3e3 }
const feet = [-1, 1].flatMap((x) => [-1, 1].map((y): Point => [x, y, 0]))
const six = sixAxisIsolation({
  payload: {
    mass: 1000,
    inertia: [90, 90, 160],
    centreOfMass: [0, 0, 0],
    supports: feet.map((position) => ({ position, mount: { ...mount, lateral: mount } })),
  },
})
const push = { profile, movingMass: 1, direction: [1, 0, 0], position: [0, 0, 0] }
const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50 })
const damped = activelyDampedIsolation({ payload: { mass: 100 }, mount, damping: { gain: 2000, actuator: coil } })
const record = { inputs: { payloadForce: [0, 1, 0] }, sampleTime: 0.01 }
const noise = Array.from({ length: 512 }, (_, n) => Math.sin(n * n * 0.7))
const estimate = transferEstimate({ input: noise, output: noise, sampleRate: 100, segmentLength: 64 })
const stage = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }, delay: 1e-4 }
const series = { payload: { mass: 1100 }, mount, count: 4, activeStage: stage }

everyOption(assessment, 'assessment', {
  actuatorEffort: [
    [damped, { floor, payloadForce, record, moves: [{ profile, movingMass: 1 }], actuators: {}, padeOrder: 3 }],
  ],
  assess: [[table, site]],
  compareConcepts: [[{ table }, site, { cost: { table: 1 }, marginDecibels: 1, improvement: 2, changes: 'none' }]],
  compareToModel: [[estimate, table, { from: 1, to: 20, confidence: 0.9 }]],
  fitIsolator: [
    [
      estimate,
      { start: { naturalFrequency: 20, dampingRatio: 0.5 }, from: 1, to: 20, confidence: 0.9, model: 'viscous' },
    ],
  ],
  moveAndSettle: [
    [six, { ...settled, move: push, sampleTime: 0.01, point: 'payload' }],
    [table, { ...settled, move: { profile, movingMass: 1, repeatEvery: 10 }, sampleTime: 0.01 }],
  ],
  tuneSeriesStage: [
    [
      series,
      { floor, maxRms: 1, modulusMargin: 0.5, improvement: 2, band: [1, 100], tolerance: 0.1, objective: 'band' },
    ],
  ],
})
