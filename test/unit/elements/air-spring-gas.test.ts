import { describe, expect, it } from 'vitest'
import { airSpring, airSpringAtLoad, dynamicStiffness, restrictionFlow } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

const lossFactor = (mount: Parameters<typeof dynamicStiffness>[0], frequency: number) => {
  const K = dynamicStiffness(mount, [frequency])
  return (K.im[0] as number) / (K.re[0] as number)
}

describe('heat exchange in one chamber', () => {
  const time = 0.2
  const options = { area: 0.0125, volume: 0.0065, load: 4412.9925 }
  const spring = airSpring({ ...options, heatExchange: { time } })

  it('leads from the isothermal stiffness to that of the exponent', () => {
    // Computed from the closed forms p·A²/V and 1.4·p·A²/V: p = 454364.4 Pa.
    expect(spring.stiffness).toBeCloseTo(10922.221154, 6)
    expect(spring.staticStiffness).toBe(spring.stiffness)
    expect(dynamicStiffness(spring, [1e6]).re[0]).toBeCloseTo(15291.109615, 4)
  })

  it('loses most, 0.16903085, at the geometric mean of its two corners', () => {
    // Computed from the closed form (γ − 1)/(2√γ) of an elastically supported damper with N = γ − 1 = 0.4, γ = 1.4; corners
    // 1/τ and 1/(γτ) for K = k(1 + γ·s·τ)/(1 + s·τ).
    const top = 1 / (2 * Math.PI * time * Math.sqrt(1.4))
    expect(lossFactor(spring, top)).toBeCloseTo(0.16903085, 8)
    for (const beside of [0.98, 1.02]) expect(lossFactor(spring, beside * top)).toBeLessThan(0.16903085)
  })

  it('with a very long time is the spring without', () => {
    const slow = airSpring({ ...options, heatExchange: { time: 1e9 } })
    const without = airSpring(options)
    // The rest is 0.4/(1 + (ωτ)²) of the stiffness, 1e-20, and roundings.
    expect(dynamicStiffness(slow, [1]).re[0]).toBeCloseTo(without.stiffness, 8)
  })
})

describe('heat exchange in two chambers', () => {
  const options = { area: 0.01, volume: 1e-3, load: 2941.995 }
  const chamber = { volume: 3e-3, flowResistance: 4.2962553e7 }

  // Computed by a direct solution of the chamber equations, s·V₁·p₁ = n(s)·p·(A·s·z − q), s·V₂·p₂ = n(s)·p·q,
  // q = (p₁ − p₂)/R, n(s) = 1 + 0.4·s·τ/(1 + s·τ), in double precision: K [N/m], and |q| [m³/s] at 0.1 mm.
  it.each([
    [0.05, 0.05, 9908.497326874209, 820.7058911290371, 2.3550451234292398e-7],
    [0.05, 0.3, 10595.639097412195, 4796.770116588967, 1.389766698822e-6],
    [0.05, 2, 23879.711844637437, 18229.224942448614, 6.481814808736746e-6],
    [0.05, 10, 49694.906585397606, 13928.741379914118, 1.1919247403813025e-5],
    [0.5, 0.05, 10002.458109550258, 1363.8943520397556, 2.35183819300552e-7],
    [0.5, 1, 18184.18987527148, 14161.816922698024, 4.2960428551658145e-6],
    [0.5, 10, 52291.28101325826, 10989.963581219701, 1.240064232622992e-5],
  ])('of %d s at %d Hz gives %d + %dj N/m', (time, frequency, re, im, flow) => {
    const spring = airSpring({ ...options, heatExchange: { time }, dampingChamber: chamber })
    const K = dynamicStiffness(spring, [frequency])
    // Some tens of roundings in either way of computing.
    const machinePrecision = 1e-12
    expect(Math.abs((K.re[0] as number) / re - 1)).toBeLessThan(machinePrecision)
    expect(Math.abs((K.im[0] as number) / im - 1)).toBeLessThan(machinePrecision)
    expect(Math.abs(restrictionFlow(spring, { frequency, stretch: 1e-4 }) / flow - 1)).toBeLessThan(machinePrecision)
  })

  it('leaves the optimal resistance to the exponent', () => {
    const heated = airSpring({
      ...options,
      heatExchange: { time: 0.5 },
      dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
    })
    // Computed from the closed form 2·ζ_opt·√(k₀·m)/(A²·(V₂/(V₁ + V₂))²), eight digits.
    expect((heated.dampingChamber?.flowResistance ?? 0) / 1e7).toBeCloseTo(4.2962553, 7)
  })
})

describe('a pressure rating', () => {
  const options = { area: 0.01, volume: 1e-3, load: 3000, ratedGaugePressure: 3.5e5 }

  it('is silent below and a caution above', () => {
    const spring = airSpring(options)
    expect(spring.cautions).toEqual([])
    const [caution] = airSpringAtLoad(spring, { load: 3600 }).cautions
    expect(caution).toMatch(/360000 Pa is above the rated 350000 Pa.*local/)
  })
})

describe('airSpringAtLoad', () => {
  it('is airSpring with the other load, the resistance kept', () => {
    const options = {
      area: 0.01,
      volume: 1e-3,
      ambientPressure: 9e4,
      polytropicExponent: 1.35,
      areaGradient: -0.004,
      diaphragmStiffness: 900,
      diaphragmDamping: 12,
      heatExchange: { time: 2 },
      lateral: { stiffness: 5e3 },
    }
    const first = airSpring({ ...options, load: 3e3, dampingChamber: { volume: 2e-3, flowResistance: 'optimal' } })
    const flowResistance = first.dampingChamber?.flowResistance ?? 0
    expect(airSpringAtLoad(first, { load: 4e3 })).toEqual(
      airSpring({ ...options, load: 4e3, dampingChamber: { volume: 2e-3, flowResistance } }),
    )
  })

  it.each([
    [{ load: 0 }, 'out-of-range', 'load'],
    [{ load: Number.NaN }, 'not-finite', 'load'],
    [{ mass: 3 }, 'invalid-option', 'mass'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    const spring = airSpring({ area: 0.01, volume: 1e-3, load: 3e3 })
    const error = refusal(() => airSpringAtLoad(spring, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'airSpringAtLoad'])
  })

  it('refuses what is no air spring', () => {
    expect(refusal(() => airSpringAtLoad({ stiffness: 1 } as never, { load: 1 })).details.path).toBe('spring')
  })
})
