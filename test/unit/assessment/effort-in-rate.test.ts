import { expect, it } from 'vitest'
import { assess } from '../../../src/assessment/index.js'
import { motionProfile, sampleProfile, voiceCoil } from '../../../src/elements/index.js'
import { activelyDampedIsolation } from '../../../src/isolation/index.js'
import { simulate } from '../../../src/systems/index.js'
import { spectrum } from '../../../src/vibration/index.js'

const actuator = voiceCoil({ forceConstant: 20, resistance: 4, inductance: 0.02, drive: 'voltage', maxVoltage: 40 })
const model = activelyDampedIsolation({
  payload: { mass: 100 },
  mount: { stiffness: 16e3, damping: 100 },
  damping: { gain: 4000, actuator },
})
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4, maxJerk: 400 })
const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-6, 1e-6] })

it('holds the rate of a force against its bound, in vibration and in moves', () => {
  const found = assess(model, {
    floor,
    criterion: 'VC-A',
    moves: [{ profile, movingMass: 5 }],
    settling: { band: 1e-6 },
  })
  const rate = found.effort.find(({ name }) => name === 'actuatorForceRate')
  // k·V/L = 20 · 40 / 0.02 N/s, computed from the closed form
  expect([rate?.limit, rate?.unit]).toEqual([40000, 'N/s'])

  // The steepest step of the simulated force, sampled every 20 µs. A site takes its peaks from a 200th of the move, about 2 ms, so
  // the crest of the rate may fall between two of its samples.
  const sampleTime = 2e-5
  const { acceleration } = sampleProfile(profile, { sampleTime })
  const reactionForce = acceleration.map((value) => -5 * value)
  const force = simulate(model.closed, { inputs: { reactionForce }, sampleTime }).outputs.actuatorForce
  const steepest = Math.max(...force.slice(1).map((value, k) => Math.abs(value - force[k]) / sampleTime))
  expect(Math.abs((rate?.inMoves ?? 0) / steepest - 1)).toBeLessThan(2e-3)
  expect(rate?.peak).toBe(3 * (rate?.rms ?? 0) + (rate?.inMoves ?? 0))
})
