import { describe, expect, it } from 'vitest'
import {
  airSpring,
  dynamicStiffness,
  levellingValve,
  mountsInParallel,
  relaxationMount,
  standardGravity,
} from '../../../src/elements/index.js'
import { transmissibilityOf } from './transmissibility-of.js'

// 300 kg on one spring of 100 cm² with chambers of 1 and 3 litres.
const goldenMass = 300
const golden = airSpring({
  area: 0.01,
  volume: 1e-3,
  load: goldenMass * standardGravity,
  dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
})

describe('airSpring with a damping chamber', () => {
  it('has the stiffness of both chambers at rest and of one at high frequency', () => {
    // Computed from the closed form n·p·A²/V, as many digits as are listed.
    expect(golden.gaugePressure).toBeCloseTo(294199.5, 6)
    expect(golden.absolutePressure).toBeCloseTo(395524.5, 6)
    expect(golden.stiffness).toBeCloseTo(13843.3575, 6)
    expect(golden.naturalFrequency).toBeCloseTo(1.0811357, 7)
    const high = dynamicStiffness(golden, [1e9]).re[0] as number
    expect(high).toBeCloseTo(55373.43, 4)
    expect(Math.sqrt(high / goldenMass) / (2 * Math.PI)).toBeCloseTo(2.1622715, 7)
  })

  it('takes the flow resistance of the optimal elastically supported damper', () => {
    // Derived and confirmed by a direct solution of the chamber equations to 1e-12; eight digits.
    const branch = golden.relaxations[0] as { stiffness: number; time: number }
    expect(branch.stiffness * branch.time).toBeCloseTo(2416.64363, 5)
    expect(branch.time).toBeCloseTo(0.05819021, 8)
    expect((golden.dampingChamber?.flowResistance ?? 0) / 1e7).toBeCloseTo(4.2962553, 7)
  })

  it('stiffens between corners at 0.683770 and 2.735081 Hz', () => {
    // Computed from the closed forms ta = R·V₂/(n·p) = 0.23276084 s and tb = ta/4 of K = k₀(1 + s·ta)/(1 + s·tb).
    const branch = golden.relaxations[0] as { stiffness: number; time: number }
    const ta = branch.time * (1 + branch.stiffness / golden.stiffness)
    expect(ta).toBeCloseTo(0.23276084, 8)
    expect(1 / (2 * Math.PI * ta)).toBeCloseTo(0.68377, 6)
    expect(1 / (2 * Math.PI * branch.time)).toBeCloseTo(2.735081, 6)
    // Between them, at the geometric mean, the loss factor is largest: N/(2√(1 + N)) = 0.75.
    const K = dynamicStiffness(golden, [Math.sqrt(0.68377 * 2.735081)])
    expect((K.im[0] as number) / (K.re[0] as number)).toBeCloseTo(0.75, 9)
  })

  it('has the tabulated stiffness and transmissibility', () => {
    // Computed from the closed form K = k₀(1 + s·ta)/(1 + s·tb) and T = K/(K − mω²), digits as listed.
    const K = dynamicStiffness(golden, [2])
    expect(K.re[0]).toBeCloseTo(28312.92329, 4)
    expect(K.im[0]).toBeCloseTo(19787.71796, 4)
    const table = [
      [0.5, 1.18277801, -5.1867],
      [1, 1.52899905, -27.2013],
      [1.3675, 1.66666666, -53.1269],
      [2, 1.25722362, -98.9791],
      [5, 0.19543385, -155.1113],
      [10, 0.04729702, -168.0799],
      [20, 0.01172265, -174.1028],
    ] as const
    for (const [frequency, modulus, degrees] of table) {
      const found = transmissibilityOf(golden, goldenMass, frequency)
      expect(found.modulus).toBeCloseTo(modulus, 7)
      expect(found.degrees).toBeCloseTo(degrees, 4)
    }
  })

  it('keeps the isothermal stiffness apart from that of vibration', () => {
    // Computed from the closed form p·A²/V, n = 1.
    expect(golden.staticStiffness).toBeCloseTo(9888.1125, 6)
    expect(Math.sqrt(golden.staticStiffness / goldenMass) / (2 * Math.PI)).toBeCloseTo(0.913726, 6)
  })

  it('is the same mount as an elastically supported damper of ratio V₂/V₁', () => {
    const twin = relaxationMount({
      stiffness: golden.stiffness,
      stiffnessRatio: 3,
      damping: 'optimal',
      mass: goldenMass,
    })
    const grid = Array.from({ length: 60 }, (_, k) => 10 ** (-2 + k / 12))
    const a = dynamicStiffness(golden, grid)
    const b = dynamicStiffness(twin, grid)
    grid.forEach((_, k) => {
      // A few roundings in each of two short formulas.
      const within = 8 * Number.EPSILON * Math.hypot(b.re[k] as number, b.im[k] as number)
      expect(Math.abs((a.re[k] as number) - (b.re[k] as number))).toBeLessThanOrEqual(within)
      expect(Math.abs((a.im[k] as number) - (b.im[k] as number))).toBeLessThanOrEqual(within)
    })
  })

  it('counts every spring beside the gas in the optimum', () => {
    const spring = airSpring({
      area: 0.01,
      volume: 1e-3,
      load: goldenMass * standardGravity,
      areaGradient: -0.005,
      diaphragmStiffness: 4000,
      dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
    })
    // From memory of J. E. Ruzicka, R. D. Cavanaugh, 1958: the least peak is 1 + 2/N for N = (K(∞) − K(0))/K(0), here
    // N = 41530.0725/(13843.3575 + 4000 − 1470.9975), computed by hand.
    const peak = 1 + 2 / 2.5365965872
    const moduli = Array.from({ length: 20000 }, (_, k) => 0.8 + 1.2e-4 * k).map(
      (frequency) => transmissibilityOf(spring, goldenMass, frequency).modulus,
    )
    expect(Math.max(...moduli)).toBeCloseTo(peak, 6)
  })

  it('takes a number and gives it back', () => {
    const spring = airSpring({
      area: 0.01,
      volume: 1e-3,
      load: 3e3,
      dampingChamber: { volume: 3e-3, flowResistance: 2e7 },
    })
    expect(spring.dampingChamber).toEqual({ volume: 3e-3, flowResistance: 2e7 })
  })

  it('separates the gas, which levelling acts on, from the rest', () => {
    const options = { area: 0.006, volume: 5e-4, gaugePressure: 261510.67 }
    const dampingChamber = { volume: 1.5e-3, flowResistance: 3e7 }
    const whole = airSpring({
      ...options,
      dampingChamber,
      areaGradient: -0.004,
      diaphragmStiffness: 500,
      diaphragmDamping: 20,
    })
    const gas = airSpring({ ...options, dampingChamber })
    expect(whole.gas).toEqual({ stiffness: gas.stiffness, relaxations: gas.relaxations })
    expect(whole.damping).toBe(20)
    // 261510.67 Pa × −0.004 m²/m + 500 N/m
    expect(whole.stiffness - whole.gas.stiffness).toBeCloseTo(-546.04268, 8)
  })
})

