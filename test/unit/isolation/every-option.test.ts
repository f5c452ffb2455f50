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

everyOption(isolation, 'isolation', {
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
})
