import { describe, expect, it } from 'vitest'
import {
  activelyDampedIsolation,
  type FloorOptions,
  isolation,
  loopMargins,
  parallelActiveIsolation,
  passiveIsolation,
  seriesActiveIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { gain, simulate, stability, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { channelAt, modulusAt } from './read-off.js'

const payload = { mass: 1200 }
const mount = { stiffness: 1.9e5, damping: 900 }
const body = { mass: 5000, stiffness: 2.8e7, damping: 2.2e4 }
const omega = Math.sqrt(body.stiffness / body.mass)
const mode = {
  modalMass: body.mass,
  naturalFrequency: omega / (2 * Math.PI),
  dampingRatio: body.damping / (2 * body.mass * omega),
  neighbourShape: 1,
}
const mobility = transferFunction({ numerator: [1, 0], denominator: [5000, 2.2e4, 2.8e7] })
const activeStage = {
  mass: 60,
  actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 },
  sensorLocation: 'floor' as const,
  controller: { gain: 0.9, highPass: 0.02, lowPass: 600 },
}

/** 1e-9 of the modulus: what every response of a concept keeps. */
function expectComplex(found: { re: number; im: number }, re: number, im: number) {
  expect(Math.hypot(found.re - re, found.im - im) / Math.hypot(re, im)).toBeLessThan(1e-9)
}

describe('a payload on a floor that gives way', () => {
  // Computed from the closed form: payload m s v = K/s·(u − v), floor u = u₀ + s/(M s² + c s + k)·K/s·(v − u).
  const expected = [
    [1, 1.3346627710833154, -0.01322370919965992, 1.0022740230621987, -3.3838542135719696e-5],
    [11, -0.03260207891052654, -0.011123165398778518, 0.955008349191219, 0.0011299192170341277],
    [12, -0.026576653933992445, -0.013559809535269883, 0.9739106299450949, 0.1159759687429896],
    [50, -0.001600265531743742, -0.002396927846144129, 1.000398023169366, 0.0006157763138933794],
  ] as const
  const floors: [string, FloorOptions][] = [
    ['body', body],
    ['modes', { modes: [mode] }],
    ['mobility of your own', mobility],
  ]

  it.each(floors)('given as %s moves with its free velocity plus mobility times force', (_, floor) => {
    const model = passiveIsolation({ payload, mount, floor })
    for (const [frequency, re, im, floorRe, floorIm] of expected) {
      expectComplex(channelAt(model, 'floorVelocity', 'payloadVelocity', frequency), re, im)
      expectComplex(channelAt(model, 'floorVelocity', 'loadedFloorVelocity', frequency), floorRe, floorIm)
      // What the payload passes on to the floor is what it takes from it.
      expectComplex(channelAt(model, 'payloadForce', 'floorForce', frequency), re, im)
    }
  })

  it('tends to the rigid floor as it gets heavy', () => {
    const heavy = { mass: 5e12, stiffness: 2.8e16, damping: 2.2e13 }
    const [soft, rigid] = [heavy, undefined].map((floor) =>
      passiveIsolation({ payload, mount, ...(floor ? { floor } : {}) }),
    )
    for (const f of [1, 5, 12, 40]) expect(modulusAt(soft as never, f) / modulusAt(rigid as never, f)).toBeCloseTo(1, 7)
  })

  it('is the same beneath a storey of a stack: a storey without levelling is a floor that is a body', () => {
    // Two storeys against one on a floor of one body: T of the stack is T over the floor times that of the bare floor.
    const stack = stackedIsolation({
      lower: { concept: 'passive', payload: { mass: 5000 }, mount: { stiffness: 2.8e7, damping: 2.2e4 } },
      upper: { concept: 'passive', payload, mount },
    })
    const bare = passiveIsolation({ payload: { mass: 5000 }, mount: { stiffness: 2.8e7, damping: 2.2e4 } })
    const onFloor = passiveIsolation({ payload, mount, floor: body })
    for (const f of [1, 2, 11, 12, 50]) {
      expect(modulusAt(stack, f) / (modulusAt(bare, f) * modulusAt(onFloor, f))).toBeCloseTo(1, 9)
    }
  })

  it('is offered by every concept', () => {
    const concepts = [
      { concept: 'passive' },
      { concept: 'activelyDamped', damping: { gain: 1e4 } },
      { concept: 'parallelActive', feedback: { velocityGain: 1e4 } },
      { concept: 'seriesActive', activeStage },
    ]
    for (const concept of concepts) {
      const model = isolation({ ...concept, payload, mount, floor: body } as never)
      expect(model.closed.outputs).toContain('loadedFloorVelocity')
      expect(stability(model.closed).verdict).toBe('stable')
    }
    const stack = { concept: 'stacked', floor: body, lower: { concept: 'passive', payload, mount } }
    const model = isolation({ ...stack, upper: { concept: 'passive', payload, mount } } as never)
    expect(model.closed.outputs).toContain('neighbourVelocity')
  })

  it('takes the reaction of a motor too, which may make a stiff loop unstable on it', () => {
    // A payload sensor hardly sees the floor; the loop gains a mode but keeps its margin.
    const damping = { dampingRatio: 0.7, delay: 1e-3 }
    const [rigid, soft] = [undefined, body].map((floor) =>
      activelyDampedIsolation({ payload, mount, damping, ...(floor ? { floor } : {}) }),
    )
    const [a, b] = [rigid, soft].map((model) => loopMargins(model as never)[0]?.margins)
    expect(b?.closedLoop).toBe('stable')
    expect(b?.modulusMargin).not.toBeCloseTo(a?.modulusMargin as number, 6)
  })
})

describe('a stage that senses a floor that gives way', () => {
  it('has a loop through the floor, which a rigid floor has not', () => {
    const options = { payload, mount: { stiffness: 3e6, damping: 6000 }, activeStage }
    expect(seriesActiveIsolation(options).loops).toEqual([])
    const model = seriesActiveIsolation({ ...options, floor: body })
    expect(model.loops).toEqual([{ name: 'activeStage', port: 'actuator.expansion' }])
    expect(loopMargins(model)[0]?.margins.closedLoop).toBe('stable')
  })

  it('has one on a storey of a stack for the same reason', () => {
    const upper = { concept: 'seriesActive' as const, payload, mount: { stiffness: 3e6, damping: 6000 }, activeStage }
    const lower = { concept: 'passive' as const, payload: { mass: 3000 }, mount: { stiffness: 2e6, damping: 6000 } }
    const { loops } = stackedIsolation({ lower, upper })
    expect(loops).toEqual([{ name: 'activeStage', port: 'upper_actuator.expansion' }])
  })
})

describe('a stage move', () => {
  // 25 kg, ±4 m/s² for 0.1 s each. Computed by an eighth-order Runge-Kutta integration of payload and floor, tolerance 1e-11:
  // floor force at most 125.88394841623465 N at 0.342 s, floor velocity at most 6.681541827337032e-5 m/s at 0.234 s.
  const sampleTime = 1e-3
  const reactionForce = Float64Array.from({ length: 2000 }, (_, k) => (k < 100 ? -100 : k < 200 ? 100 : 0))
  const floor = { modes: [{ ...mode, neighbourShape: 0.4 }] }
  const model = passiveIsolation({ payload, mount, floor })
  const { outputs } = simulate(model.closed, { inputs: { reactionForce }, sampleTime, hold: 'zero-order-hold' })
  const peak = (name: string) => Math.max(...Array.from(outputs[name] as Float64Array, Math.abs))

  it('pushes the floor with the force that springs and dashpots pass on', () => {
    expect(peak('floorForce')).toBeCloseTo(125.88394841623465, 7)
    expect(outputs.floorForce?.[1000]).toBeCloseTo(-35.30103453246742, 7)
  })

  it('moves the floor, and a neighbour by its share of the mode', () => {
    expect(peak('loadedFloorVelocity') / 6.681541827337032e-5).toBeCloseTo(1, 8)
    expect((outputs.neighbourVelocity?.[1000] as number) / (0.4 * -4.099617637195708e-5)).toBeCloseTo(1, 8)
  })

  it('has no port for a neighbour where no mode moves one', () => {
    const ports = (...shapes: object[]) => {
      const modes = shapes.map((shape) => ({ ...mode, neighbourShape: 0, ...shape }))
      return passiveIsolation({ payload, mount, floor: { modes } }).closed.outputs.includes('neighbourVelocity')
    }
    expect([ports({}), ports({}, {}), ports({ neighbourShape: 0.4 }), ports({}, { neighbourShape: -0.1 })]).toEqual([
      false,
      false,
      true,
      true,
    ])
  })

  it('whose reaction a motor cancels from the floor pushes the floor all the same', () => {
    const feedback = { velocityGain: 0 }
    const perfect = parallelActiveIsolation({ payload, mount, feedback, feedforward: { gain: 1 }, floor })
    const simulated = simulate(perfect.closed, { inputs: { reactionForce }, sampleTime, hold: 'zero-order-hold' })
    // All of the 100 N, but for what the springs take up as the floor gives way.
    expect(Math.abs((simulated.outputs.floorForce?.[50] as number) / -100 - 1)).toBeLessThan(0.02)
    expect(Math.abs(simulated.outputs.neighbourVelocity?.[120] as number)).toBeGreaterThan(1e-6)
  })
})

describe('a floor that is none', () => {
  const on = (floor: unknown) => () => passiveIsolation({ payload, mount, floor: floor as never })
  it.each([
    [null, 'invalid-option', 'floor'],
    [3, 'invalid-option', 'floor'],
    [{ mass: 0, stiffness: 1 }, 'out-of-range', 'floor.mass'],
    [{ mass: 1, stiffness: -1 }, 'out-of-range', 'floor.stiffness'],
    [{ mass: 1, stiffness: 1, damping: -1 }, 'out-of-range', 'floor.damping'],
    [{ mass: 1, stiffness: 1, area: 1 }, 'invalid-option', 'floor.area'],
    [{ modes: [] }, 'invalid-option', 'floor.modes'],
    [{ modes: [{ ...mode, modalMass: 0 }] }, 'out-of-range', 'floor.modes[0].modalMass'],
    [{ modes: [{ ...mode, shape: 0 }] }, 'invalid-option', 'floor.modes[0].shape'],
    [{ frequency: [1], re: [1], im: [0] }, 'unsupported', 'floor'],
    [gain([[1, 2]]), 'dimension-mismatch', 'floor'],
  ])('%j is refused as %s at %s', (floor, code, path) => {
    const error = refusal(on(floor))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('belongs to the stack, not to a storey of it', () => {
    const storey = { concept: 'passive' as const, payload, mount, floor: body }
    const upper = { concept: 'passive' as const, payload, mount }
    expect(refusal(() => stackedIsolation({ lower: storey, upper })).details.path).toBe('lower.floor')
    expect(refusal(() => stackedIsolation({ lower: upper, upper: storey })).details.path).toBe('upper.floor')
  })
})
