import { describe, expect, it } from 'vitest'
import { geophone, pneumaticActuator, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  parallelActiveIsolation,
  passiveIsolation,
  seriesActiveIsolation,
  simulateWithLimits,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { connect, diagram, gain, simulate, stateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const payload = { mass: 100 }
const mount = { stiffness: 16e3, damping: 100 }
const sensor = geophone({ naturalFrequency: 0.5, dampingRatio: 0.7 })
const pulse = (length: number, height = 100) => Array.from({ length }, (_, k) => (k < 20 ? height : 0))
const damped = (maxForce: number, more = {}) =>
  activelyDampedIsolation({
    payload,
    mount,
    damping: { gain: 4000, sensor, actuator: voiceCoil({ forceConstant: 20, resistance: 4, maxForce, ...more }) },
  })

/** The stage of the example of seriesActiveIsolation. */
const stiffStage = (stroke: number) =>
  seriesActiveIsolation({
    payload: { mass: 1100 },
    mount: { stiffness: 3.1e6, damping: 6500 },
    count: 4,
    activeStage: {
      mass: 60,
      actuator: { stiffness: 2e9, damping: 1.5e5, stroke },
      sensorLocation: 'activeStage',
      controller: { gain: 3, highPass: 0.02, lowPass: 60 },
    },
  })

/** What exact steps of the free model and its reduction to a plant with an overruled output may differ by, of the peak. */
const rounding = 1e-9

describe('a model whose limits are never met', () => {
  const models: [string, IsolationModel, string][] = [
    ['active damping', damped(1e6, { bandwidth: 200 }), 'payloadForce'],
    ['active damping without a lag', damped(1e6), 'floorVelocity'],
    [
      'virtual mass, whose motor is in a loop of direct feedthrough',
      parallelActiveIsolation({
        payload,
        mount,
        feedback: { velocityGain: 2000, accelerationGain: 150 },
        feedforward: { gain: 0.98, actuator: voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 1e6 }) },
      }),
      'reactionForce',
    ],
    ['a stiff stage', stiffStage(1), 'floorVelocity'],
    [
      'a stack',
      stackedIsolation({
        lower: { concept: 'activelyDamped', payload, mount, damping: { gain: 500, actuator: pneumatic(1e6) } },
        upper: { concept: 'activelyDamped', payload, mount, damping: { gain: 500, actuator: pneumatic(1e6) } },
      }),
      'payloadForce',
    ],
  ]
  it.each(models)('moves as simulate says: %s', (_, model, input) => {
    const options = { inputs: { [input]: pulse(200, 1) }, sampleTime: 0.004 }
    const found = simulateWithLimits(model, options)
    expect(found.verdict).toBe('free')
    expect(Object.keys(found.wanted).length).toBeGreaterThan(0)
    const linear = simulate(model.closed, options)
    for (const name of model.closed.outputs) {
      const peak = Math.max(...linear.outputs[name].map(Math.abs))
      linear.outputs[name].forEach((value, k) => {
        expect(Math.abs(found.outputs[name][k] - value)).toBeLessThanOrEqual(rounding * peak)
      })
      expect(found.peaks[name]).toBeCloseTo(peak, 9)
    }
  })
})

function pneumatic(maxForce: number) {
  return pneumaticActuator({ bandwidth: 30, maxForce })
}

