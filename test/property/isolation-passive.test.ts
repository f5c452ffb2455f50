import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airSpring, type Mount, standardGravity } from '../../src/elements/index.js'
import {
  compliance,
  type IsolationModel,
  type IsolationOptions,
  isolationSummary,
  type PassiveIsolationOptions,
  passiveIsolation,
  pneumaticIsolation,
  stackedIsolation,
  transmissibility,
} from '../../src/isolation/index.js'
import { channel, frequencyResponse, stability } from '../../src/systems/index.js'

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)

/** A payload of any mass on a mount of f₀ and damping ratio, with up to two branches beside the spring. */
const storey = fc
  .record({
    mass: decades(-3, 5),
    frequency: decades(-1, 2),
    dampingRatio: decades(-3, 0.5),
    branches: fc.array(fc.record({ ratio: decades(-2, 1), time: decades(-4, 1) }), { maxLength: 2 }),
  })
  .map(({ mass, frequency, dampingRatio, branches }) => {
    const omega = 2 * Math.PI * frequency
    const stiffness = mass * omega ** 2
    const mount: Mount = {
      stiffness,
      damping: 2 * dampingRatio * mass * omega,
      relaxations: branches.map(({ ratio, time }) => ({ stiffness: ratio * stiffness, time })),
    }
    return { payload: { mass }, mount, frequency }
  })

