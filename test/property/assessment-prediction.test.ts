import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { assess, compareConcepts, predictPayload } from '../../src/assessment/index.js'
import { activelyDampedIsolation, passiveIsolation } from '../../src/isolation/index.js'
import { oneThirdOctaveBands, rms, type Spectrum, spectrum } from '../../src/vibration/index.js'

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)

const mounted = fc
  .record({ mass: decades(-1, 4), frequency: decades(0, 1.3), dampingRatio: decades(-3, 0) })
  .map(({ mass, frequency, dampingRatio }) => {
    const omega = 2 * Math.PI * frequency
    const mount = { stiffness: mass * omega ** 2, damping: 2 * dampingRatio * mass * omega }
    return { model: passiveIsolation({ payload: { mass }, mount }), mass, mount, frequency, dampingRatio, omega }
  })

/** A floor of random points between 0.5 and 100 Hz over four decades of density. */
const floors: fc.Arbitrary<Spectrum> = fc
  .array(fc.record({ step: decades(0.02, 0.4), density: decades(-14, -10) }), { minLength: 1, maxLength: 12 })
  .map((pieces) => {
    let place = 0.5
    const inner = pieces.flatMap(({ step, density }) => {
      place *= step
      return place < 99 ? [{ place, density }] : []
    })
    const all = [{ place: 0.5, density: 1e-12 }, ...inner, { place: 100, density: 1e-13 }]
    return spectrum({
      quantity: 'velocity',
      frequency: all.map((point) => point.place),
      density: all.map((point) => point.density),
      support: 'points',
    })
  })

// Log-log lines between the points hold to 1e-4 of the density.
const interpolated = 1e-4
const power = (payload: Spectrum) =>
  rms(payload, { from: payload.frequency[0] as number, to: payload.frequency.at(-1) as number }) ** 2
const times = (floor: Spectrum, factor: number): Spectrum => ({
  ...floor,
  density: floor.density.map((value) => factor * value),
})

describe('predictPayload', () => {
  it('finds the whole variance of any resonance, however narrow', () => {
    fc.assert(
      fc.property(mounted, ({ model, dampingRatio, omega }) => {
        const floor = spectrum({ quantity: 'velocity', frequency: [1e-4, 1e5], density: [1, 1] })
        // White floor velocity: S·ω₀·(1 + 4ζ²)/(8ζ); the ends cut off 1e-4 Hz and (2ζf₀)²/1e5 Hz of at least 1.5 Hz.
        const expected = (omega * (1 + 4 * dampingRatio ** 2)) / (8 * dampingRatio)
        const cut = (1e-4 + (dampingRatio * omega) ** 2 / (Math.PI ** 2 * 1e5)) / expected
        expect(Math.abs(power(predictPayload(model, { floor })) / expected - 1)).toBeLessThan(interpolated + cut)
      }),
      { numRuns: 60 },
    )
  })

  it('is linear in the density of the floor', () => {
    fc.assert(
      fc.property(mounted, floors, decades(-6, 6), ({ model }, floor, factor) => {
        const plain = predictPayload(model, { floor })
        const scaled = predictPayload(model, { floor: times(floor, factor) })
        expect(Math.abs(power(scaled) / power(plain) / factor - 1)).toBeLessThan(2 * interpolated)
      }),
      { numRuns: 50 },
    )
  })

  it('adds the power of floor and force', () => {
    fc.assert(
      fc.property(mounted, floors, decades(-8, 0), ({ model, mass, omega }, floor, share) => {
        const strength = share * (mass * omega) ** 2
        const payloadForce = { ...floor, quantity: 'force' as const, density: floor.density.map((v) => strength * v) }
        const both = power(predictPayload(model, { floor, payloadForce }))
        const quiet = power(predictPayload(model, { floor: times(floor, 0), payloadForce }))
        const alone = power(predictPayload(model, { floor }))
        expect(Math.abs(both / (quiet + alone) - 1)).toBeLessThan(2 * interpolated)
      }),
      { numRuns: 50 },
    )
  })

  it('is exact at each of its points and covers the floor from end to end', () => {
    fc.assert(
      fc.property(mounted, floors, ({ model, frequency, dampingRatio }, floor) => {
        const payload = predictPayload(model, { floor })
        expect([payload.frequency[0], payload.frequency.at(-1)]).toEqual([0.5, 100])
        // |T|² of spring and dashpot at the floor's own points: Harris' Shock and Vibration Handbook, chapter "Theory of
        // vibration isolation".
        floor.frequency.forEach((place, k) => {
          const at = payload.frequency.indexOf(place)
          const r = place / frequency
          const damped = (2 * dampingRatio * r) ** 2
          const expected = ((1 + damped) / ((1 - r * r) ** 2 + damped)) * (floor.density[k] as number)
          expect(at).toBeGreaterThanOrEqual(0)
          expect(Math.abs((payload.density[at] as number) / expected - 1)).toBeLessThan(1e-10)
        })
      }),
      { numRuns: 50 },
    )
  })
})

describe('assess', () => {
  it('passes exactly where no band is above its limit', () => {
    fc.assert(
      fc.property(mounted, floors, decades(-2, 4), ({ model }, floor, factor) => {
        const result = assess(model, { floor: times(floor, factor), criterion: 'VC-D' })
        const bands = oneThirdOctaveBands(predictPayload(model, { floor: times(floor, factor) }), { from: 1, to: 80 })
        // VC-D is 6.25 µm/s from 1 to 80 Hz: H. Amick et al., Proc. SPIE 5933 (2005).
        const highest = Math.max(...bands.bands.map((band) => band.rms))
        expect(result.verdict).toBe(highest <= 6.25e-6 ? 'pass' : 'fail')
        expect(result.reasons.length).toBeGreaterThan(0)
      }),
      { numRuns: 40 },
    )
  })
})

describe('compareConcepts', () => {
  it('ranks every candidate once, and a winner passes', () => {
    fc.assert(
      fc.property(fc.array(mounted, { minLength: 1, maxLength: 4 }), floors, decades(-1, 3), (list, floor, factor) => {
        const models = Object.fromEntries(
          list.flatMap(({ model, mass, mount }, k) => [
            [`passive ${k}`, model],
            [`damped ${k}`, activelyDampedIsolation({ payload: { mass }, mount, damping: { dampingRatio: 0.5 } })],
          ]),
        )
        const result = compareConcepts(models, { floor: times(floor, factor), criterion: 'VC-D' })
        expect([...result.ranking].sort()).toEqual(Object.keys(models).sort())
        const rows = result.ranking.map((name) => result.table.find((row) => row.name === name))
        const passing = rows.filter((row) => row?.verdict === 'pass').length
        expect(rows.slice(0, passing).every((row) => row?.verdict === 'pass')).toBe(true)
        expect(result.simplestThatPasses).toBe(passing === 0 ? null : result.ranking[0])
      }),
      { numRuns: 20 },
    )
  })
})
