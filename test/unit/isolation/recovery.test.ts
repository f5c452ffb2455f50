import { describe, expect, it } from 'vitest'
import { airSpring, geophone, standardGravity, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  controlElements,
  type IsolationModel,
  passiveIsolation,
  pneumaticIsolation,
  type SimulatedLimit,
  simulateWithLimits,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import {
  connect,
  type Diagram,
  diagram,
  gain,
  simulate,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

/** A model made by hand around a diagram. */
function modelOf(plan: Omit<Diagram, 'kind'>, limits: IsolationModel['limits'] = []): IsolationModel {
  const whole = diagram(plan as never) as Diagram
  const rest = { concept: 'parallelActive', loops: [], noiseSources: [], limits } as const
  return { kind: 'IsolationModel', ...rest, diagram: whole, closed: connect(whole) } as IsolationModel
}

const actuator = gain(1, { inputs: ['command'], outputs: ['force'] })
/** m x'' = k x − c x' + y + F with m = 2 kg, held by y = −60 x − d x': poles of 2s² + (c + d) s + 60 − k. */
const heldBy = (k: number, c: number, d: number) =>
  modelOf({
    blocks: {
      payload: stateSpace({
        A: [
          [-c / 2, k / 2],
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
      controller: gain([[d, 60]], { inputs: ['velocity', 'position'], outputs: ['force'] }),
      actuator,
    },
    inputs: ['payloadForce'],
    outputs: { payloadVelocity: 'payload.velocity', actuatorForce: 'actuator.force' },
    wires: {
      'payload.force': ['actuator.force', 'payloadForce'],
      'controller.velocity': 'payload.velocity',
      'controller.position': 'payload.position',
      'actuator.command': '-controller.force',
    },
  })

/** A push that the bound is met in, eight seconds of rest, and one last value that is held from then on. */
const pushes = (last: number) => [...Array.from({ length: 30 }, () => 8), ...Array.from({ length: 800 }, () => 0), last]
const ended = (k: number, c: number, d: number, last: number, limit: Omit<SimulatedLimit, 'output'>) => {
  const limits = [{ output: 'actuatorForce', ...limit }]
  const run = { sampleTime: 0.01, hold: 'zero-order-hold', limits } as const
  const { verdict, evidence } = simulateWithLimits(heldBy(k, c, d), { inputs: { payloadForce: pushes(last) }, ...run })
  return [verdict, evidence]
}

describe('what is proved about the time after the record', () => {
  // Computed from the closed form: at rest the actuator gives −60/52 of the last push F, on the way there up to exp(−π·ζ/√(1−ζ²))
  // = 10 % more of that part with k = 8 N/m and d = 12 N·s/m. With k = −8, c = 6 and d = 0 its rate is 60 v, which begins at 0 and grows to 3.7 F/s.
  it.each([
    ['nothing more comes', 8, 0, 12, 0, { value: 4 }, 'recovered'],
    ['a push of 2 N takes 2.3 N to hold, 2.7 N on the way', 8, 0, 12, 2, { value: 4 }, 'recovered'],
    ['a push of 3.4 N takes 3.92 N to hold, but more on the way', 8, 0, 12, 3.4, { value: 4 }, 'limited'],
    ['a push of 3.6 N takes 4.15 N to hold', 8, 0, 12, 3.6, { value: 4 }, 'limited'],
    ['a push of 2 N is answered at less than 8 N/s', -8, 6, 0, 2, { value: 100, rate: 20 }, 'recovered'],
    ['a push of 7 N is answered at 26 N/s before long', -8, 6, 0, 7, { value: 100, rate: 20 }, 'limited'],
  ])('%s', (_, k, c, d, last, limit, verdict) => {
    expect(ended(k, c, d, last, limit)).toEqual([verdict, 'proof'])
  })

  it('is nothing behind converters, where the record has the last word', () => {
    const damping = {
      gain: 4000,
      sensor: geophone({ naturalFrequency: 0.5, dampingRatio: 0.7 }),
      actuator: voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 5 }),
    }
    const model = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 16e3, damping: 100 }, damping })
    const run = (length: number) => {
      const payloadForce = Array.from({ length }, (_, k) => (k < 20 ? 100 : 0))
      const steps = { 'actuator.command': 1e-3 }
      const { verdict, evidence, limited } = simulateWithLimits(model, {
        inputs: { payloadForce },
        sampleTime: 0.005,
        steps,
      })
      return { verdict, evidence, last: limited[limited.length - 1].to }
    }
    const long = run(1500)
    expect(long).toMatchObject({ verdict: 'recovered', evidence: 'record' })
    // free, but not yet for as long as from the first limited instant to the last
    const soon = Math.ceil(long.last / 0.005) + 5
    expect(run(soon)).toMatchObject({ verdict: 'limited', evidence: 'record' })
  })
})

