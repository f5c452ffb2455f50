import { describe, expect, it } from 'vitest'
import { piezoStack } from '../../../src/elements/index.js'
import {
  type ActiveStageOptions,
  loopMargins,
  passiveIsolation,
  type SeriesActiveIsolationOptions,
  seriesActiveIsolation,
} from '../../../src/isolation/index.js'
import { frequencyResponse, integrator, openLoop, stability, transferFunction } from '../../../src/systems/index.js'
import { channelAt, gainAt, modulusAt } from './read-off.js'

const mass = 500
const omega = 2 * Math.PI * 15

/** 500 kg on rubber of 15 Hz and 10 %, a plate of 30 kg, and an undamped actuator 27 times as stiff as the rubber. */
function stage(more: Partial<ActiveStageOptions>): SeriesActiveIsolationOptions {
  return {
    payload: { mass },
    mount: { stiffness: mass * omega ** 2, damping: 0.2 * mass * omega },
    activeStage: {
      mass: 30,
      actuator: { stiffness: 1.2e8, stroke: 2e-5 },
      sensorLocation: 'floor',
      controller: transferFunction({ numerator: [0], denominator: [1, 1] }),
      ...more,
    },
  }
}
/** Velocity to expansion: an exact integrator times a gain, so that the match M is that gain. */
const match = (gain: number) => transferFunction({ numerator: [gain], denominator: [1, 0] })

describe('a stage between floor and mount', () => {
  // Computed from the two-mass force balance; printed to 8 decimals.
  it.each([
    [1, 1.0046394],
    [5, 1.12984206],
    [15, 5.21144125],
    [50, 0.11691443],
    [100, 0.04083603],
  ])('at %d Hz has |T| %d without control and a twentieth of it with a match of 0.95', (frequency, modulus) => {
    expect(modulusAt(seriesActiveIsolation(stage({})), frequency)).toBeCloseTo(modulus, 8)
    const matched = seriesActiveIsolation(stage({ controller: match(0.95) }))
    // T = (1 − M)·T_mechanical for an undamped actuator.
    expect(modulusAt(matched, frequency) / modulus).toBeCloseTo(0.05, 8)
  })

  // Computed from the closed form of a viscous mount alone: 1 Hz, 5, 15, 50 and 100 Hz; k_a is 27.019 times k.
  it.each([
    [1, 1.00446349, 1.0046394],
    [5, 1.12433946, 1.12984206],
    [15, 5.09901951, 5.21144125],
    [50, 0.1186068, 0.11691443],
    [100, 0.03834512, 0.04083603],
  ])('at %d Hz passes %d on a rigid stage and %d on one 27 times as stiff as the mount', (frequency, rigid, real) => {
    const { mount, activeStage } = stage({})
    expect(activeStage.actuator.stiffness / mount.stiffness).toBeCloseTo(27.019, 3)
    expect(modulusAt(passiveIsolation({ payload: { mass }, mount }), frequency)).toBeCloseTo(rigid, 8)
    const stiff = seriesActiveIsolation(stage({ actuator: { stiffness: 1e15, stroke: 2e-5 } }))
    expect(modulusAt(stiff, frequency)).toBeCloseTo(rigid, 6)
    expect(modulusAt(seriesActiveIsolation(stage({})), frequency)).toBeCloseTo(real, 8)
  })

  it('with a perfect match and an undamped actuator leaves nothing', () => {
    const model = seriesActiveIsolation(stage({ controller: integrator() }))
    // The difference of two equal paths leaves rounding only.
    for (const frequency of [0.1, 5, 15, 80]) expect(modulusAt(model, frequency)).toBeLessThan(1e-13)
  })

  it('with a damped actuator leaves 1 − M·k_a/(k_a + c_a·s)', () => {
    // Computed from that closed form at 50 Hz with c_a = 4e4 N·s/m, M = 0.95.
    const damped = (controller: ActiveStageOptions['controller']) =>
      seriesActiveIsolation(stage({ actuator: { stiffness: 1.2e8, damping: 4e4, stroke: 2e-5 }, controller }))
    const off = damped(transferFunction({ numerator: [0], denominator: [1, 1] }))
    expect(modulusAt(damped(match(0.95)), 50) / modulusAt(off, 50)).toBeCloseTo(0.11541298, 8)
  })

  // Computed from the closed form 1/√(1 + (f/f₁)²), a first-order high-pass f₁ in the path; here f₁ = 1 Hz.
  it.each([
    [1, Math.SQRT1_2],
    [2, 0.44721],
    [5, 0.19612],
    [10, 0.0995037],
    [100, 0.0099995],
  ])('with a first-order high-pass in its path leaves, at %d times the corner, %d', (ratio, left) => {
    const controller = transferFunction({ numerator: [1], denominator: [1, 2 * Math.PI] })
    const matched = seriesActiveIsolation(stage({ controller }))
    expect(modulusAt(matched, ratio) / modulusAt(seriesActiveIsolation(stage({})), ratio)).toBeCloseTo(left, 5)
  })

  // Computed from the closed form 1 − H = (1 + 2jζr)/(1 − r² + 2jζr) of an uncorrected geophone with ζ = 0.7071: the
  // transmissibility of a viscous mount; f_g = 1 Hz.
  it.each([
    [0.786, 1.27202, 4],
    [Math.SQRT2, 1, 8],
    [5, 0.28543, 5],
    [10, 0.14177, 5],
    [100, 0.01414, 5],
  ])('with a geophone on the floor leaves, at %d of its corner, %d', (ratio, left, decimals) => {
    const sensor = { naturalFrequency: 1, dampingRatio: Math.SQRT1_2 }
    const matched = seriesActiveIsolation(stage({ controller: match(1), sensor }))
    const share = modulusAt(matched, ratio) / modulusAt(seriesActiveIsolation(stage({})), ratio)
    expect(share).toBeCloseTo(left, decimals)
  })

  it('does not stiffen the payload against forces by feedforward', () => {
    const force = (controller: ActiveStageOptions['controller']) =>
      gainAt(seriesActiveIsolation(stage({ controller })), 'payloadForce', 'payloadVelocity', 7)
    // Two models of one path: a few roundings apart.
    const off = force(transferFunction({ numerator: [0], denominator: [1, 1] }))
    expect(Math.abs(force(match(0.95)) / off - 1)).toBeLessThan(16 * Number.EPSILON)
  })

  it('sensed on the floor has no loop, sensed on the stage has one', () => {
    expect(seriesActiveIsolation(stage({})).loops).toEqual([])
    expect(loopMargins(seriesActiveIsolation(stage({})))).toEqual([])
    const closed = seriesActiveIsolation(stage({ sensorLocation: 'activeStage' }))
    expect(closed.loops).toEqual([{ name: 'activeStage', port: 'actuator.expansion' }])
  })
})

