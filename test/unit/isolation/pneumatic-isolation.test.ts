import { describe, expect, it } from 'vitest'
import { airSpring, levellingValve, relaxationMount, standardGravity } from '../../../src/elements/index.js'
import { loopMargins, passiveIsolation, pneumaticIsolation } from '../../../src/isolation/index.js'
import { gain, poles, stability, transferFunction } from '../../../src/systems/index.js'
import { oneChamber } from './one-chamber.js'
import { channelAt, degreesAt, modulusAt } from './read-off.js'

/** Golden case A: 300 kg on one spring of 0.01 m², chambers of 1 and 3 litres, optimal restriction. */
const golden = {
  payload: { mass: 300 },
  mount: airSpring({
    area: 0.01,
    volume: 1e-3,
    load: 300 * standardGravity,
    dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
  }),
}

describe('a payload on an air spring', () => {
  // Computed from the closed form f₀ = √(n·(g/h)·(1 + p_atm/p_gauge))/(2π), h = volume/area, n = 1.4, four digits.
  it.each([
    [0.05, 1e5, 3.742],
    [0.05, 5e5, 2.8922],
    [0.1, 1e5, 2.646],
    [0.1, 2e5, 2.289],
    [0.1, 3e5, 2.1569],
    [0.2, 3e5, 1.5252],
    [0.4, 5e5, 1.0225],
  ])('of height %d m at %d Pa gauge resonates at %d Hz', (height, gaugePressure, frequency) => {
    const area = 0.02
    const mount = airSpring({ area, volume: height * area, gaugePressure })
    const model = pneumaticIsolation({ payload: { mass: (gaugePressure * area) / standardGravity }, mount })
    expect(Math.abs((poles(model.closed)[0]?.naturalFrequency ?? 0) / frequency - 1)).toBeLessThan(2e-4)
  })

  // Computed from the closed form k = n·p_abs·A²/V + p_gauge·dA/dz.
  it.each([
    [0, 1.563198],
    [0.05, 1.7506],
  ])('whose area grows by %d m²/m resonates at %d Hz', (areaGradient, frequency) => {
    const mount = airSpring({ area: 0.02, volume: 4e-3, gaugePressure: 2.5e5, areaGradient })
    const model = pneumaticIsolation({ payload: { mass: 509.858106 }, mount })
    expect(poles(model.closed)[0]?.naturalFrequency).toBeCloseTo(frequency, 6)
  })

  it('with two chambers isolates as golden case A', () => {
    // Computed from K(s) = k₀(1 + s·t_a)/(1 + s·t_b) of the two-chamber mass balance, confirmed by a direct solve; |T| is
    // printed to 8, phase to 4 decimals.
    const table = [
      [0.5, 1.18277801, -5.1867],
      [1, 1.52899905, -27.2013],
      [1.3675, 1.66666666, -53.1269],
      [2, 1.25722362, -98.9791],
      [5, 0.19543385, -155.1113],
      [10, 0.04729702, -168.0799],
      [20, 0.01172265, -174.1028],
    ] as const
    const model = pneumaticIsolation(golden)
    for (const [frequency, modulus, degrees] of table) {
      expect(modulusAt(model, frequency)).toBeCloseTo(modulus, 8)
      expect(degreesAt(model, frequency)).toBeCloseTo(degrees, 4)
    }
    // Same source: poles, printed to 6 decimals.
    const found = poles(model.closed)
    expect(found.find(({ im }) => im > 0)?.re).toBeCloseTo(-5.092434, 6)
    expect(found.find(({ im }) => im > 0)?.im).toBeCloseTo(9.3461, 6)
    expect(found.find(({ im }) => im > 0)?.naturalFrequency).toBeCloseTo(1.69395, 5)
    expect(found.find(({ im }) => im > 0)?.dampingRatio).toBeCloseTo(0.478458, 6)
    expect(found.find(({ im }) => im === 0)?.re).toBeCloseTo(-7.000154, 6)
  })

  it('with two chambers is the same as an elastically supported damper', () => {
    // Computed from the closed forms N = V₂/V₁, k₀ = n·p·A²/(V₁ + V₂), c = R·A²·(V₂/(V₁ + V₂))²; the two are one formula,
    // so that only roundings stand between them: some twenty, of which the resonance magnifies each by |T|² at most.
    const machinePrecision = 100 * Number.EPSILON
    const { mount } = golden
    const resistance = mount.dampingChamber?.flowResistance ?? 0
    const twin = passiveIsolation({
      payload: golden.payload,
      mount: relaxationMount({
        stiffness: mount.stiffness,
        stiffnessRatio: 3,
        damping: resistance * (0.01 * 0.75) ** 2,
      }),
    })
    for (const frequency of [0.1, 0.5, 1, 1.3675, 2, 5, 10, 100]) {
      const a = channelAt(pneumaticIsolation(golden), 'floorVelocity', 'payloadVelocity', frequency)
      const b = channelAt(twin, 'floorVelocity', 'payloadVelocity', frequency)
      expect(Math.hypot(a.re - b.re, a.im - b.im) / Math.hypot(b.re, b.im)).toBeLessThan(machinePrecision)
    }
  })

  it('without levelling has no loop, with a valve record it has one', () => {
    expect(pneumaticIsolation(golden).loops).toEqual([])
    const levelling = levellingValve({ flowGain: 0.001, deadBand: 5e-4 })
    const model = pneumaticIsolation({ ...golden, levelling })
    expect(model.loops).toEqual([{ name: 'levelling', port: 'valve.velocity' }])
    expect(model.limits).toEqual([{ name: 'levellingDeadBand', output: null, value: 5e-4, unit: 'm' }])
  })
})

