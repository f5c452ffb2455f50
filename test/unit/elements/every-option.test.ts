import * as elements from '../../../src/elements/index.js'
import { everyOption } from '../every-option.js'

const { accelerometer, airSpring, elastomerMount, geophone, motionProfile, piezoStack, springMount } = elements

const spring = springMount({ stiffness: 1e5, damping: 500, surge: { mass: 2, dampingRatio: 0.01, modes: 2 } })
const lateral = { stiffness: 5e4, damping: 300, relaxations: [{ stiffness: 1e4, time: 0.01 }] }
const mount = { stiffness: 1e5, damping: 500, relaxations: [{ stiffness: 2e4, time: 0.05 }], lateral }
const air = airSpring({
  area: 0.01,
  volume: 2e-3,
  gaugePressure: 4e5,
  areaGradient: 0.02,
  diaphragmStiffness: 500,
  diaphragmDamping: 20,
  ratedGaugePressure: 6e5,
  dampingChamber: { volume: 4e-3, flowResistance: 1e7 },
  heatExchange: { time: 0.5 },
  lateral,
})
const noise = {
  frequency: [1, 100],
  amplitudeDensity: [1e-9, 1e-8],
  quantity: 'velocity',
  referredTo: 'motion',
} as const
const sensor = geophone({ naturalFrequency: 1, dampingRatio: 0.7, noise })
const coil = {
  forceConstant: 20,
  resistance: 5,
  inductance: 1e-3,
  bandwidth: 1000,
  maxForce: 50,
  maxCurrent: 3,
  maxVoltage: 40,
  maxHeat: 20,
  stroke: 0.01,
  noise: { frequency: [1], amplitudeDensity: [1e-4] },
}
const feet = [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0], mount: air, valveGroup: `v${x}${y}` })))
const payload = { mass: 1631.546, inertia: [30, 40, 50], centreOfMass: [0, 0, 0.2], supports: feet }

// Records and nested options that the examples do without.
everyOption(
  elements,
  'elements',
  {},
  {
    accelerometer: [[{ naturalFrequency: 2000, dampingRatio: 0.05, lowerCorner: 0.1, noise }]],
    airSpringForce: [[air, { travel: [1e-3], chambers: 'spring' }]],
    airSpringAtLoad: [[air, { load: 5000 }]],
    cornerExtension: [[{ naturalFrequency: 4.5, dampingRatio: 0.56, extendedTo: 0.5, extendedDampingRatio: 0.7 }]],
    dynamicStiffness: [
      [spring, [1, 10]],
      [mount, [1, 10]],
    ],
    filteredSensor: [[sensor, elements.cornerExtension({ naturalFrequency: 1, dampingRatio: 0.7, extendedTo: 0.2 })]],
    laminarFlowResistance: [[{ width: 0.01, height: 1e-4, length: 0.02, count: 2, flow: 1e-6, absolutePressure: 5e5 }]],
    levellingConsumption: [[air, { load: 5000 }]],
    mountAtLoad: [[air, { load: 5000 }]],
    mountsInParallel: [[mount, air]],
    mountsInSeries: [[mount, elastomerMount({ stiffness: 1e6, lossFactor: 0.2, band: [1, 100] })]],
    piezoTravel: [[piezoStack({ stiffness: 30e6, stroke: 60e-6 }), { springStiffness: 3e6 }]],
    residualAmplitude: [
      [motionProfile({ distance: 0.1, maxVelocity: 1, maxAcceleration: 2 }), { naturalFrequency: 2 }],
    ],
    rigidPayload: [[payload]],
    motionNoise: [[accelerometer({ noise: { ...noise, quantity: 'acceleration' } }), { frequencies: [1, 10] }]],
    springMount: [[{ stiffness: 1e5, damping: 5, surge: { mass: 2, dampingRatio: 0.01, modes: 2 }, lateral: mount }]],
    supportLoads: [[payload]],
    voiceCoil: [[coil], [{ ...coil, bandwidth: undefined, drive: 'voltage' }]],
  },
)