describe('an actuator bounded in rate', () => {
  /** A feedforward that wants to jump with the push, and a second actuator bounded in force only. */
  const twice = modelOf({
    blocks: {
      payload: transferFunction({
        numerator: [1, 0],
        denominator: [2, 3, 50],
        input: 'force',
        output: 'velocity',
      }),
      actuator,
      actuator2: actuator,
    },
    inputs: ['payloadForce'],
    outputs: {
      payloadVelocity: 'payload.velocity',
      actuatorForce: 'actuator.force',
      actuatorForce2: 'actuator2.force',
    },
    wires: {
      'payload.force': ['payloadForce', 'actuator.force', 'actuator2.force'],
      'actuator.command': '-payloadForce',
      'actuator2.command': '-payload.velocity',
    },
  })
  const limits = [
    { output: 'actuatorForce', value: 3, rate: 10 },
    { output: 'actuatorForce2', value: 0.05 },
  ]
  const payloadForce = Array.from({ length: 200 }, (_, k) => (k >= 20 && k < 80 ? 4 : 0))
  const found = simulateWithLimits(twice, {
    inputs: { payloadForce },
    sampleTime: 0.01,
    hold: 'zero-order-hold',
    limits,
  })

  it('goes on from where it was when what is asked for jumps, there and back', () => {
    // 10 N/s from the jump at 0.2 s to the bound of −3 N at 0.5 s, and from 0.8 s back to 0 at 1.1 s; by hand
    const force = (time: number) => found.outputs.actuatorForce[Math.round(time / 0.01)]
    for (const [time, expected] of [
      [0.19, 0],
      [0.3, -1],
      [0.45, -2.5],
      [0.6, -3],
      [0.9, -2],
      [1.05, -0.5],
      [1.2, 0],
    ]) {
      expect(force(time)).toBeCloseTo(expected, 6)
    }
    expect(found.wanted.actuatorForce[25]).toBe(-4)
    const own = found.limited.filter(({ output }) => output === 'actuatorForce')
    expect(own.map(({ bound, from, to }) => [bound, Number(from.toFixed(6)), Number(to.toFixed(6))])).toEqual([
      ['rate', 0.2, 0.5],
      ['value', 0.5, 0.8],
      ['rate', 0.8, 1.1],
    ])
  })

  it('does not keep another one from its own bound', () => {
    expect(found.peaks.actuatorForce2).toBe(0.05)
    expect(found.limited.some(({ output }) => output === 'actuatorForce2')).toBe(true)
  })
})

