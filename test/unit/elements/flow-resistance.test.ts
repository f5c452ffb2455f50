import { describe, expect, it } from 'vitest'
import {
  airSpring,
  gasMass,
  laminarFlowResistance,
  levellingConsumption,
  orificeFlow,
  orificeFlowResistance,
  restrictionFlow,
} from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

// 300 kg on one spring of 100 cm² with chambers of 1 and 3 litres: 395 524.5 Pa absolute, optimal resistance 4.2962553e7.
const golden = airSpring({
  area: 0.01,
  volume: 1e-3,
  load: 2941.995,
  dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
})
const optimum = golden.dampingChamber?.flowResistance ?? 0
const { absolutePressure } = golden

describe('laminarFlowResistance', () => {
  // Computed from the closed forms 128·μ·L/(π·d⁴) and 12·μ·L/(w·h³), viscosity of air 1.81e-5 Pa·s from memory; digits as
  // listed.
  it('of one tube of 1 mm and 58.257 mm is the optimum of the leg', () => {
    expect(laminarFlowResistance({ diameter: 1e-3, length: 58.257e-3 }).flowResistance / optimum).toBeCloseTo(1, 4)
  })

  it('of a tube of 0.5 mm and 20 mm is 2.35987e8, so that 5.4929 of them make the optimum', () => {
    const one = laminarFlowResistance({ diameter: 5e-4, length: 0.02 })
    expect(one.flowResistance / 1e8).toBeCloseTo(2.35987, 5)
    expect(one.flowResistance / optimum).toBeCloseTo(5.4929, 4)
    const many = laminarFlowResistance({ diameter: 5e-4, length: 0.02, count: 5.4929 })
    expect(many.flowResistance / optimum).toBeCloseTo(1, 4)
  })

  it('of a slot of 50 mm by 20 mm, 0.126457 mm high, is the optimum', () => {
    const slot = laminarFlowResistance({ width: 0.05, height: 0.126457e-3, length: 0.02 })
    expect(slot.flowResistance / optimum).toBeCloseTo(1, 4)
    expect(slot).toMatchObject({ restriction: 'slot', reynoldsNumber: null, entranceLength: null, cautions: [] })
  })

  const flow = restrictionFlow(golden, { frequency: 2, stretch: 1e-4 })

  it('meets the flow of 0.1 mm at 2 Hz', () => {
    // Computed by a direct solution of the chamber equations, digits as listed.
    expect(flow * 1e6).toBeCloseTo(7.60778, 5)
    expect(flow * optimum).toBeCloseTo(326.85, 2)
  })

  it('is not laminar there in one tube of 1 mm: Reynolds number 2515', () => {
    // Computed from Re = 4q/(π·d·ν), ν = 3.8508e-6 m²/s.
    const tube = laminarFlowResistance({ diameter: 1e-3, length: 58.257e-3, flow, absolutePressure })
    expect(tube.reynoldsNumber).toBeCloseTo(2515.4, 1)
    expect(tube.pressureDrop).toBeCloseTo(326.85, 1)
    expect(tube.cautions).toEqual([
      expect.stringMatching(/^Not laminar: .* 2515 is above 2000/),
      expect.stringContaining('0.151 m'),
    ])
  })

  it('is laminar in 5.4929 tubes of 0.5 mm, but not developed within 20 mm', () => {
    // Same source; entrance length 0.06·Re·d = 27 mm.
    const tubes = laminarFlowResistance({ diameter: 5e-4, length: 0.02, count: 5.4929, flow, absolutePressure })
    expect(tubes.reynoldsNumber).toBeCloseTo(916, 0)
    expect(tubes.entranceLength).toBeCloseTo(0.0275, 4)
    expect(tubes.cautions).toEqual([expect.stringMatching(/^Not developed: /)])
  })

  it('is both in a slot', () => {
    // Computed by hand: Re = 2q/((w + h)·ν) = 2 × 7.60778e-6/(0.050126457 × 3.850815e-6) = 78.825, entrance length
    // 0.06 × 78.825 × 2wh/(w + h) = 0.06 × 78.825 × 2.522760e-4 m = 1.1931 mm.
    const slot = laminarFlowResistance({ width: 0.05, height: 0.126457e-3, length: 0.02, flow, absolutePressure })
    expect(slot.reynoldsNumber).toBeCloseTo(78.825, 2)
    expect(slot.entranceLength).toBeCloseTo(1.1931e-3, 6)
    expect(slot.cautions).toEqual([])
    expect(laminarFlowResistance({ width: 1e-3, height: 5e-4, length: 0.02 }).cautions).toHaveLength(1)
  })

  it.each([
    [{ length: 0.02 }, 'invalid-option', ''],
    [{ diameter: 1e-3, width: 1, height: 1, length: 0.02 }, 'invalid-option', ''],
    [{ diameter: 0, length: 0.02 }, 'out-of-range', 'diameter'],
    [{ diameter: 1e-3, length: 0 }, 'out-of-range', 'length'],
    [{ diameter: 1e-3, length: 0.02, viscosity: 0 }, 'out-of-range', 'viscosity'],
    [{ width: 1e-3, height: 2e-3, length: 0.02 }, 'out-of-range', 'width'],
    [{ width: 1e-3, length: 0.02 }, 'invalid-option', 'height'],
    [{ diameter: 1e-3, length: 0.02, flow: 1e-6 }, 'invalid-option', 'absolutePressure'],
    [{ diameter: 1e-3, length: 0.02, count: 0 }, 'out-of-range', 'count'],
    [{ diameter: 1e-100, length: 0.02 }, 'out-of-range', ''],
    [{ diameter: 1e90, length: 0.02 }, 'out-of-range', ''],
    [
      { diameter: 1e-3, length: 0.02, flow: 1e-6, absolutePressure: 1e5, temperature: -3 },
      'out-of-range',
      'temperature',
    ],
  ])('refuses %o as %s at "%s"', (options, code, path) => {
    const error = refusal(() => laminarFlowResistance(options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('orificeFlowResistance', () => {
  // Computed from the closed form 8/(3π)·Kq·q, Kq = ρ/(2·(Cd·A)²) = 9.91135e12 for 1 mm, Cd = 0.62; digits as listed. The
  // factor 8/(3π) was confirmed by integrating the dissipation over one period.
  it.each([
    [1e-6, 8.413e6, 3],
    [1e-5, 8.413e7, 3],
    [5.1067e-6, 4.29626e7, 4],
  ])('at %d m³/s is %d', (flow, resistance, digits) => {
    const orifice = orificeFlowResistance({ diameter: 1e-3, flow, absolutePressure })
    expect(orifice.flowResistance / resistance).toBeCloseTo(1, digits)
    expect((orifice.pressureDrop ?? 0) / flow ** 2 / 9.91135e12).toBeCloseTo(1, 5)
    expect(orifice.cautions).toEqual([expect.stringContaining('at this amplitude only')])
  })

  it('is cautioned where the gas is compressed and refused beyond the choked flow', () => {
    // Computed from the closed form: 1 mm passes 9.6722e-5 m³/s at most, whatever the pressure behind it.
    const fast = orificeFlowResistance({ diameter: 1e-3, flow: 9.6e-5, absolutePressure })
    expect(fast.cautions).toHaveLength(2)
    const error = refusal(() => orificeFlowResistance({ diameter: 1e-3, flow: 9.68e-5, absolutePressure }))
    expect([error.code, error.details.path]).toEqual(['out-of-range', 'flow'])
  })

  it('needs a flow', () => {
    expect(refusal(() => orificeFlowResistance({ diameter: 1e-3, absolutePressure } as never)).details.path).toBe(
      'flow',
    )
  })

  it('refuses an opening so wide that no resistance is left', () => {
    const error = refusal(() => orificeFlowResistance({ diameter: 1, flow: 1e-200, absolutePressure }))
    expect([error.code, error.details.path]).toEqual(['out-of-range', ''])
  })
})

describe('orificeFlow', () => {
  // Computed from the isentropic formula at 1 mm, Cd = 0.62, 4 bar absolute, 293.15 K; digits as listed.
  const through = (ratio: number) =>
    orificeFlow({ diameter: 1e-3, upstreamAbsolutePressure: 4e5, downstreamAbsolutePressure: 4e5 * ratio })

  it('is choked below a pressure ratio of 0.52828179', () => {
    for (const ratio of [0, 0.25, 0.528281]) {
      const flow = through(ratio)
      expect(flow.choked).toBe(true)
      expect(flow.massFlow / 1e-4).toBeCloseTo(4.5976734, 7)
    }
    expect(through(0.528283).choked).toBe(false)
    expect(through(0.5).criticalPressureRatio).toBeCloseTo(0.52828179, 8)
    expect(through(0).volumeFlow).toBeNull()
    // 0.04041490·Cd·A·p₁/√T₁
    expect((4.5976734e-4 * Math.sqrt(293.15)) / (0.62 * 7.853981634e-7 * 4e5)).toBeCloseTo(0.0404149, 7)
  })

  it('at 0.9 passes less than the incompressible formula', () => {
    const flow = through(0.9)
    expect(flow.massFlow / 1e-4).toBeCloseTo(2.8374464, 7)
    // Computed from ṁ = Cd·A·√(2·ρ·Δp) = 3.0028444e-4 kg/s, 5.8 % more.
    expect(3.0028444e-4 / flow.massFlow).toBeCloseTo(1.058, 3)
    // ṁ·R·T/p₂ by hand: 2.8374464e-4 × 287.05 × 293.15/3.6e5.
    expect(flow.volumeFlow).toBeCloseTo(6.6324e-5, 8)
  })

  it('is none without a pressure difference and refuses the wrong direction', () => {
    expect(through(1).massFlow).toBe(0)
    expect(refusal(() => through(1.01)).details.path).toBe('downstreamAbsolutePressure')
  })
})

describe('restrictionFlow', () => {
  it('refuses a spring without damping chamber', () => {
    const single = airSpring({ area: 0.01, volume: 1e-3, load: 3e3 })
    const error = refusal(() => restrictionFlow(single, { frequency: 1, stretch: 1e-4 }))
    expect([error.code, error.details.path]).toEqual(['invalid-option', 'spring.dampingChamber'])
  })
})

describe('gas of a spring', () => {
  it('weighs p·V/(R·T)', () => {
    // By hand: density 4.7003039 kg/m³ in 4 litres.
    expect(gasMass(golden)).toBeCloseTo(0.0188012157, 9)
    expect(gasMass(golden, { temperature: 586.3 })).toBeCloseTo(0.0094006078, 9)
  })

  it('is used up by a load that comes and goes', () => {
    // By hand: 1000 N on 0.01 m² are 1e5 Pa in 4 litres, 400 J: over 287.05 × 293.15 that is 4.7534895e-3 kg, over 101 325 Pa
    // 3.947693 litres of free air; as much either way.
    for (const step of [1000, -1000]) {
      const used = levellingConsumption(golden, { load: 2941.995 + step })
      expect(used.gasMass).toBeCloseTo(4.7534895e-3, 8)
      expect(used.freeVolume).toBeCloseTo(3.947693e-3, 9)
    }
    const vacuum = airSpring({ area: 0.01, volume: 1e-3, load: 3e3, ambientPressure: 0 })
    expect(levellingConsumption(vacuum, { load: 3e3 })).toMatchObject({ gasMass: 0, freeVolume: null })
  })

  it('refuses a load below zero', () => {
    expect(refusal(() => levellingConsumption(golden, { load: -1 })).details.path).toBe('load')
    expect(refusal(() => gasMass(golden, { pressure: 1 } as never)).details.path).toBe('pressure')
  })
})