const response = (model: IsolationModel, input: string, output: string, frequency: number) => {
  const series = channel(frequencyResponse(model.closed, [frequency], { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
  return { re: series.re[0] as number, im: series.im[0] as number }
}
const distance = (a: { re: number; im: number }, b: { re: number; im: number }) =>
  Math.hypot(a.re - b.re, a.im - b.im) / Math.hypot(b.re, b.im)

// A solve with one refinement is good to a few roundings times the condition of the balanced system, here below 1e4.
const solved = 1e-11

describe('a passive isolation', () => {
  it('follows the floor at 0 Hz and gives way by 1/K(0)', () => {
    fc.assert(
      fc.property(storey, fc.integer({ min: 1, max: 8 }), ({ payload, mount }, count) => {
        const model = passiveIsolation({ payload, mount, count })
        const { re, im } = transmissibility(model, [0])
        expect(distance({ re: re[0] as number, im: im[0] as number }, { re: 1, im: 0 })).toBeLessThan(solved)
        const soft = compliance(model, [0]).re[0] as number
        expect(Math.abs(soft * count * mount.stiffness - 1)).toBeLessThan(solved)
      }),
    )
  })

  it('on spring and dashpot has |T| = 1 at √2 f₀ whatever the damping', () => {
    fc.assert(
      fc.property(decades(-3, 5), decades(-2, 3), decades(-6, 2), (mass, frequency, dampingRatio) => {
        const omega = 2 * Math.PI * frequency
        const mount = { stiffness: mass * omega ** 2, damping: 2 * dampingRatio * mass * omega }
        const { re, im } = transmissibility(passiveIsolation({ payload: { mass }, mount }), [Math.SQRT2 * frequency])
        expect(Math.abs(Math.hypot(re[0] as number, im[0] as number) - 1)).toBeLessThan(solved)
      }),
    )
  })

  it('does not mind a factor on mass, stiffness and damping together', () => {
    fc.assert(
      fc.property(storey, decades(-4, 4), decades(-1, 1), ({ payload, mount, frequency }, factor, ratio) => {
        const scaled: Mount = {
          stiffness: factor * mount.stiffness,
          damping: factor * (mount.damping ?? 0),
          relaxations: (mount.relaxations ?? []).map((b) => ({ ...b, stiffness: factor * b.stiffness })),
        }
        const plain = passiveIsolation({ payload, mount })
        const heavy = passiveIsolation({ payload: { mass: factor * payload.mass }, mount: scaled })
        const at = ratio * frequency
        const a = response(plain, 'floorVelocity', 'payloadVelocity', at)
        const b = response(heavy, 'floorVelocity', 'payloadVelocity', at)
        expect(distance(b, a)).toBeLessThan(solved)
        const c = response(plain, 'payloadForce', 'payloadVelocity', at)
        const d = response(heavy, 'payloadForce', 'payloadVelocity', at)
        expect(distance({ re: factor * d.re, im: factor * d.im }, c)).toBeLessThan(solved)
      }),
    )
  })

  it('is stable, and above some frequency it isolates', () => {
    fc.assert(
      fc.property(storey, ({ payload, mount, frequency }) => {
        const model = passiveIsolation({ payload, mount })
        expect(stability(model.closed).verdict).toBe('stable')
        const summary = isolationSummary(model)
        expect(summary.peak).toBeGreaterThan(1)
        expect(summary.isolationFrom).toBeGreaterThanOrEqual(frequency * Math.SQRT2 * (1 - 1e-9))
      }),
      { numRuns: 60 },
    )
  })

  it('passes forces to the floor as it passes motion from it', () => {
    fc.assert(
      fc.property(storey, decades(-1, 1), ({ payload, mount, frequency }, ratio) => {
        const model = passiveIsolation({ payload, mount })
        const motion = response(model, 'floorVelocity', 'payloadVelocity', ratio * frequency)
        expect(distance(response(model, 'payloadForce', 'floorForce', ratio * frequency), motion)).toBeLessThan(solved)
      }),
    )
  })
})

describe('a pneumatic isolation', () => {
  it('with levelling still follows the floor at 0 Hz and holds the height', () => {
    const options = fc.record({
      area: decades(-3, -1),
      volume: decades(-4, -2),
      mass: decades(1, 4),
      share: fc.double({ min: 0.01, max: 0.9, noNaN: true }),
    })
    fc.assert(
      fc.property(options, ({ area, volume, mass, share }) => {
        const bare = airSpring({ area, volume, load: mass * standardGravity })
        const omega = Math.sqrt(bare.stiffness / mass)
        const mount = airSpring({ area, volume, load: mass * standardGravity, diaphragmDamping: 0.4 * mass * omega })
        // κ below its limit 2ζω₀ with ζ = 0.2.
        const model = pneumaticIsolation({
          payload: { mass },
          mount,
          levelling: { flowGain: share * 0.4 * omega * area },
        })
        expect(stability(model.closed).verdict).toBe('stable')
        expect(response(model, 'floorVelocity', 'payloadVelocity', 0).re).toBeCloseTo(1, 10)
        const stretch = Math.abs(response(model, 'payloadForce', 'stretch', 0).re)
        expect(stretch * bare.stiffness).toBeLessThan(solved)
      }),
    )
  })
})

describe('a passive stack', () => {
  it('is reciprocal: velocity below per force above equals velocity above per force below', () => {
    fc.assert(
      fc.property(storey, storey, decades(-1, 1), (lower, upper, ratio) => {
        const model = stackedIsolation({ lower: concept(lower), upper: concept(upper) })
        const at = ratio * upper.frequency
        const down = response(model, 'payloadForce', 'lower_payloadVelocity', at)
        const up = response(model, 'lower_payloadForce', 'payloadVelocity', at)
        expect(distance(up, down)).toBeLessThan(1e3 * solved)
      }),
    )
  })

  it('under a light upper payload leaves the lower one alone', () => {
    fc.assert(
      fc.property(storey, decades(-1, 1), (lower, ratio) => {
        const mass = 1e-12 * lower.payload.mass
        const omega = 2 * Math.PI * lower.frequency
        const light = { payload: { mass }, mount: { stiffness: mass * omega ** 2, damping: 0.1 * mass * omega } }
        const model = stackedIsolation({ lower: concept(lower), upper: { concept: 'passive', ...light } })
        const at = ratio * lower.frequency
        const alone = response(
          passiveIsolation({ payload: lower.payload, mount: lower.mount }),
          'floorVelocity',
          'payloadVelocity',
          at,
        )
        // The upper payload weighs 1e-12 of the lower one and is magnified tenfold at its own resonance; the lower peak
        // is at most 500.
        expect(distance(response(model, 'floorVelocity', 'lower_payloadVelocity', at), alone)).toBeLessThan(1e-8)
      }),
    )
  })
})

function concept(one: { payload: { mass: number }; mount: Mount }): IsolationOptions
function concept({ payload, mount }: PassiveIsolationOptions): IsolationOptions {
  return { concept: 'passive', payload, mount }
}
