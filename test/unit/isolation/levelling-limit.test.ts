import { describe, expect, it } from 'vitest'
import { airSpring, displacementSensor, standardGravity } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  levellingLimit,
  loopMargins,
  parallelActiveIsolation,
  passiveIsolation,
  pneumaticIsolation,
  seriesActiveIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { connect, mechanicalSystem, replaceBlock, stability, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { oneChamber } from './one-chamber.js'

/** 1000 kg at 1.4 Hz, damping ratio 0.05, levelled at 0.3 1/s. */
const spring = oneChamber(1.4, 0.05)
const levelled = (levelling: object = {}) =>
  pneumaticIsolation({
    payload: spring.payload,
    mount: spring.mount,
    levelling: { flowGain: spring.flowGain(0.3), ...levelling },
  })

describe('levellingLimit, vertically', () => {
  it('of one chamber is κ = 2ζω₀, hunting at the natural frequency', () => {
    // Computed from Routh's criterion for m·s³ + c·s² + k·s + k·κ: 2ζω₀ = 0.8796459430 1/s, a time constant of 1.137 s.
    const { together, alone, rate, first } = levellingLimit(levelled())
    expect(rate).toBeCloseTo(0.3, 12)
    expect(together.vertical.rate).toBeCloseTo(0.879645943, 9)
    expect(together.vertical.frequency).toBeCloseTo(1.4, 9)
    expect(1 / (together.vertical.rate as number)).toBeCloseTo(1.137, 3)
    expect(alone).toEqual(together)
    expect([first, together.rocking]).toEqual(['vertical', null])
  })

  it('is none for a payload that was put in with a displacement of its own, which no spring holds', () => {
    // The springs know their stretch from velocities; the difference to the displacement of the payload stays for ever.
    const model = levelled()
    const payload = mechanicalSystem({
      mass: [[spring.payload.mass]],
      damping: [[0]],
      stiffness: [[0]],
      inputs: { force: [1] },
      outputs: { velocity: { velocity: [1] }, acceleration: { acceleration: [1] } },
    })
    const diagram = replaceBlock(model.diagram, 'payload', payload)
    const replaced = { ...model, diagram, closed: connect(diagram) }
    expect(stability(replaced.closed).verdict).toBe('marginal')
    expect(levellingLimit(replaced).together.vertical).toEqual({ rate: 0, frequency: null })
  })

  it('does not depend on the flow gain in the model, stable or not', () => {
    for (const rate of [1e-6, 0.8, 0.9, 100]) {
      const { together } = levellingLimit(levelled({ flowGain: spring.flowGain(rate) }))
      expect(together.vertical.rate).toBeCloseTo(0.879645943, 8)
    }
  })

  it('of two chambers is 8.350028 1/s at 1.854883 Hz in golden case A', () => {
    // Computed from Routh's criterion for the quartic, seven digits.
    const dampingChamber = { volume: 3e-3, flowResistance: 'optimal' } as const
    const mount = airSpring({ area: 0.01, volume: 1e-3, load: 300 * standardGravity, dampingChamber })
    const model = pneumaticIsolation({ payload: { mass: 300 }, mount, levelling: { flowGain: 0.01 } })
    const { vertical } = levellingLimit(model).together
    expect(vertical.rate).toBeCloseTo(8.350028, 6)
    expect(vertical.frequency).toBeCloseTo(1.854883, 6)
  })

  it('is 0 without damping', () => {
    // Computed from Routh's criterion: c/m = 0.
    const bare = oneChamber(1.5, 0)
    const model = pneumaticIsolation({ payload: bare.payload, mount: bare.mount, levelling: { flowGain: 0.01 } })
    expect(levellingLimit(model).together.vertical).toEqual({ rate: 0, frequency: null })
  })

  // Computed by root finding on Im L = 0 for L = κ·k·e(s)/(s·(m·s² + c·s + k)) in double precision.
  it.each([
    ['a delay of 50 ms', { delay: 0.05 }, 0.9243223787, 1.3682764236],
    ['a height sensor of 5 Hz', { sensor: { bandwidth: 5 } }, 0.9209453127, 1.3808022255],
    ['the same sensor as a record', { sensor: displacementSensor({ bandwidth: 5 }) }, 0.9209453127, 1.3808022255],
    [
      'a lead controller',
      { controller: transferFunction({ numerator: [0.2, 1], denominator: [0.02, 1] }) },
      0.7636537594,
      1.4900640511,
    ],
  ])('with %s is as worked out', (_, levelling, rate, frequency) => {
    const { vertical } = levellingLimit(levelled(levelling)).together
    expect(vertical.rate).toBeCloseTo(rate, 8)
    expect(vertical.frequency).toBeCloseTo(frequency, 7)
    // The margin of the loop says the same: κ_max over κ.
    expect(loopMargins(levelled(levelling))[0]?.margins.gainMargin).toBeCloseTo(rate / 0.3, 7)
  })
})

describe('levellingLimit together with active loops on the same payload', () => {
  const damped = (damping: object) =>
    activelyDampedIsolation({
      payload: spring.payload,
      mount: spring.mount,
      levelling: { flowGain: spring.flowGain(0.3) },
      damping: damping as never,
    })

  it('of ideal damping is (c + g)/m instead of c/m', () => {
    // Computed from Routh's criterion with c + g for c: 0.8796459430 + 4000/1000.
    const { together, alone } = levellingLimit(damped({ gain: 4000 }))
    expect(together.vertical.rate).toBeCloseTo(4.879645943, 8)
    expect(alone.vertical.rate).toBeCloseTo(0.879645943, 8)
  })

  it('of an inertial sensor loses what the sensor does not see, and the closed model agrees on both sides', () => {
    // The verdict of the closed model on either side of the limit is the second way of telling it.
    const options = { gain: 4000, sensor: { naturalFrequency: 1, dampingRatio: 0.7 }, delay: 2e-3 }
    const limit = levellingLimit(damped(options)).together.vertical.rate as number
    const verdict = (rate: number) =>
      stability(
        activelyDampedIsolation({
          payload: spring.payload,
          mount: spring.mount,
          levelling: { flowGain: spring.flowGain(rate) },
          damping: options,
        }).closed,
      ).verdict
    expect(limit).toBeLessThan(4.879645943)
    expect([verdict(0.9999 * limit), verdict(1.0001 * limit)]).toEqual(['stable', 'unstable'])
  })

  it('is found on every concept with an air spring', () => {
    const { payload, mount, flowGain } = spring
    const levelling = {
      flowGain: flowGain(0.3),
      delay: 0.05,
      controller: transferFunction({ numerator: [1], denominator: [0.1, 1] }),
    }
    const activeStage = {
      mass: 50,
      actuator: { stiffness: 1e9, damping: 1e4, stroke: 2e-5 },
      sensorLocation: 'floor' as const,
      controller: { gain: 0, highPass: 0.1, lowPass: 50 },
    }
    const models = [
      pneumaticIsolation({ payload, mount, levelling }),
      activelyDampedIsolation({ payload, mount, levelling, damping: { gain: 0.1 } }),
      parallelActiveIsolation({ payload, mount, levelling, feedback: { velocityGain: 0.1 } }),
      seriesActiveIsolation({ payload, mount, levelling, activeStage }),
      stackedIsolation({
        lower: { concept: 'passive', payload: { mass: 1e6 }, mount: { stiffness: 1e12, damping: 1e8 } },
        upper: { concept: 'pneumatic', payload, mount, levelling },
      }),
    ]
    const [plain, ...others] = models.map((model) => levellingLimit(model).together.vertical)
    // The stiff stage and lower storey give way by 1e-4 and 1e-7 of the spring, the gains add 1e-4 of its damping.
    for (const { rate, frequency } of others) {
      expect((rate as number) / (plain?.rate as number)).toBeCloseTo(1, 3)
      expect((frequency as number) / (plain?.frequency as number)).toBeCloseTo(1, 3)
    }
    for (const model of models) {
      expect(model.loops.at(-1)?.name).toBe('levelling')
      expect(loopMargins(model).at(-1)?.margins.closedLoop).toBe('stable')
    }
  })
})

describe('levellingLimit in rocking', () => {
  // 900 kg on springs 0.3 m from the axis, vertical frequency 1.6 Hz, damping ratio 0.1, 110 kg·m² about the centre of mass.
  const column = (extra: object = {}) => {
    const { payload, mount, flowGain } = oneChamber(1.6, 0.1, 900, extra)
    return pneumaticIsolation({ payload, mount, levelling: { flowGain: flowGain(0.1) } })
  }

  // Computed from Routh's criterion, κ < (c_θ/I)·(1 − m·g·h/k_θ), and by root finding on the eigenvalues of the cubic.
  it.each([
    [0.3, 191, 0.576879295, 0.857032981],
    [0.75, 616.25, 0.050579503, 0.253771203],
    [-0.2, 146, 1.356011244, 1.313973797],
  ])('with the centre of mass at %d m goes before the vertical', (centreOfMassHeight, inertia, rate, frequency) => {
    const limit = levellingLimit(column(), { rocking: { inertia, springDistance: 0.3, centreOfMassHeight } })
    expect(limit.together.rocking?.rate).toBeCloseTo(rate, 8)
    expect(limit.together.rocking?.frequency).toBeCloseTo(frequency, 8)
    // Same source: c/m = 2.010619298.
    expect(limit.together.vertical.rate).toBeCloseTo(2.010619298, 8)
    expect(limit.first).toBe('rocking')
    expect(limit.cautions).toEqual([])
  })

  it('comes after the vertical on widely spaced springs', () => {
    const rocking = { inertia: 191, springDistance: 0.6, centreOfMassHeight: 0.3 }
    expect(levellingLimit(column(), { rocking }).first).toBe('vertical')
  })

  it('of a tall column is 0 at rest, where the gas is isothermal, though not in vibration', () => {
    // Computed from the closed form: k_θ = 8186 N·m/rad in vibration and 5847 at rest, m·g·h = 6619. Rivin, Vibration isolation
    // of precision equipment, Precision Engineering 1995, on rocking.
    const rocking = { inertia: 616.25, springDistance: 0.3, centreOfMassHeight: 0.75 }
    const limit = levellingLimit(column({ heatExchange: { time: 0.5 } }), { rocking })
    expect(limit.together.rocking).toEqual({ rate: 0, frequency: null })
    expect(limit.first).toBe('rocking')
    expect(limit.cautions).toEqual([expect.stringMatching(/tipping.*local codes/)])
  })

  it('takes motors at the distance of the springs', () => {
    // Computed from Routh's criterion with c + g for c: (b²·(1809.557368 + 2000)/191)·(1 − 2647.7955/8186.244674).
    const { payload, mount, flowGain } = oneChamber(1.6, 0.1, 900)
    const model = activelyDampedIsolation({
      payload,
      mount,
      levelling: { flowGain: flowGain(0.1) },
      damping: { gain: 2000 },
    })
    const limit = levellingLimit(model, { rocking: { inertia: 191, springDistance: 0.3, centreOfMassHeight: 0.3 } })
    expect(limit.together.rocking?.rate).toBeCloseTo(1.214470902, 8)
    expect(limit.alone.rocking?.rate).toBeCloseTo(0.576879295, 8)
  })
})

describe('levellingLimit refuses', () => {
  const rocking = { inertia: 10, springDistance: 0.3, centreOfMassHeight: 0 }

  it('a model without levelling', () => {
    const error = refusal(() => levellingLimit(passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 1 } })))
    expect([error.code, error.details.function]).toEqual(['invalid-option', 'levellingLimit'])
  })

  it.each([
    [{ ...rocking, inertia: 0 }, 'out-of-range', 'rocking.inertia'],
    [{ ...rocking, springDistance: Number.NaN }, 'not-finite', 'rocking.springDistance'],
    [{ ...rocking, mass: 1 }, 'invalid-option', 'rocking.mass'],
    [{ inertia: 10, springDistance: 0.3 }, 'invalid-option', 'rocking.centreOfMassHeight'],
  ])('%o as %s at %s', (given, code, path) => {
    const error = refusal(() => levellingLimit(levelled(), { rocking: given } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('rocking of what is not one rigid body', () => {
    const { payload, mount, flowGain } = spring
    const levelling = { flowGain: flowGain(0.1) }
    const pneumatic = { concept: 'pneumatic' as const, payload, mount, levelling }
    const lower = { concept: 'passive' as const, payload: { mass: 1e3 }, mount: { stiffness: 1e7 } }
    const flexible = { ...payload, appendages: [{ modalMass: 100, naturalFrequency: 30, dampingRatio: 0.01 }] }
    for (const model of [
      stackedIsolation({ lower, upper: pneumatic }),
      pneumaticIsolation({ payload: flexible, mount, levelling }),
      pneumaticIsolation({ payload, mount, levelling, floor: { mass: 1e4, stiffness: 1e8 } }),
    ]) {
      const error = refusal(() => levellingLimit(model, { rocking }))
      expect([error.code, error.details.path]).toEqual(['unsupported', 'rocking'])
    }
  })
})

describe('height sensors', () => {
  it.each([
    [{ bandwidth: 0 }, 'out-of-range', 'levelling.sensor.bandwidth'],
    [{ cutoff: 3 }, 'invalid-option', 'levelling.sensor.cutoff'],
    ['gap', 'invalid-option', 'levelling.sensor'],
    [{ ...displacementSensor(), measures: 'velocity' }, 'unsupported', 'levelling.sensor.measures'],
  ])('%o are refused as %s at %s', (sensor, code, path) => {
    const error = refusal(() => levelled({ sensor }))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
