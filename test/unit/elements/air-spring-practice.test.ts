import { describe, expect, it } from 'vitest'
import { airSpring, airSpringAtLoad, springMount, standardGravity } from '../../../src/elements/index.js'
import { transmissibilityOf } from './transmissibility-of.js'

/** Largest |T| between 0.5 and 4 Hz. */
function peakOf(mount: Parameters<typeof transmissibilityOf>[0], mass: number): number {
  const grid = Array.from({ length: 35001 }, (_, k) => 0.5 + 1e-4 * k)
  return Math.max(...grid.map((frequency) => transmissibilityOf(mount, mass, frequency).modulus))
}

describe('a granite table of 1800 kg on four legs whose regulator shows 353 kPa', () => {
  // Computed from the closed forms p_gauge = m·g/(4A), k = 4·n·p_abs·A²/V. The question: "Modeling and sensitivity analysis of
  // a pneumatic vibration isolation system with two air chambers", Mech. Mach. Theory 2010, abstract.
  const leg = { area: 0.0125, volume: 0.0065, load: (1800 * standardGravity) / 4 }
  const spring = airSpring(leg)

  it('carries by gauge pressure and vibrates on absolute pressure, at 0.9278 Hz', () => {
    expect(spring.gaugePressure / 1e3).toBeCloseTo(353.04, 2)
    expect(spring.absolutePressure / 1e3).toBeCloseTo(454.36, 1)
    expect(4 * spring.stiffness).toBeCloseTo(61164, 0)
    expect(spring.naturalFrequency).toBeCloseTo(0.9278, 4)
  })

  it('would seem 12 % softer by gauge pressure, and is slower still where heat is exchanged', () => {
    // With no ambient pressure the absolute pressure is the gauge pressure: 0.8178 Hz, from the same closed form.
    expect(airSpring({ ...leg, ambientPressure: 0 }).naturalFrequency).toBeCloseTo(0.8178, 4)
    expect(airSpring({ ...leg, heatExchange: { time: 1 } }).naturalFrequency).toBeCloseTo(0.7841, 4)
    expect(Math.sqrt(spring.staticStiffness / spring.stiffness)).toBeCloseTo(0.845154, 6)
  })
})

describe('an optical table whose mass is doubled and which is levelled again', () => {
  // Computed from the closed form f = √(n·p_abs·A²/(V·m))/2π; that the frequency is nearly constant over the load:
  // diracdelta.co.uk, "Air Spring".
  const light = airSpring({ area: 0.0125, volume: 0.0065, load: (700 * standardGravity) / 4 })
  const heavy = airSpringAtLoad(light, { load: (1400 * standardGravity) / 4 })

  it('falls from 1.078 to 0.9569 Hz, where a metal spring would fall to 0.707 of its frequency', () => {
    expect(light.naturalFrequency).toBeCloseTo(1.078, 3)
    expect(heavy.naturalFrequency).toBeCloseTo(0.9569, 4)
    expect(heavy.naturalFrequency / light.naturalFrequency).toBeCloseTo(0.888, 3)
  })

  it('never falls below √(n·g·A/V)/2π = 0.8178 Hz', () => {
    const extreme = airSpringAtLoad(light, { load: 1e9 }).naturalFrequency
    // Computed from the closed form √(n·g·A/V)/2π.
    expect(extreme).toBeGreaterThan(0.8177919)
    expect(extreme).toBeCloseTo(0.8178, 4)
  })
})

describe('a leg of two chambers in the ratio 4, soft frequency 1.3 Hz', () => {
  // Computed from the closed forms 1 + 2/N and N/(4(N + 1))·√(2(N + 2)); the second confirmed by a search for the lowest peak.
  // The question: H. Pu, X. Luo, X. Chen, Modeling and analysis of dual-chamber pneumatic spring with adjustable damping for
  // precision vibration isolation, J. Sound Vib. 330, 2011.
  const mass = 300
  const load = mass * standardGravity
  const soft = mass * (2 * Math.PI * 1.3) ** 2
  const whole = (1.4 * (load / 0.01 + 101325) * 0.01 ** 2) / soft
  const leg = (flowResistance: number | 'optimal') =>
    airSpring({ area: 0.01, volume: whole / 5, load, dampingChamber: { volume: 0.8 * whole, flowResistance } })
  const best = leg('optimal')

  it('rings at 1.3 Hz with the restriction open and at 2.907 Hz with it shut', () => {
    expect(best.naturalFrequency).toBeCloseTo(1.3, 9)
    const shut = best.stiffness + best.relaxations.reduce((sum, { stiffness }) => sum + stiffness, 0)
    expect(Math.sqrt(shut / mass) / (2 * Math.PI)).toBeCloseTo(2.907, 3)
  })

  it('has a lowest peak of 1.5 at 1.291 times that, with a damping ratio of 0.6928', () => {
    const [branch] = best.relaxations
    const dashpot = (branch?.stiffness ?? 0) * (branch?.time ?? 0)
    expect(dashpot / (2 * Math.sqrt(soft * mass))).toBeCloseTo(0.6928, 4)
    expect(peakOf(best, mass)).toBeCloseTo(1.5, 6)
    expect(transmissibilityOf(best, mass, 1.3 * Math.sqrt(5 / 3)).modulus).toBeCloseTo(1.5, 9)
  })

  it('passes 0.0505 at ten times the soft frequency, a dashpot with the same peak 0.0968', () => {
    expect(transmissibilityOf(best, mass, 13).modulus).toBeCloseTo(0.0505, 4)
    const viscous = springMount({ mass, naturalFrequency: 1.3, dampingRatio: 0.479 })
    expect(peakOf(viscous, mass)).toBeCloseTo(1.5, 2)
    expect(transmissibilityOf(viscous, mass, 13).modulus).toBeCloseTo(0.0968, 4)
  })

  it('is damped less by a restriction too open and by one too tight', () => {
    const resistance = best.dampingChamber?.flowResistance ?? 0
    for (const factor of [0.3, 3]) expect(peakOf(leg(factor * resistance), mass)).toBeGreaterThan(1.7)
  })
})