describe('a motor at its bound', () => {
  const found = simulateWithLimits(damped(5), { inputs: { payloadForce: pulse(1000) }, sampleTime: 0.005 })

  it('gives no more than the bound while more is wanted', () => {
    expect(found.peaks.actuatorForce).toBe(5)
    expect(Math.max(...found.wanted.actuatorForce)).toBeGreaterThan(50)
  })

  it('is proved to have recovered at the end of the last interval', () => {
    expect([found.verdict, found.evidence]).toEqual(['recovered', 'proof'])
    expect(found.recoveredAt).toBe(found.limited[found.limited.length - 1].to)
    expect(found.limited.every(({ output, bound }) => output === 'actuatorForce' && bound === 'value')).toBe(true)
  })

  it('is still limited where the record ends before', () => {
    const short = simulateWithLimits(damped(5), { inputs: { payloadForce: pulse(100) }, sampleTime: 0.005 })
    expect([short.verdict, short.recoveredAt]).toEqual(['limited', null])
  })

  it('leaves hardly more than the passive payload where the bound is next to nothing', () => {
    const inputs = { payloadForce: pulse(300) }
    const weak = simulateWithLimits(damped(1e-9), { inputs, sampleTime: 0.005 })
    const passive = simulate(passiveIsolation({ payload, mount }).closed, { inputs, sampleTime: 0.005 })
    weak.outputs.payloadVelocity.forEach((value, k) => {
      expect(value).toBeCloseTo(passive.outputs.payloadVelocity[k], 10)
    })
  })

  it('takes the rate of a voltage amplifier from the motor', () => {
    // rate = forceConstant · maxVoltage / inductance = 20 · 1 / 0.02, computed from the closed form k·V/L
    const slow = damped(50, { drive: 'voltage', inductance: 0.02, maxVoltage: 1 })
    const { limited, outputs } = simulateWithLimits(slow, { inputs: { payloadForce: pulse(400) }, sampleTime: 0.005 })
    expect(limited.some(({ bound }) => bound === 'rate')).toBe(true)
    const force = outputs.actuatorForce
    const steepest = Math.max(...force.slice(1).map((value, k) => Math.abs(value - force[k]) / 0.005))
    expect(steepest).toBeGreaterThan(999.9)
    expect(steepest).toBeLessThan(1000.001)
  })

  it('says which controller winds up', () => {
    const stage = (stroke: number) =>
      simulateWithLimits(stiffStage(stroke), { inputs: { floorVelocity: pulse(400, 1e-3) }, sampleTime: 0.005 })
    expect(stage(2e-5).cautions[1]).toContain('Block controller integrates on')
    expect(stage(1).cautions).toEqual([])
  })
})

describe('an inverted payload held by its motor', () => {
  // m x'' = k x + y with |y| ≤ L cannot be caught once |x + v √(m/k)| > L/k; computed from the closed form: with m = 2 kg,
  // k = 8 N/m and L = 4 N that is 0.5 m. A push F for a time T from rest leaves x + v/λ = (F/k) (e^(λT) − 1), λ = 2 1/s.
  const inverted = (): IsolationModel => {
    const blocks = {
      payload: stateSpace({
        A: [
          [0, 4],
          [1, 0],
        ],
        B: [[0.5], [0]],
        C: [
          [1, 0],
          [0, 1],
        ],
        inputs: ['force'],
        outputs: ['velocity', 'position'],
      }),
      controller: { ...gain([[12, 60]], { inputs: ['velocity', 'position'], outputs: ['force'] }) },
      actuator: gain(1, { inputs: ['command'], outputs: ['force'] }),
    }
    const plan = diagram({
      blocks,
      inputs: ['payloadForce'],
      outputs: { payloadVelocity: 'payload.velocity', position: 'payload.position', actuatorForce: 'actuator.force' },
      wires: {
        'payload.force': ['actuator.force', 'payloadForce'],
        'controller.velocity': 'payload.velocity',
        'controller.position': 'payload.position',
        'actuator.command': '-controller.force',
      },
    })
    const limits = [{ name: 'actuatorForce', output: 'actuatorForce', value: 4, unit: 'N' }]
    const rest = { concept: 'parallelActive', loops: [], noiseSources: [], limits } as const
    return { kind: 'IsolationModel', ...rest, diagram: plan, closed: connect(plan) } as IsolationModel
  }
  /** A push of 8 N for T seconds, in steps of 10 ms and held; the motor pushes back with 4 N from the start nearly. */
  const pushed = (samples: number, count: number) =>
    simulateWithLimits(inverted(), {
      inputs: { payloadForce: Array.from({ length: count }, (_, k) => (k < samples ? 8 : 0)) },
      sampleTime: 0.01,
      hold: 'zero-order-hold',
    })

  it('comes back from a push within what the motor can bring back', () => {
    const found = pushed(30, 1000)
    expect([found.verdict, found.evidence]).toEqual(['recovered', 'proof'])
    expect(Math.abs(found.outputs.position[999])).toBeLessThan(1e-3)
  })

  it('is proved lost from where no command within the bound can catch it', () => {
    const found = pushed(60, 400)
    expect([found.verdict, found.evidence]).toEqual(['lost', 'proof'])
    const state = (k: number) => found.outputs.position[k] + found.outputs.payloadVelocity[k] / 2
    const at = Math.round((found.lostAt ?? 0) / 0.01)
    expect(state(at)).toBeGreaterThan(0.5)
    expect(state(at - 1)).toBeLessThan(0.5)
    expect(found.limited[found.limited.length - 1].to).toBeCloseTo(3.99, 12)
  })

  it('ends where it has run away beyond all numbers, without one that is not finite', () => {
    const found = pushed(60, 40000)
    expect(found.verdict).toBe('lost')
    expect(found.time.length).toBeLessThan(40000)
    expect(found.outputs.position.every(Number.isFinite)).toBe(true)
  })
})

