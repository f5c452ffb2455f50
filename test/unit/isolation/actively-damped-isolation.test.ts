import { describe, expect, it } from 'vitest'
import { springMount, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  isolationSummary,
  loopMargins,
  passiveIsolation,
} from '../../../src/isolation/index.js'
import { gainLimits, openLoop, poles, stability } from '../../../src/systems/index.js'
import { gainAt, modulusAt } from './read-off.js'

const mass = 1000

/** Damping ratio `passive` of the mount, `active` of the loop, on f₀ [Hz]. */
function damped(f0: number, passive: number, active: number, path: object = {}): IsolationModel {
  const mount = springMount({ mass, naturalFrequency: f0, dampingRatio: passive })
  return activelyDampedIsolation({ payload: { mass }, mount, damping: { dampingRatio: active, ...path } })
}

describe('damping against motion in space', () => {
  // D. Karnopp, M. J. Crosby, R. A. Harwood, J. Eng. Ind. 96 (1974) 619-626; T = 1/(1 − r² + 2jζ_s r), six decimals.
  it.each([
    [0.5, [1.004987, 1.1094, 1, 0.27735, 0.040791, 0.01005]],
    [Math.SQRT1_2, [0.99995, 0.970143, Math.SQRT1_2, 0.242536, 0.039968, 0.01]],
    [1, [0.990099, 0.8, 0.5, 0.2, 0.038462, 0.009901]],
    [2, [0.936545, 0.468165, 0.25, 0.117041, 0.032009, 0.009365]],
  ])('of ratio %d on an undamped mount has the tabulated |T|', (ratio, expected) => {
    const model = damped(1, 0, ratio)
    const found = [0.1, 0.5, 1, 2, 5, 10].map((r) => modulusAt(model, r))
    found.forEach((value, k) => {
      expect(value).toBeCloseTo(expected[k] as number, 6)
    })
    // No overshoot from 1/√2 on: same source.
    expect(isolationSummary(model).peak > 1 + 1e-9).toBe(ratio < 0.7)
  })

  it('of ratio 0.7 beside 0.02 of the mount has the tabulated |T|', () => {
    // Computed from the closed form T = (1 + 2jζr)/(1 − r² + 2j(ζ + ζ_s)r); three to six decimals.
    const model = damped(1, 0.02, 0.7)
    expect(modulusAt(model, 1)).toBeCloseTo(0.695, 3)
    expect(modulusAt(model, Math.SQRT2)).toBeCloseTo(0.441477, 6)
    expect(modulusAt(model, 2)).toBeCloseTo(0.241231, 6)
    expect(modulusAt(model, 10)).toBeCloseTo(0.010766, 6)
    expect(modulusAt(model, 100)).toBeCloseTo(0.000412, 6)
  })

  it('by ratio or by gain is the same', () => {
    // Computed from gain = 2·0.7·√(count·k·m) = 2·0.7·√(4·25000·1000) = 14000 N·s/m.
    const options = { payload: { mass }, mount: { stiffness: 25000, damping: 30 }, count: 4 }
    const ratio = activelyDampedIsolation({ ...options, damping: { dampingRatio: 0.7 } })
    const gain = activelyDampedIsolation({ ...options, damping: { gain: 14000 } })
    for (const frequency of [0.3, 1.6, 12]) {
      expect(modulusAt(gain, frequency) / modulusAt(ratio, frequency)).toBeCloseTo(1, 14)
    }
  })

  it('pushes with gain times velocity, which the floor takes', () => {
    // Derived: the motor stands on the floor; with an undamped mount floorForce = k·stretch − actuatorForce.
    const model = activelyDampedIsolation({ payload: { mass }, mount: { stiffness: 1e5 }, damping: { gain: 5000 } })
    const velocity = gainAt(model, 'payloadForce', 'payloadVelocity', 3)
    expect(gainAt(model, 'payloadForce', 'actuatorForce', 3) / velocity).toBeCloseTo(5000, 6)
    expect(gainAt(model, 'actuatorNoise', 'floorForce', 0)).toBeCloseTo(0, 12)
    expect(gainAt(model, 'sensorNoise', 'actuatorForce', 1e5) / 5000).toBeCloseTo(1, 6)
  })

  it('takes the record of a motor, with its bound and its dynamics', () => {
    const motor = voiceCoil({
      forceConstant: 20,
      resistance: 4,
      inductance: 2e-3,
      maxForce: 60,
      drive: 'voltage',
    } as never)
    const model = damped(2, 0.02, 0.5, { actuator: motor })
    expect(model.limits).toEqual([{ name: 'actuatorForce', output: 'actuatorForce', value: 60, unit: 'N' }])
    expect(model.closed.states.length).toBeGreaterThan(damped(2, 0.02, 0.5).closed.states.length)
  })
})