describe('limits of a model', () => {
  const load = 300 * standardGravity
  const mount = airSpring({ area: 0.01, volume: 1e-3, load, diaphragmDamping: 400 })
  const levelling = { flowGain: 1e-3, deadBand: 1e-4 }
  const pneumatic = { payload: { mass: 300 }, mount, levelling }

  it('that bound no output, as a dead band, are left out of the motion', () => {
    const model = pneumaticIsolation(pneumatic)
    const run = { inputs: { payloadForce: [0, 50, 50, 0, 0, 0] }, sampleTime: 0.05 }
    const found = simulateWithLimits(model, run)
    expect([found.verdict, found.wanted]).toEqual(['free', {}])
    const { stretch } = simulate(model.closed, run).outputs
    expect(Math.max(...found.outputs.stretch.map((value, k) => Math.abs(value - stretch[k])))).toBeLessThan(1e-15)
  })

  it('keep their name under a stack', () => {
    const floor = airSpring({ area: 0.04, volume: 4e-3, load: 600 * standardGravity, diaphragmDamping: 900 })
    const { limits } = stackedIsolation({
      lower: {
        concept: 'pneumatic',
        payload: { mass: 300 },
        mount: floor,
        levelling: { flowGain: 4e-3, deadBand: 1e-4 },
      },
      upper: { concept: 'passive', payload: { mass: 300 }, mount: { stiffness: 3e5, damping: 600 } },
    })
    expect(limits).toEqual([{ name: 'lower_levellingDeadBand', output: null, value: 1e-4, unit: 'm' }])
  })

  it('are refused where the model has nothing that could be bounded, or direct feedthrough leaves it undefined', () => {
    const run = { inputs: { payloadForce: [1, 0] }, sampleTime: 0.01 }
    const passive = passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 1 } })
    const none = refusal(() => simulateWithLimits(passive, { ...run, limits: [{ output: 'motorForce', value: 1 }] }))
    expect([none.code, none.message.endsWith('must be an actuator output of the model: none')]).toEqual([
      'unknown-port',
      true,
    ])
    // y = 2 y + F has the one answer −F, but no way to get there once y is bounded: what is wanted falls as y rises.
    const selfish = modelOf(
      {
        blocks: {
          payload: transferFunction({ numerator: [1], denominator: [2, 3], input: 'force', output: 'velocity' }),
          actuator: gain(2, { inputs: ['command'], outputs: ['force'] }),
        },
        inputs: ['payloadForce'],
        outputs: { payloadVelocity: 'payload.velocity', actuatorForce: 'actuator.force' },
        wires: { 'payload.force': 'actuator.force', 'actuator.command': ['actuator.force', 'payloadForce'] },
      },
      [{ name: 'actuatorForce', output: 'actuatorForce', value: 1, unit: 'N' }],
    )
    expect(refusal(() => simulateWithLimits(selfish, run)).code).toBe('algebraic-loop')
    // The same beside another actuator that is bounded first
    const { blocks, outputs, wires } = selfish.diagram
    const pair = modelOf({
      blocks: { ...blocks, actuator2: blocks.actuator },
      inputs: ['payloadForce'],
      outputs: { ...outputs, actuatorForce2: 'actuator2.force' },
      wires: {
        ...wires,
        'actuator.command': 'payloadForce',
        'actuator2.command': ['actuator2.force', 'payloadForce'],
      },
    })
    const both = ['actuatorForce', 'actuatorForce2'].map((output) => ({ output, value: 1 }))
    expect(refusal(() => simulateWithLimits(pair, { ...run, limits: both })).message).toBe(
      'simulateWithLimits: cannot limit actuatorForce2: its direct feedthrough leaves it undefined',
    )
  })
})

describe('a block on a velocity', () => {
  it('that integrates it does not ignore a constant one, and is no inertial sensor', () => {
    const reading = (numerator: number[], denominator: number[]) =>
      controlElements(
        modelOf({
          blocks: {
            payload: transferFunction({
              numerator: [1],
              denominator: [2, 3],
              input: 'force',
              output: 'velocity',
            }),
            filter: transferFunction({ numerator, denominator, input: 'velocity', output: 'signal' }),
          },
          inputs: ['payloadForce'],
          outputs: { payloadVelocity: 'payload.velocity', signal: 'filter.signal' },
          wires: { 'payload.force': 'payloadForce', 'filter.velocity': 'payload.velocity' },
        }),
      ).inertialSensor
    expect([reading([1, 0], [1, 5]), reading([1], [1, 5]), reading([1], [1, 0])]).toEqual([true, false, false])
  })
})