describe('airSpring with one chamber', () => {
  // Computed from the closed form f₀ = √(n(g/h)(1 + p_atm/p_gauge))/2π, h = V/A, n = 1.4; digits as listed.
  it.each([
    [0.05, 1e5, 3.742, 3],
    [0.05, 2e5, 3.2371, 4],
    [0.05, 3e5, 3.0503, 4],
    [0.05, 5e5, 2.8922, 4],
    [0.1, 1e5, 2.646, 3],
    [0.1, 2e5, 2.289, 4],
    [0.1, 3e5, 2.1569, 4],
    [0.1, 5e5, 2.0451, 4],
    [0.2, 1e5, 1.871, 3],
    [0.2, 2e5, 1.6186, 4],
    [0.2, 3e5, 1.5252, 4],
    [0.2, 5e5, 1.4461, 4],
    [0.4, 1e5, 1.323, 3],
    [0.4, 2e5, 1.1445, 4],
    [0.4, 3e5, 1.0785, 4],
    [0.4, 5e5, 1.0225, 4],
  ])('of height %d m at %d Pa has %d Hz', (height, gaugePressure, frequency, digits) => {
    const spring = airSpring({ area: 0.02, volume: 0.02 * height, gaugePressure })
    expect(spring.naturalFrequency).toBeCloseTo(frequency, digits)
  })

  it.each([
    [0.05, 2.6373],
    [0.1, 1.8649],
    [0.2, 1.31865],
    [0.4, 0.9324],
  ])('of height %d m tends to %d Hz, which no longer depends on the load', (height, frequency) => {
    // Computed from the closed form √(n·g/h)/2π; four digits as listed.
    const spring = airSpring({ area: 0.02, volume: 0.02 * height, gaugePressure: 1e13 })
    expect(spring.naturalFrequency).toBeCloseTo(frequency, 4)
  })

  it.each([
    [1e5, -29.52],
    [2e5, -18.53],
    [3e5, -13.54],
    [5e5, -8.81],
  ])('at %d Pa would seem to have a frequency %d % off by gauge pressure', (gaugePressure, percent) => {
    // Computed from the closed form √(p_gauge/p_abs) − 1. Without ambient pressure the two pressures are the same.
    const leg = { area: 0.02, volume: 0.004, gaugePressure }
    const [right, wrong] = [airSpring(leg), airSpring({ ...leg, ambientPressure: 0 })]
    expect(100 * (wrong.naturalFrequency / right.naturalFrequency - 1)).toBeCloseTo(percent, 2)
  })

  it('gains and loses stiffness by its area gradient', () => {
    // Computed from the closed form n·p_abs·A²/V + p_gauge·dA/dz; digits as listed.
    const options = { area: 0.02, volume: 4e-3, gaugePressure: 2.5e5 }
    const plain = airSpring(options)
    expect(plain.stiffness).toBeCloseTo(49185.5, 6)
    expect(plain.load / standardGravity).toBeCloseTo(509.858106, 6)
    expect(plain.naturalFrequency).toBeCloseTo(1.563198, 6)
    const grows = airSpring({ ...options, areaGradient: 0.05 })
    expect(grows.stiffness).toBeCloseTo(61685.5, 6)
    expect(grows.naturalFrequency).toBeCloseTo(1.7506, 6)
    expect(airSpring({ ...options, areaGradient: -0.02 }).stiffness).toBeCloseTo(44185.5, 6)
  })

  it('uses absolute pressure for the gas: a granite table of 1800 kg on four legs', () => {
    // Computed from the closed form; the number is what a ring test of such a table shows, not 0.8178 Hz from gauge pressure.
    const spring = airSpring({ area: 0.0125, volume: 0.0065, load: (1800 * standardGravity) / 4 })
    expect(spring.naturalFrequency).toBeCloseTo(0.9278, 4)
    expect(
      airSpring({ area: 0.0125, volume: 0.0065, load: (1800 * standardGravity) / 4, polytropicExponent: 1 })
        .naturalFrequency,
    ).toBeCloseTo(0.7841, 4)
    expect(spring.dampingChamber).toBeNull()
    expect(spring.relaxations).toEqual([])
  })

  it('carries its lateral mount', () => {
    const spring = airSpring({ area: 0.01, volume: 1e-3, load: 1e3, lateral: { stiffness: 5e3 } })
    expect(spring.lateral).toEqual({ stiffness: 5e3, damping: 0, relaxations: [] })
  })
})