describe('damping with a geophone', () => {
  const geophone = (fg: number, zg: number) => ({ sensor: { naturalFrequency: fg, dampingRatio: zg } })
  // Poles of the fourth-order polynomial are found to about 1e-13; a millionth beside the limit moves them 1e-7 off the axis.
  const apart = 1e-6

  // Computed from the Routh condition ζ_s,max = ζ_g(f₀/f_g − f_g/f₀), undamped mount, confirmed by a root search; the limit
  // oscillation is at f_g. Measured counterpart: S.-M. Kim, S. J. Elliott, M. J. Brennan, decentralised velocity feedback.
  it.each([
    [4, 1, 0.7, 2.625],
    [2, 1, 0.7, 1.05],
    [2, 0.5, 0.7, 2.625],
    [10, 4.5, 0.7, 1.24055556],
  ])('f₀ %d Hz, f_g %d Hz, ζ_g %d is stable up to %d and then oscillates at f_g', (f0, fg, zg, limit) => {
    const below = damped(f0, 0, limit * (1 - apart), geophone(fg, zg))
    const above = damped(f0, 0, limit * (1 + apart), geophone(fg, zg))
    expect(stability(below.closed).verdict).toBe('stable')
    expect(stability(above.closed)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
    const pair = poles(above.closed).find(({ re, im }) => re > 0 && im > 0)
    // The pair leaves the axis with the square of the small excess; its frequency is off by about the excess itself.
    expect((pair?.im ?? 0) / (2 * Math.PI) / fg).toBeCloseTo(1, 5)
  })

  it('above the mount is unstable at any positive gain, and a small negative one damps', () => {
    // Same source, f₀ = 2 Hz, f_g = 4.5 Hz, ζ_g = 0.7: ζ_s,max = −1.264.
    const gain = (ratio: number) => 2 * ratio * mass * 2 * Math.PI * 2
    const at = (ratio: number) =>
      activelyDampedIsolation({
        payload: { mass },
        mount: springMount({ mass, naturalFrequency: 2, dampingRatio: 0 }),
        damping: { gain: gain(ratio), ...geophone(4.5, 0.7) },
      })
    for (const ratio of [1e-3, 0.1, 1, 10]) expect(stability(at(ratio).closed).verdict).toBe('unstable')
    for (const ratio of [-1e-3, -0.1, -1.2638]) expect(stability(at(ratio).closed).verdict).toBe('stable')
    expect(stability(at(-1.264).closed).verdict).toBe('unstable')
  })

  // Computed from the Routh condition a₃a₂a₁ > a₁² + a₃²a₀ by root search; six decimals, f₀ = 2 Hz, f_g = 4.5 Hz, ζ_g = 0.7.
  it.each([
    [0.02, 0.13286],
    [0.1, 0.71895],
    [0.3, 2.558412],
  ])('beside a mount of damping ratio %d is stable up to %d', (passive, limit) => {
    const printed = 1e-6 / limit
    const at = (ratio: number) => stability(damped(2, passive, ratio, geophone(4.5, 0.7)).closed).verdict
    expect(at(limit * (1 - printed))).toBe('stable')
    expect(at(limit * (1 + printed))).toBe('unstable')
  })

  it('moves the amplification below f₀ and does not remove it', () => {
    // Computed from the closed form: f₀ = 4 Hz, ζ = 0.02, f_g = 1 Hz, ζ_g = 0.7, ζ_s = 1.
    const model = damped(4, 0.02, 1, geophone(1, 0.7))
    const { peak, peakFrequency } = isolationSummary(model)
    expect(peak).toBeCloseTo(2.37048, 5)
    expect(peakFrequency).toBeCloseTo(1.33877, 5)
    expect(modulusAt(model, 4)).toBeCloseTo(0.491524, 6)
  })
})

describe('damping with a delay', () => {
  // Computed from the closed forms on an undamped mount, f₀ = 2 Hz: gain crossover f₀(ζ_s + √(ζ_s² + 1)), limit
  // τ_max = (π/2)/(ω₀(ζ_s + √(ζ_s² + 1))); confirmed by a search of the characteristic roots. Six and four decimals.
  const table = [
    [0.5, 3.236068, 77.2542],
    [1, 4.828427, 51.7767],
    [2, 8.472136, 29.5085],
    [5, 20.198039, 12.3774],
  ] as const

  it.each(table)('of ratio %d crosses over at %d Hz and bears %d ms', (ratio, crossover, milliseconds) => {
    const limit = milliseconds * 1e-3
    // Half of the last printed digit is 4e-6 of the smallest limit.
    const printed = 5e-6
    const at = (delay: number) => stability(damped(2, 0, ratio, { delay }).closed).verdict
    expect(at(limit * (1 - printed))).toBe('stable')
    expect(at(limit * (1 + printed))).toBe('unstable')
    const [loop] = loopMargins(damped(2, 0, ratio))
    const upper = loop?.margins.gainCrossovers.at(-1)
    expect(upper?.frequency).toBeCloseTo(crossover, 6)
    expect((loop?.margins.delayMargin ?? 0) * 1e3).toBeCloseTo(milliseconds, 4)
    expect(upper?.phaseMarginDegrees).toBeCloseTo(90, 8)
  })

  it('of 5 ms at ratio 1 keeps the tabulated margins', () => {
    // Computed from the closed forms PM = 90° − ω_c·τ, ω₁₈₀ = π/(2τ), GM = (ω₁₈₀² − ω₀²)/(2ζ_s·ω₀·ω₁₈₀); printed digits.
    const [loop] = loopMargins(damped(2, 0, 1, { delay: 5e-3 }))
    const margins = loop?.margins
    expect(margins?.gainCrossovers.at(-1)?.phaseMarginDegrees).toBeCloseTo(81.3088, 4)
    expect(margins?.phaseCrossovers[0]?.frequency).toBeCloseTo(50, 9)
    expect(margins?.gainMargin).toBeCloseTo(12.48, 9)
    expect(20 * Math.log10(margins?.gainMargin as number)).toBeCloseTo(21.924, 3)
    expect(margins?.modulusMargin).toBeCloseTo(0.893419, 6)
    expect(1 / (margins?.modulusMargin as number)).toBeCloseTo(1.119295, 6)
    expect(margins?.modulusMarginFrequency).toBeCloseTo(25.0945, 4)
    expect(margins?.closedLoop).toBe('stable')
  })
})

describe('a loop that crosses 0 dB twice', () => {
  it('lists both crossings, the lower with its negative phase margin', () => {
    // Computed from the closed form: m = 500 kg, f₀ = 2 Hz, ζ = 0.03, g = 30000 N·s/m, f_g = 0.3 Hz, ζ_g = 0.7, 1.2 ms;
    // upper gain limit from the low side 58271 N·s/m, 58084 without the delay; peak 1/0.35 = 9.11 dB.
    const late = (delay: number) =>
      activelyDampedIsolation({
        payload: { mass: 500 },
        mount: springMount({ mass: 500, naturalFrequency: 2, dampingRatio: 0.03 }),
        damping: { gain: 30000, sensor: { naturalFrequency: 0.3, dampingRatio: 0.7 }, delay },
      })
    const [loop] = loopMargins(late(1.2e-3))
    const [lower, upper] = loop?.margins.gainCrossovers ?? []
    expect(lower?.frequency).toBeCloseTo(0.4374, 4)
    expect(lower?.phaseMarginDegrees).toBeCloseTo(-29.86, 2)
    expect(upper?.frequency).toBeCloseTo(9.95, 2)
    expect(upper?.phaseMarginDegrees).toBeCloseTo(88.8, 1)
    expect((upper?.delayMargin ?? 0) * 1e3).toBeCloseTo(24.8, 1)
    expect(loop?.margins.modulusMargin).toBeCloseTo(0.35, 2)
    expect(loop?.margins.modulusMarginFrequency).toBeCloseTo(0.362, 3)
    expect(20 * Math.log10(1 / (loop?.margins.modulusMargin ?? 0))).toBeCloseTo(9.11, 1)
    expect(30000 * (loop?.margins.phaseCrossovers[0]?.gainMargin ?? 0)).toBeCloseTo(58271, 0)
    const prompt = gainLimits(openLoop(late(0).diagram, 'actuator.force')).stable
    expect(prompt).toEqual([expect.objectContaining({ from: 0 })])
    expect(30000 * (prompt[0]?.to ?? 0)).toBeCloseTo(58084, 0)
  })
})

it('has the passive model as its limit of no gain', () => {
  const mount = springMount({ mass, naturalFrequency: 2, dampingRatio: 0.03 })
  const still = activelyDampedIsolation({ payload: { mass }, mount, damping: { gain: 0 } })
  const passive = passiveIsolation({ payload: { mass }, mount })
  for (const frequency of [0.1, 1, 2, 5, 50]) expect(modulusAt(still, frequency)).toBe(modulusAt(passive, frequency))
})
