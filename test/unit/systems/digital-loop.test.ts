import { describe, expect, it } from 'vitest'
import {
  type Diagram,
  delay,
  diagram,
  digitalLoop,
  discretize,
  gain,
  integrator,
  lowPass,
  margins,
  minimumSampleRate,
  stateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const loopOf = (plant: Diagram['blocks'][string], controller: Diagram['blocks'][string]): Diagram =>
  diagram({
    blocks: { plant, controller },
    inputs: [],
    outputs: {},
    wires: { 'plant.u1': '-controller.y1', 'controller.u1': 'plant.y1' },
  }) as Diagram
const integrating = loopOf(integrator(), gain(50))
const controller = 'controller'

// 1000 kg at 2 Hz, damping 0.03, against a force of 2·0.7·m·ω₀ through a lag of 300 Hz.
const [mass, stiffness, damping, lag] = [1000, 157913.67041742973, 753.9822368615503, 1884.9555921538758]
const payload = stateSpace({
  A: [
    [-damping / mass, -stiffness / mass, 1 / mass],
    [1, 0, 0],
    [0, 0, -lag],
  ],
  B: [[0], [0], [lag]],
  C: [[1, 0, 0]],
})
const damped = loopOf(payload, gain(17592.91886010284))

describe('digitalLoop', () => {
  it.each([
    // Jury's test on the closed loop of an integrator, k = K·T = 0.5: z − 1 + k; z² − z + k/2·(z + 1); z² − z + k.
    [0, 4],
    [0.005, 4],
    [0.01, 2],
  ])('holds and waits %f s before an integrator', (computingDelay, gainMargin) => {
    const L = digitalLoop(integrating, { controller, sampleTime: 0.01, computingDelay })
    expect(L.sampleTime).toBe(0.01)
    expect(margins(L).gainMargin).toBeCloseTo(gainMargin, 9)
  })

  it.each([
    // Computed from the modified z-transform of the plant: least |1 + L| by search on the circle, the gain margin as the factor
    // that brings an eigenvalue of the closed recurrence onto it.
    [1e-3, 0, 0.9838543077567, 161.811332349],
    [1e-3, 1e-3, 0.96819111877, 49.671681412],
    [1e-3, 1.7e-3, 0.95754780143, 34.771513878],
    [1e-2, 4e-3, 0.8684554193, 12.5371064846],
  ])('of a damped payload at %f s with %f s of computing has its margins', (sampleTime, late, modulus, factor) => {
    const found = margins(digitalLoop(damped, { controller, sampleTime, computingDelay: late }))
    expect(found.closedLoop).toBe('stable')
    expect(found.modulusMargin).toBeCloseTo(modulus, 9)
    expect((found.gainMargin as number) / factor).toBeCloseTo(1, 8)
  })

  it('takes the controller as it runs', () => {
    const smooth = loopOf(payload, lowPass({ cutoff: 40 }))
    const digital = discretize(lowPass({ cutoff: 40 }), { sampleTime: 1e-3, method: 'bilinear', prewarp: 40 })
    const given = digitalLoop(smooth, { controller, digital })
    const made = digitalLoop(smooth, { controller, sampleTime: 1e-3, prewarp: 40 })
    expect(given).toEqual(made)
    expect(given.A).toHaveLength(4)
  })

  it('sets its output late where the plant passes it straight through', () => {
    // Computed by hand: L = 0.5·z⁻² for a gain of 0.5 two samples late; nearest to −1 at z⁻² = −1, half the distance.
    const L = digitalLoop(loopOf(gain(1), gain(0.5)), { controller, sampleTime: 0.1, computingDelay: 0.2 })
    const { modulusMargin, modulusMarginFrequency } = margins(L)
    expect(modulusMargin).toBeCloseTo(0.5, 12)
    expect(modulusMarginFrequency).toBeCloseTo(2.5, 6)
  })

  it.each([
    [{ controller: 'other', sampleTime: 1e-3 }, 'unknown-port', 'controller'],
    [{ controller }, 'invalid-option', 'sampleTime'],
    [{ controller, sampleTime: 1e-3, computingDelay: 1 }, 'out-of-range', 'computingDelay'],
    [{ controller, sampleTime: 1e-3, method: 'euler' }, 'invalid-option', 'method'],
    [{ controller, sampleTime: 1e-3, digital: {} }, 'invalid-option', 'sampleTime'],
    [{ controller, sampleTime: 1e-3, rate: 1 }, 'invalid-option', 'rate'],
  ])('refuses %o', (options, code, path) => {
    const error = refusal(() => digitalLoop(damped, options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses delays in the diagram, which belong to the computer', () => {
    const late = loopOf(delay({ seconds: 0.01 }), gain(1))
    expect(refusal(() => digitalLoop(late, { controller, sampleTime: 1e-3 })).code).toBe('unsupported')
  })
})

describe('minimumSampleRate', () => {
  it('is found for an integrator', () => {
    // Computed by hand: |1 + K·T/(z − 1)| is least at z = −1, 1 − K·T/2; 0.5 at K·T = 1, 0.8 at K·T = 0.4.
    const range = { controller, delaySamples: 0, from: 1, to: 1e4 }
    expect(minimumSampleRate(integrating, range)).toMatchObject({ verdict: 'limited', modulusMargin: 0.5 })
    expect(minimumSampleRate(integrating, range).sampleRate).toBeCloseTo(50, 3)
    expect(minimumSampleRate(integrating, { ...range, modulusMargin: 0.8 }).sampleRate).toBeCloseTo(125, 3)
    // At the highest rate 1 − 50/1e4/2.
    expect(minimumSampleRate(integrating, range).marginAtHighest).toBeCloseTo(0.9975, 9)
  })

  it('is where the margin of the loop is the one asked for', () => {
    const found = minimumSampleRate(damped, { controller, computingDelay: 1e-3, from: 10, to: 1e4 })
    const rate = found.sampleRate as number
    const L = digitalLoop(damped, { controller, sampleTime: 1 / rate, computingDelay: 1e-3 + 1 / rate })
    expect(margins(L).modulusMargin).toBeCloseTo(0.5, 5)
  })

  it('says where there is no limit, and where there is no margin', () => {
    const range = { controller, delaySamples: 0 }
    expect(minimumSampleRate(integrating, { ...range, from: 100, to: 1e3 })).toMatchObject({
      sampleRate: 100,
      verdict: 'kept',
    })
    expect(minimumSampleRate(integrating, { ...range, from: 10, to: 20 })).toMatchObject({
      sampleRate: null,
      verdict: 'lost',
      marginAtHighest: 0,
    })
    expect(refusal(() => minimumSampleRate(integrating, { ...range, from: 10, to: 5 })).details.path).toBe('to')
    const withTime = { ...range, from: 1, to: 5, sampleTime: 1 }
    expect(refusal(() => minimumSampleRate(integrating, withTime as never)).details.path).toBe('sampleTime')
  })
})