describe('airSpring refuses', () => {
  const good = { area: 0.01, volume: 1e-3, load: 3e3 }
  it.each([
    [{ area: 0.01, volume: 1e-3 }, 'invalid-option', ''],
    [{ ...good, gaugePressure: 3e5 }, 'invalid-option', ''],
    [{ ...good, area: 0 }, 'out-of-range', 'area'],
    [{ ...good, load: -3e3 }, 'out-of-range', 'load'],
    [{ ...good, volume: Number.NaN }, 'not-finite', 'volume'],
    [{ ...good, pressure: 3e5 }, 'invalid-option', 'pressure'],
    [{ ...good, polytropicExponent: 0.9 }, 'out-of-range', 'polytropicExponent'],
    [{ ...good, ambientPressure: -1 }, 'out-of-range', 'ambientPressure'],
    [{ ...good, diaphragmStiffness: -1 }, 'out-of-range', 'diaphragmStiffness'],
    [{ ...good, areaGradient: -1 }, 'out-of-range', 'areaGradient'],
    [{ ...good, dampingChamber: { volume: 0, flowResistance: 1 } }, 'out-of-range', 'dampingChamber.volume'],
    [
      { ...good, dampingChamber: { volume: 1, flowResistance: 'best' } },
      'invalid-option',
      'dampingChamber.flowResistance',
    ],
    [{ ...good, dampingChamber: { volume: 1 } }, 'invalid-option', 'dampingChamber.flowResistance'],
    [{ ...good, dampingChamber: { volume: 1, flowResistance: 1, area: 1 } }, 'invalid-option', 'dampingChamber.area'],
    [{ ...good, dampingChamber: { volume: 1, flowResistance: 0 } }, 'out-of-range', 'dampingChamber.flowResistance'],
    [{ ...good, stroke: 0.1 }, 'out-of-range', 'volume'],
    [{ ...good, stroke: 0 }, 'out-of-range', 'stroke'],
    [{ ...good, ratedGaugePressure: 0 }, 'out-of-range', 'ratedGaugePressure'],
    [{ ...good, heatExchange: { time: 0 } }, 'out-of-range', 'heatExchange.time'],
    [{ ...good, heatExchange: 2 }, 'invalid-option', 'heatExchange'],
    [{ ...good, lateral: { stiffness: 'soft' } }, 'invalid-option', 'lateral.stiffness'],
    [{ ...good, area: 1e200, volume: 1e-200 }, 'out-of-range', ''],
  ])('%o as %s at "%s"', (options, code, path) => {
    expect(() => airSpring(options as never)).toThrow(
      expect.objectContaining({ code, details: expect.objectContaining({ function: 'airSpring', path }) }),
    )
  })
})