describe('levelling of one chamber', () => {
  // The cubic m·s³ + c·s² + k·s + k·κ is solved to rounding, about 1e-15 of its coefficients, so that a rate a millionth
  // off the limit is told apart with room to spare.
  const apart = 1e-6
  const spring = oneChamber(1.5, 0.1)
  const at = (rate: number) =>
    pneumaticIsolation({
      payload: spring.payload,
      mount: spring.mount,
      levelling: { flowGain: spring.flowGain(rate) },
    })

  it('is stable up to κ = 2ζω₀ = 1.884955592 1/s, exactly', () => {
    // Computed from the Routh condition κ < c/m; f₀ = 1.5 Hz, ζ = 0.1.
    const limit = 1.884955592
    expect(stability(at(limit * (1 - apart)).closed).verdict).toBe('stable')
    expect(stability(at(limit * (1 + apart)).closed)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
    // At the limit the poles are ±jω₀ and −2ζω₀; the limit is printed to ten digits.
    const found = poles(at(limit).closed)
    const pair = found.find(({ im }) => im > 0)
    expect(pair?.naturalFrequency).toBeCloseTo(1.5, 8)
    expect(Math.abs(pair?.dampingRatio ?? 1)).toBeLessThan(1e-9)
    expect(found.find(({ im }) => im === 0)?.re).toBeCloseTo(-1.884955592, 8)
  })

  it('at a fifth of the limit keeps the tabulated poles and a gain margin of five', () => {
    // Computed from the roots of the cubic, six decimals.
    const model = at(0.2 * 1.884955592)
    const found = poles(model.closed)
    expect(found.find(({ im }) => im > 0)?.re).toBeCloseTo(-0.752762, 6)
    expect(found.find(({ im }) => im > 0)?.im).toBeCloseTo(9.364216, 6)
    expect(found.find(({ im }) => im === 0)?.re).toBeCloseTo(-0.379431, 6)
    const [loop] = loopMargins(model)
    expect(loop?.name).toBe('levelling')
    expect(loop?.margins.gainMargin).toBeCloseTo(5, 8)
    expect(loop?.margins.phaseCrossovers[0]?.frequency).toBeCloseTo(1.5, 8)
  })

  it('without damping is unstable at any rate', () => {
    const undamped = oneChamber(1.5, 0)
    for (const rate of [1e-4, 0.1, 10]) {
      const { payload, mount } = undamped
      const levelling = { flowGain: undamped.flowGain(rate) }
      expect(stability(pneumaticIsolation({ payload, mount, levelling }).closed).verdict).toBe('unstable')
    }
  })

  // Valve with relaxation time τ = 1/κ, f₀ = 1.4 Hz, ζ = 0.05: gain margin 2ζω₀τ. Computed from the closed form; 0.8 s is
  // unstable at 1.404 Hz with a growth of 0.182 1/s.
  it.each([
    [1.5, 1.32],
    [3, 2.64],
  ])('with a time constant of %d s has a gain margin of %d', (time, margin) => {
    const slow = oneChamber(1.4, 0.05)
    const levelling = { flowGain: slow.flowGain(1 / time) }
    const [loop] = loopMargins(pneumaticIsolation({ payload: slow.payload, mount: slow.mount, levelling }))
    expect(loop?.margins.gainMargin).toBeCloseTo(margin, 2)
  })

  it('with a time constant of 0.8 s hunts at 1.404 Hz', () => {
    const fast = oneChamber(1.4, 0.05)
    const levelling = { flowGain: fast.flowGain(1 / 0.8) }
    const model = pneumaticIsolation({ payload: fast.payload, mount: fast.mount, levelling })
    const growing = poles(model.closed).find(({ re, im }) => re > 0 && im > 0)
    expect(growing?.re).toBeCloseTo(0.182, 3)
    expect((growing?.im ?? 0) / (2 * Math.PI)).toBeCloseTo(1.404, 3)
    expect(loopMargins(model)[0]?.margins.phaseCrossovers[0]?.gainMargin).toBeCloseTo(0.704, 3)
  })

  it('holds the height against a steady force and still follows the floor', () => {
    // Common practice, no source: levelling is an integrator, static compliance zero.
    const model = at(0.3)
    expect(channelAt(model, 'payloadForce', 'stretch', 0).re).toBeCloseTo(0, 15)
    expect(modulusAt(model, 0)).toBeCloseTo(1, 12)
  })

  it('by a controller of gain 2 is levelling at twice the flow gain, a delay costs phase', () => {
    const { payload, mount } = spring
    const electronic = (levelling: object) =>
      pneumaticIsolation({ payload, mount, levelling: { flowGain: spring.flowGain(0.3), ...levelling } })
    const doubled = electronic({ controller: gain(2) })
    expect(modulusAt(doubled, 1)).toBeCloseTo(modulusAt(at(0.6), 1), 12)
    const delayed = electronic({ controller: gain(2), delay: 0.05 })
    const lagging = electronic({ controller: transferFunction({ numerator: [2], denominator: [0.05, 1] }) })
    // Computed from the closed form: at the gain crossover near κ/2π = 0.095 Hz, where L ≈ κ/s, 0.05 s cost κ·0.05 rad,
    // 1.7°, as a pure delay and as a lag alike.
    const phase = (model: typeof delayed) => loopMargins(model)[0]?.margins.gainCrossovers[0]?.phaseMarginDegrees ?? 0
    expect(phase(doubled) - phase(delayed)).toBeCloseTo(1.72, 1)
    expect(phase(doubled) - phase(lagging)).toBeCloseTo(1.72, 1)
    expect(loopMargins(delayed)[0]?.margins.closedLoop).toBe('stable')
  })

  it('acts on the gas alone, not on what stands beside it', () => {
    // Computed from T = K/(m s² + K) with K = k_gas(1 + κ/s) + k_diaphragm; at ω = 1 rad/s with m = 1000 kg, κ = 0.5 1/s,
    // k_gas = 2e4 N/m and k_diaphragm = 1e4 N/m: T = (3e4 − 1e4 j)/(2.9e4 − 1e4 j) = (970 + 10 j)/941.
    const area = 0.04
    const load = 1000 * standardGravity
    const volume = (1.4 * (load / area + 101325) * area ** 2) / 2e4
    const mount = airSpring({ area, volume, load, diaphragmStiffness: 1e4 })
    const model = pneumaticIsolation({ payload: { mass: 1000 }, mount, levelling: { flowGain: 0.5 * area } })
    const { re, im } = channelAt(model, 'floorVelocity', 'payloadVelocity', 1 / (2 * Math.PI))
    expect(re).toBeCloseTo(1.030818278, 9)
    expect(im).toBeCloseTo(0.010626993, 9)
  })
})

describe('levelling of two chambers', () => {
  it('of golden case A is stable up to κ = 8.350028 1/s and then hunts at 1.854883 Hz', () => {
    // Computed from the Routh condition k₀t_a(1 + κt_a) − k₀t_b(1 + κt_a)² − mκ > 0, seven digits: 1e-6 on either side is
    // the printed precision, so both sides are taken three times as far.
    const at = (rate: number) => pneumaticIsolation({ ...golden, levelling: { flowGain: rate * 0.01 } })
    const limit = 8.350028
    const printed = 3e-7
    expect(stability(at(limit * (1 - printed)).closed).verdict).toBe('stable')
    expect(stability(at(limit * (1 + printed)).closed)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
    const pair = poles(at(limit).closed).find(({ im, dampingRatio }) => im > 0 && Math.abs(dampingRatio ?? 1) < 1e-6)
    expect(pair?.naturalFrequency).toBeCloseTo(1.854883, 6)
  })
})
