import { geophone, springMount, voiceCoil } from '../../../src/elements/index.js'
import * as isolation from '../../../src/isolation/index.js'
import { everyOption } from '../every-option.js'
import { fullCalls } from './full-models.js'

const damped = isolation.activelyDampedIsolation({
  payload: { mass: 8 },
  mount: { stiffness: 800 },
  damping: { gain: 200 },
})
const levelled = isolation.pneumaticIsolation(
  (fullCalls.pneumaticIsolation[0] as [isolation.PneumaticIsolationOptions])[0],
)

const calls = {
  ...fullCalls,
  isolation: [[{ concept: 'passive', payload: { mass: 8 }, mount: { stiffness: 800 }, count: 2 }]],
  simulateWithLimits: [
    [
      damped,
      {
        inputs: { payloadForce: [0, 1] },
        sampleTime: 0.01,
        hold: 'zero-order-hold',
        limits: [{ output: 'actuatorForce', value: 1, rate: 10 }],
        steps: { 'controller.signal': 1e-6 },
        padeOrder: 3,
      },
    ],
  ],
  feedforwardResidual: [
    [
      {
        gain: 1,
        delay: 0.01,
        preview: 0.01,
        sensor: { naturalFrequency: 1, dampingRatio: 0.7 },
        actuator: { bandwidth: 100 },
      },
      [1, 10],
    ],
  ],
  levellingLimit: [[levelled, { rocking: { inertia: 100, springDistance: 1, centreOfMassHeight: 0.5 } }]],
  onOffLevelling: [[levelled, { rate: 1e-3, deadBand: 1e-4 }]],
  mobilityModes: [[{ frequency: [1, 2, 3], re: [1, 2, 1], im: [1, 0, -1] }, { count: 1 }]],
  simultaneousLoopMargin: [[damped, { proof: 'without-delay' }]],
  lineForce: [
    [
      {
        line: { stiffness: 800, surge: [{ mass: 2, naturalFrequency: 20, dampingRatio: 0.1, modes: 2 }] },
        motion: { quantity: 'velocity', frequency: [1, 2], density: [1, 1] },
      },
    ],
  ],
}

const noise = { frequency: Float64Array.of(1, 100), amplitudeDensity: Float64Array.of(1e-9, 1e-9) }
const sensor = geophone({ naturalFrequency: 1, dampingRatio: 0.7, noise })
const actuator = { ...voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50, maxHeat: 30, stroke: 6e-3 }), noise }
const mount = springMount({ stiffness: 800, damping: 5, surge: { mass: 0.2, dampingRatio: 0.01, modes: 1 } })

everyOption(isolation, 'isolation', calls, {
  activelyDampedIsolation: [[{ payload: { mass: 8 }, mount, damping: { gain: 200, sensor, actuator } }]],
})