describe('a loop that is unstable by itself', () => {
  it('swings on in a limit cycle and is not called recovered', () => {
    // A 1 Hz geophone on a 2 Hz spring with a gain beyond its limit.
    const model = activelyDampedIsolation({
      payload,
      mount: { stiffness: 16e3, damping: 20 },
      damping: {
        gain: 9000,
        sensor: geophone({ naturalFrequency: 1, dampingRatio: 0.28 }),
        actuator: voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 20, bandwidth: 30 }),
      },
    })
    const found = simulateWithLimits(model, { inputs: { payloadForce: pulse(4000) }, sampleTime: 0.005 })
    expect(found.verdict).toBe('limited')
    expect(found.limited[found.limited.length - 1].to).toBeGreaterThan(19)
    expect(found.peaks.payloadVelocity).toBeLessThan(1)
  })
})

describe('converters', () => {
  it('leave a payload at rest, in the end, within what one step of the command can do', () => {
    const steps = { 'controller.signal': 1e-6, 'actuator.command': 0.5 }
    const inputs = { payloadForce: pulse(3000) }
    const found = simulateWithLimits(damped(1e6), { inputs, sampleTime: 0.005, steps })
    const tail = found.wanted.actuatorForce.slice(2500)
    for (const force of tail) expect(Math.abs(force / 0.5 - Math.round(force / 0.5))).toBeLessThan(1e-9)
    // A sine below the first step of the command is not damped actively: |4000 v| < 0.25 N.
    expect(Math.max(...found.outputs.payloadVelocity.slice(2500).map(Math.abs))).toBeLessThan(0.25 / 4000)
  })
})

describe('refusals', () => {
  const options = { inputs: { payloadForce: [1, 0] }, sampleTime: 0.01 }
  const model = damped(5)
  it.each([
    ['limits[0].output', 'unknown-port', { ...options, limits: [{ output: 'stretch', value: 1 }] }],
    ['limits[0]', 'invalid-option', { ...options, limits: [{ output: 'actuatorForce' }] }],
    ['limits[0].value', 'out-of-range', { ...options, limits: [{ output: 'actuatorForce', value: 0 }] }],
    [
      'limits[1].output',
      'invalid-option',
      {
        ...options,
        limits: [
          { output: 'actuatorForce', value: 1 },
          { output: 'actuatorForce', rate: 1 },
        ],
      },
    ],
    ['limits', 'invalid-option', { ...options, limits: 'none' as never }],
    ['steps.nothing', 'invalid-option', { ...options, steps: { nothing: 1 } }],
    ['steps.controller.signal', 'out-of-range', { ...options, steps: { 'controller.signal': -1 } }],
    ['inputs.wind', 'unknown-port', { ...options, inputs: { wind: [1] } }],
    ['sampleTime', 'out-of-range', { ...options, sampleTime: 0 }],
    ['hold', 'invalid-option', { ...options, hold: 'none' as never }],
  ] as const)('%s', (path, code, given) => {
    const error = refusal(() => simulateWithLimits(model, given))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