describe('feedback from the stage', () => {
  const feedback = (gain: number) =>
    seriesActiveIsolation(stage({ sensorLocation: 'activeStage', controller: { gain, highPass: 1e-3, lowPass: 2e4 } }))

  it('divides stage motion by 1 + gain below the resonances', () => {
    // Derived from the force balance: at s → 0, m_i and m move as one and (k_a)(X_f − X_i) − k_a·g·X_i = 0, X_i = X_f/(1 + g).
    // At 0.1 Hz the inertia of 530 kg adds m·ω²/k_a = 2e-6 of that.
    expect(modulusAt(feedback(3), 0.1)).toBeCloseTo(0.25, 4)
    expect(modulusAt(feedback(9), 0.1)).toBeCloseTo(0.1, 4)
  })

  it('opens to a loop of that gain', () => {
    // Derived from the same balance: L = g·M·k_a/(k_a − m·ω²) → 3 well above the high-pass and below the resonances; L/3 is
    // a high-pass of 1e-3 Hz there, so that at 0.05 Hz |L| = 3/√(1 + 0.02²) = 2.9994.
    const model = feedback(3)
    const [loop] = loopMargins(model)
    expect(loop?.margins.closedLoop).toBe('stable')
    const series = frequencyResponse(openLoop(model.diagram, loop?.port ?? ''), [0.05])
    expect(Math.hypot(series.re[0] ?? 0, series.im[0] ?? 0)).toBeCloseTo(2.9994, 4)
  })

  it('by a pure integrator is marginal, since its start value never decays', () => {
    const model = seriesActiveIsolation(stage({ sensorLocation: 'activeStage', controller: match(3) }))
    expect(stability(model.closed).verdict).toBe('marginal')
  })
})

describe('ports of a series stage', () => {
  it('sum forces on the floor and see noise as what it stands for', () => {
    const model = seriesActiveIsolation(stage({ sensorLocation: 'activeStage', controller: match(3) }))
    expect(model.closed.inputs).toEqual([
      'floorVelocity',
      'payloadForce',
      'reactionForce',
      'sensorNoise',
      'actuatorNoise',
    ])
    expect(model.closed.outputs).toEqual(['payloadVelocity', 'stretch', 'floorForce', 'actuatorExpansion'])
    // A steady force on the payload arrives on the floor.
    expect(channelAt(model, 'payloadForce', 'floorForce', 1e-3).re).toBeCloseTo(1, 6)
    // Noise of the sensor counts as stage velocity: far inside the loop, the stage follows it with −g/(1 + g).
    expect(channelAt(model, 'sensorNoise', 'payloadVelocity', 0.1).re).toBeCloseTo(-0.75, 3)
  })

  it('bound the expansion to half the stroke either way', () => {
    expect(seriesActiveIsolation(stage({})).limits).toEqual([
      { name: 'actuatorExpansion', output: 'actuatorExpansion', value: 1e-5, unit: 'm' },
    ])
  })

  it('take the record of a piezo stack', () => {
    const actuator = piezoStack({ stiffness: 1.2e8, stroke: 2e-5 })
    const model = seriesActiveIsolation(stage({ actuator, controller: match(0.95) }))
    expect(modulusAt(model, 50)).toBeCloseTo(0.05 * 0.11691443, 9)
  })
})