describe('levellingValve', () => {
  it('has neither dead band nor delay unless told', () => {
    expect(levellingValve({ flowGain: 0.006 })).toEqual({
      kind: 'LevellingValve',
      flowGain: 0.006,
      deadBand: 0,
      delay: 0,
    })
    expect(levellingValve({ flowGain: 0.006, deadBand: 1e-4, delay: 0.02 })).toMatchObject({
      deadBand: 1e-4,
      delay: 0.02,
    })
  })

  it('refuses a gain that does not feed', () => {
    expect(() => levellingValve({ flowGain: 0 })).toThrow('levellingValve: flowGain must be a finite number above 0')
  })
})

describe('mountsInParallel', () => {
  it('adds an air spring and a diaphragm to what airSpring makes of both', () => {
    const options = { area: 0.01, volume: 1e-3, load: 3e3, dampingChamber: { volume: 2e-3, flowResistance: 3e7 } }
    const sum = mountsInParallel(airSpring(options), { stiffness: 900, damping: 12 })
    const whole = airSpring({ ...options, diaphragmStiffness: 900, diaphragmDamping: 12 })
    expect(sum.kind).toBe('Mount')
    expect(sum.stiffness).toBe(whole.stiffness)
    expect(sum.damping).toBe(whole.damping)
    expect(sum.relaxations).toEqual(whole.relaxations)
  })

  it('merges branches of the same time and sums lateral mounts', () => {
    const one = { stiffness: 1, relaxations: [{ stiffness: 2, time: 0.1 }], lateral: { stiffness: 4 } }
    const two = {
      stiffness: 5,
      relaxations: [
        { stiffness: 3, time: 0.1 },
        { stiffness: 1, time: 0.2 },
      ],
      lateral: { stiffness: 6 },
    }
    const sum = mountsInParallel(one, two)
    expect(sum.relaxations).toEqual([
      { stiffness: 5, time: 0.1 },
      { stiffness: 1, time: 0.2 },
    ])
    expect(sum.lateral?.stiffness).toBe(10)
  })

  it('refuses nothing at all and a lateral mount in some only', () => {
    expect(() => mountsInParallel()).toThrow('needs at least one mount')
    expect(() => mountsInParallel({ stiffness: 1 }, { stiffness: 1, lateral: { stiffness: 1 } })).toThrow(
      'lateral in every',
    )
    expect(() => mountsInParallel({ stiffness: 1 }, { stiffness: Number.NaN })).toThrow('mounts[1].stiffness')
  })
})
