import { describe, expect, it } from 'vitest'
import { airSpring, springMount, standardGravity } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  isolation,
  loopMargins,
  parallelActiveIsolation,
  passiveIsolation,
  pneumaticIsolation,
} from '../../../src/isolation/index.js'
import { channel, frequencyResponse, magnitude, openLoop, type StateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { channelAt, gainAt } from './read-off.js'

const mount = { stiffness: 1.9e5, damping: 900 }
const hanging = { mass: 60, naturalFrequency: 25, dampingRatio: 0.01 }

/** 1e-9 of the modulus: what every response of a concept keeps. */
function expectComplex(found: { re: number; im: number }, re: number, im: number) {
  expect(Math.hypot(found.re - re, found.im - im) / Math.hypot(re, im)).toBeLessThan(1e-9)
}

describe('a mass that hangs on the payload', () => {
  const model = passiveIsolation({ payload: { mass: 1140, appendages: [hanging] }, mount })
  // Computed from the closed form of two masses: m s² + K + K_a, −K_a; −K_a, m_a s² + K_a.
  it.each([
    [2, 1.6548420085352231, -16.734786661242122],
    [24, -0.004172475425739962, -0.0035934206805047155],
    [25, 0.0007689723644543685, -0.002866943006091932],
    [26, -0.00883412988315791, -0.016228108794099097],
    [40, -0.002721388771809768, -0.0032735459661031485],
  ])('at %d Hz gives T = %d %dj', (frequency, re, im) => {
    expectComplex(channelAt(model, 'floorVelocity', 'payloadVelocity', frequency), re, im)
  })

  it('is a free mode by another name', () => {
    // Computed from the closed form: 1/(m s) with m_a on it is 1/((m + m_a) s) plus a mode of mass 1/(1/m − 1/(m + m_a)) at
    // f_a √(1 + m_a/m), its damping ratio raised alike.
    const mode = { modalMass: 22800, naturalFrequency: 25.649458802128848, dampingRatio: 0.01025978352085154 }
    const same = passiveIsolation({ payload: { mass: 1200, appendages: [mode] }, mount })
    for (const f of [1, 2, 24, 25, 26, 60]) {
      const { re, im } = channelAt(model, 'payloadForce', 'payloadVelocity', f)
      expectComplex(channelAt(same, 'payloadForce', 'payloadVelocity', f), re, im)
    }
  })

  it('is carried by the mounts', () => {
    const air = airSpring({ area: 0.01, volume: 1e-3, load: 100 * standardGravity })
    const on = (mass: number) => () => pneumaticIsolation({ payload: { mass, appendages: [hanging] }, mount: air })
    expect(on(40)).not.toThrow()
    expect(refusal(on(100)).details.path).toBe('mount')
  })

  it('counts for a damping ratio', () => {
    // Computed from the closed form 2·0.5·√(1.9e5·1200) = 15099.66887054.
    const damping = { dampingRatio: 0.5 }
    const { diagram } = activelyDampedIsolation({ payload: { mass: 1140, appendages: [hanging] }, mount, damping })
    const controller = diagram.blocks.controller as StateSpace
    expect(controller.D[0]?.[0]).toBeCloseTo(15099.66887054, 7)
  })

  it('hangs in every concept', () => {
    const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
    const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
    const concepts = [
      { concept: 'parallelActive', feedback: { velocityGain: 1e4, accelerationGain: 50 } },
      { concept: 'seriesActive', activeStage: { mass: 60, actuator, controller, sensorLocation: 'activeStage' } },
    ]
    for (const concept of concepts) {
      const payload = { mass: 1140, appendages: [hanging] }
      expect(isolation({ ...concept, payload, mount } as never).diagram.blocks.payload?.inputs).toEqual(['force'])
    }
  })
})

describe('a mode with its own shape at mounts, motors, sensor and payload', () => {
  const mode = { modalMass: 6000, naturalFrequency: 42, dampingRatio: 0.01, mountShape: 0.5, sensorShape: -1 }
  const payload = { mass: 1200, appendages: [{ ...mode, payloadShape: 0.3 }] }
  const model = activelyDampedIsolation({ payload, mount, damping: { gain: 0 } })
  // Computed from the closed form Y_ab = 1/(m s) + φ_a φ_b s/(μ (s² + 2ζω s + ω²)) with the mount closed at its point.
  it.each([
    [2, 1.7130207121192431, -16.72740700010143, 0.0011091949920002532, 4.72786942596348e-5],
    [30, -0.0043169990484446235, -0.0038914250961362682, 1.909975595970839e-8, -4.356621648023488e-6],
    [42, 0.002032563924937886, -0.0062051422863995155, 2.852019622152155e-6, -3.1220254344223743e-6],
  ])('at %d Hz answers floor and force where it is asked', (frequency, re, im, forceRe, forceIm) => {
    expectComplex(channelAt(model, 'floorVelocity', 'payloadVelocity', frequency), re, im)
    expectComplex(channelAt(model, 'payloadForce', 'payloadVelocity', frequency), forceRe, forceIm)
  })

  it('shows the sensor what the motor does there', () => {
    const { diagram } = activelyDampedIsolation({ payload, mount, damping: { gain: 1 } })
    const loop = frequencyResponse(openLoop(diagram, 'actuator.force'), [30, 42])
    const { re, im } = channel(loop, { input: 'injected', output: 'returned' })
    expectComplex({ re: re[0] as number, im: im[0] as number }, -9.280425387868018e-9, -5.360715846853702e-6)
    expectComplex({ re: re[1] as number, im: im[1] as number }, -3.134458109582443e-5, -3.341626014585132e-6)
  })

  it('takes acceleration feedback at the sensor', () => {
    // A virtual mass without velocity gain: the loop is that of velocity times s.
    const byAcceleration = parallelActiveIsolation({
      payload,
      mount,
      feedback: { velocityGain: 0, accelerationGain: 1 },
    })
    const at = [30, 42]
    const read = (m: typeof model) =>
      magnitude(
        channel(frequencyResponse(openLoop(m.diagram, 'actuator.force'), at), {
          input: 'injected',
          output: 'returned',
        }),
      )
    const rate = read(byAcceleration)
    const velocity = read(activelyDampedIsolation({ payload, mount, damping: { gain: 1 } }))
    at.forEach((f, k) => {
      expect((rate[k] as number) / ((velocity[k] as number) * 2 * Math.PI * f)).toBeCloseTo(1, 9)
    })
  })
})

describe('a payload resonance that limits the gain', () => {
  // Source: C. Collette, S. Janssens, K. Artoos, Recent Patents on Mechanical Engineering 4 (2011) 212, as told in public
  // notes on that review; numbers computed from the closed form s/(M s² + c s + k) ∓ s/(6000 (s² + 2ζω s + ω²)).
  const mass = 1200
  const spring = springMount({ mass, naturalFrequency: 2, dampingRatio: 0.03 })
  const flexible = (sensorShape: number, dampingRatio = 0.01) => ({
    mass,
    appendages: [{ modalMass: 6000, naturalFrequency: 42, dampingRatio, mountShape: 0, sensorShape }],
  })
  const loop = (sensorShape: number, dampingRatio?: number) => {
    const payload = flexible(sensorShape, dampingRatio)
    return activelyDampedIsolation({ payload, mount: spring, damping: { dampingRatio: 0.7 } })
  }

  it('leaves 3.61 dB of the 21112 N·s/m wanted, at 42.04 Hz', () => {
    const found = loopMargins(loop(-1))[0]?.margins
    expect(21112 * (found?.gainMargin as number)).toBeCloseTo(32001, -1)
    expect(20 * Math.log10(found?.gainMargin as number)).toBeCloseTo(3.61, 2)
    const limit = found?.phaseCrossovers.find(({ gainMargin }) => gainMargin === found.gainMargin)
    expect(limit?.frequency).toBeCloseTo(42.04, 2)
  })

  it('peaks at 3.16e-5 m/s/N, ten times the rigid line', () => {
    const passive = activelyDampedIsolation({ payload: flexible(-1), mount: spring, damping: { gain: 1 } })
    const peak = gainAtLoop(passive, 42)
    expect(peak / 3.16e-5).toBeCloseTo(1, 1)
  })

  it('is harmless on the same side', () => {
    const found = loopMargins(loop(1))[0]?.margins
    expect(found?.gainMargin).toBeNull()
    expect(gainAtLoop(loop(1), 42)).toBeCloseTo(0.67, 2)
  })

  it('needs a damping ratio of 0.0131 for 6 dB', () => {
    // 0.01307 by a root search on the closed form for a factor of 10^(6/20).
    const decibels = (ratio: number) => 20 * Math.log10(loopMargins(loop(-1, ratio))[0]?.margins.gainMargin as number)
    expect(decibels(0.013065451863159081)).toBeCloseTo(6, 6)
  })

  function gainAtLoop(model: ReturnType<typeof loop>, frequency: number): number {
    const response = frequencyResponse(openLoop(model.diagram, 'actuator.force'), [frequency])
    return magnitude(channel(response, { input: 'injected', output: 'returned' }))[0] as number
  }
})

describe('an appendage that is none', () => {
  it.each([
    [3, 'invalid-option', 'payload.appendages'],
    [[null], 'invalid-option', 'payload.appendages[0]'],
    [[{ ...hanging, mass: 0 }], 'out-of-range', 'payload.appendages[0].mass'],
    [[{ ...hanging, dampingRatio: -1 }], 'out-of-range', 'payload.appendages[0].dampingRatio'],
    [[hanging, { ...hanging, naturalFrequency: Number.NaN }], 'not-finite', 'payload.appendages[1].naturalFrequency'],
    [[{ ...hanging, sensorShape: 1 }], 'invalid-option', 'payload.appendages[0].sensorShape'],
    [[{ ...hanging, modalMass: 1 }], 'invalid-option', 'payload.appendages[0].mass'],
  ])('%j is refused as %s at %s', (appendages, code, path) => {
    const error = refusal(() => passiveIsolation({ payload: { mass: 1, appendages: appendages as never }, mount }))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('leaves a payload that is rigid', () => {
    const rigid = passiveIsolation({ payload: { mass: 1200 }, mount })
    const empty = passiveIsolation({ payload: { mass: 1200, appendages: [] }, mount })
    expect(gainAt(empty, 'floorVelocity', 'payloadVelocity', 7)).toBe(
      gainAt(rigid, 'floorVelocity', 'payloadVelocity', 7),
    )
  })
})
