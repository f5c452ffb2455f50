import { describe, expect, it } from 'vitest'
import {
  type IsolationModel,
  loopMargins,
  parallelActiveIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'

const model = parallelActiveIsolation({
  payload: { mass: 8 },
  mount: { stiffness: 800, damping: 40 },
  feedback: { velocityGain: 200 },
})
const { diagram, closed } = model
const edited = (change: object) => ({ ...model, ...change }) as IsolationModel
const source = { input: 'sensorNoise', unit: 'm/s', noise: null }
const limit = { name: 'actuatorForce', output: 'actuatorForce', value: 3, unit: 'N' }
const inputs = 'floorVelocity, payloadForce, reactionForce, sensorNoise, actuatorNoise'
const outputs = 'payloadVelocity, stretch, floorForce, actuatorForce'
const without = (list: readonly string[]) => list.slice(1)

// A model is plain data that users may edit: what no longer fits together is named.
describe('a model that was edited', () => {
  it.each<[object, string]>([
    [{ loops: 3 }, 'invalid-option: loops must be an array with 0 to 1000 entries, got 3'],
    [{ loops: [{ port: 'actuator.force' }] }, 'invalid-option: loops[0].name must be text, got undefined'],
    [{ loops: [{ name: 'mine', port: 7 }] }, 'invalid-option: loops[0].port must be text, got 7'],
    [{ loops: [undefined] }, 'invalid-option: loops[0].name must be text, got undefined'],
    [{ noiseSources: [{ ...source, unit: 7 }] }, 'invalid-option: noiseSources[0].unit must be text, got 7'],
    [{ noiseSources: [{ ...source, input: 7 }] }, 'invalid-option: noiseSources[0].input must be text, got 7'],
    [{ limits: [{ ...limit, name: 7 }] }, 'invalid-option: limits[0].name must be text, got 7'],
    [{ limits: [{ ...limit, unit: 7 }] }, 'invalid-option: limits[0].unit must be text, got 7'],
    [
      { limits: [limit, { ...limit, value: 0 }] },
      'out-of-range: limits[1].value must be a finite number above 0, got 0',
    ],
    [
      { limits: [{ ...limit, output: 'wind' }] },
      "invalid-option: limits[0].output must be one of 'payloadVelocity', 'stretch', 'floorForce', 'actuatorForce', got 'wind'",
    ],
    [
      { limits: [{ ...limit, of: 'jerk' }] },
      "invalid-option: limits[0].of must be one of 'value', 'rate', 'rms', got 'jerk'",
    ],
    [
      { diagram: { ...diagram, inputs: [...diagram.inputs, 'wind'] } },
      `dimension-mismatch: closed.inputs must be those of the diagram: ${inputs}, wind`,
    ],
    [
      { closed: { ...closed, inputs: ['wind', ...without(closed.inputs)] } },
      `dimension-mismatch: closed.inputs must be those of the diagram: ${inputs}`,
    ],
    [
      { closed: { ...closed, outputs: ['sway', ...without(closed.outputs)] } },
      `dimension-mismatch: closed.outputs must be those of the diagram: ${outputs}`,
    ],
    [
      { diagram: { ...diagram, outputs: { ...diagram.outputs, sway: 'payload.velocity' } } },
      `dimension-mismatch: closed.outputs must be those of the diagram: ${outputs}, sway`,
    ],
    [
      { loops: [...model.loops, { name: 'mine', port: 'motor.force' }] },
      "unknown-port: loops[1].port is 'motor.force'; there are payload.velocity, payload.acceleration, mount.stretch, mount.tension, sensor.signal, controller.force, actuator.force",
    ],
    [
      { noiseSources: [{ ...source, input: 'wind' }] },
      `unknown-port: noiseSources[0].input is 'wind'; there are ${inputs}`,
    ],
  ])('%j is refused', (change, says) => {
    const { code, message } = refusal(() => transmissibility(edited(change), [1]))
    expect(`${code}: ${message.slice('transmissibility: '.length)}`).toBe(says)
  })

  it.each<object>([
    { limits: [{ ...limit, output: null, of: 'rms' }] },
    { loops: [] },
    { noiseSources: [{ ...source, noise: { frequency: [1, 2], amplitudeDensity: [1e-9, 1e-9] } }] },
  ])('%j is taken', (change) => {
    expect(transmissibility(edited(change), [1])).toEqual(transmissibility(model, [1]))
    expect(loopMargins(edited({ ...change, loops: [] }))).toEqual([])
  })
})
