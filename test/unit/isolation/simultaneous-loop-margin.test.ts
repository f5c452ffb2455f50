import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airSpring, standardGravity } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  loopMargins,
  passiveIsolation,
  simultaneousLoopMargin,
} from '../../../src/isolation/index.js'
import {
  connect,
  delay,
  gain,
  integrator,
  lowPass,
  replaceBlock,
  type StateSpace,
  series,
  simultaneousMargin,
  stability,
} from '../../../src/systems/index.js'
import { delayBound } from '../../../src/systems/proven-disk.js'
import { refusal } from '../refusal.js'

const mass = 900
const mount = airSpring({ area: 0.0075, volume: 0.0014, load: (mass * standardGravity) / 4, diaphragmDamping: 100 })
const model = (delay: number, gain = 8000) =>
  activelyDampedIsolation({
    payload: { mass },
    mount,
    count: 4,
    levelling: { flowGain: 0.001 },
    damping: { gain, delay, actuator: { bandwidth: 300 } },
  })

describe('height control and active damping on one payload', () => {
  // Computed from the closed form of both loops, z = [a; κ x] with Z = m s + c + k/s, by a scan of 200 001 points with
  // μ² = (n + √(n² − 4 |det|²))/2, n = |m₁₁|² + |m₂₂|² + 2 |m₁₂ m₂₁|, and cross-checked by max over phases of ρ(U M).
  it.each([
    [0, 1.5681577728483191, 1.037437480868898, 0.10122159283474852],
    [2e-3, 1.577422416663038, 1.0151019386010462, 0.09976937721030446],
  ])('with %d s of delay bear the disk %d at %d Hz and a delay of %d s', (delay, disk, frequency, seconds) => {
    const found = simultaneousLoopMargin(model(delay))
    expect(found.ports).toEqual(['actuator.force', 'valve.velocity'])
    expect((found.diskMargin as number) / disk).toBeCloseTo(1, 9)
    // A flat minimum: its place is known to the root of rounding.
    expect((found.frequency as number) / frequency).toBeCloseTo(1, 6)
    expect((found.delayMargin as number) / seconds).toBeCloseTo(1, 6)
    expect(found.gainMargin).toBeCloseTo((2 + disk) / (2 - disk), 6)
    expect(found.phaseMarginDegrees).toBeCloseTo((360 / Math.PI) * Math.atan(disk / 2), 6)
  })

  it.each([0, 2e-3])('have a proof with %d s of delay, within a tenth below what the samples say', (delay) => {
    const found = simultaneousLoopMargin(model(delay))
    expect(found.provenDiskMargin as number).toBeLessThanOrEqual((found.diskMargin as number) * (1 + 1e-9))
    expect(found.provenDiskMargin as number).toBeGreaterThan(0.9 * (found.diskMargin as number))
  })

  it('are left without a proof where that is asked for, or where the model is too large for it', () => {
    expect(simultaneousLoopMargin(model(2e-3), { proof: 'without-delay' }).provenDiskMargin).toBeNull()
    expect(simultaneousLoopMargin(model(0), { proof: 'without-delay' }).provenDiskMargin).toBeGreaterThan(1.5)
    const filter = lowPass({ cutoff: 50, order: 10 })
    const filters = Array.from({ length: 9 }, () => filter).reduce((a, b) => series(a, b))
    const blocks = { plant: series(integrator(), filters), late: delay({ seconds: 1e-4 }) }
    const wires = { 'plant.u1': '-late.y1', 'late.u1': 'plant.y1' } as const
    const loop = { blocks, inputs: [], outputs: { motion: 'plant.y1' }, wires } as const
    expect(simultaneousMargin(loop, ['plant.y1'])).toMatchObject({ closedLoop: 'stable', provenDiskMargin: null })
  })

  it('bear less together than each alone', () => {
    const together = simultaneousLoopMargin(model(2e-3))
    for (const { margins } of loopMargins(model(2e-3))) {
      expect(together.delayMargin as number).toBeLessThan(margins.delayMargin as number)
      expect(together.gainMargin as number).toBeLessThan(margins.gainMargin as number)
    }
  })

  it.each([0, 2e-3])('with %d s of delay stay stable under any gains within the bound', (delay) => {
    const { diagram } = model(delay)
    const { gainMargin } = simultaneousLoopMargin(model(delay))
    const span = Math.log(gainMargin as number)
    const factor = fc.double({ min: -span, max: span, noNaN: true }).map(Math.exp)
    fc.assert(
      fc.property(factor, factor, (a, b) => {
        const valve = gain((b * 0.001) / 0.0075, { inputs: ['height'], outputs: ['velocity'] })
        const controller = gain(8000 * a, { inputs: ['signal'], outputs: ['force'] })
        const changed = replaceBlock(replaceBlock(diagram, 'valve', valve), 'controller', controller)
        return stability(connect(changed)).verdict === 'stable'
      }),
      { numRuns: 100 },
    )
  })
})

describe('one loop in two places', () => {
  // Computed from the closed form: L = K/s; a change at both ends multiplies, so that each may have the root of what one
  // alone may have. With S − ½ of the pair, μ² = (n + √(n² − 4|det|²))/2.
  const loop = {
    blocks: { plant: integrator(), controller: gain(3) },
    inputs: [],
    outputs: { motion: 'plant.y1' },
    wires: { 'plant.u1': 'controller.y1', 'controller.u1': '-plant.y1' },
  } as const

  it('bears the whole disk at one end: 2, since 1/(1 + L) − ½ of an integrator is an all-pass of ½', () => {
    const found = simultaneousMargin(loop, ['plant.y1'])
    expect(found.diskMargin).toBeCloseTo(2, 9)
    expect(found.phaseMarginDegrees).toBeCloseTo(90, 6)
    expect(found.gainReductionMargin).toBeCloseTo(0, 9)
    // The delay margin of K/s is π/2 over K; the bound is within a tenth below it.
    expect(found.delayMargin as number).toBeLessThanOrEqual(Math.PI / 6)
    expect(found.delayMargin as number).toBeGreaterThan((0.9 * Math.PI) / 6)
  })

  it('bears half of the phase at each of both', () => {
    const found = simultaneousMargin(loop, ['plant.y1', 'controller.y1'])
    expect(found.phaseMarginDegrees).toBeCloseTo(45, 6)
    expect(found.provenDiskMargin as number).toBeLessThanOrEqual((found.diskMargin as number) * (1 + 1e-9))
  })
})

describe('a loop with delay', () => {
  const around = (plant: StateSpace<'u1', 'y1'>, seconds: number) => {
    const blocks = { plant, late: delay({ seconds }) }
    const wires = { 'plant.u1': '-late.y1', 'late.u1': 'plant.y1' } as const
    return simultaneousMargin({ blocks, inputs: [], outputs: { motion: 'plant.y1' }, wires } as const, ['plant.y1'])
  }

  // Computed from the closed form by a scan of 4 000 001 points and a search for the minimum: 1/max |1/(1 + L) − ½| of L = K e^(−sτ)/s.
  it.each([
    [3, 0.1, 1.1980843896012956],
    [1, 1, 0.37119685030777766],
  ])('of gain %d and %d s bears the disk %d, and all but three hundredths of it for certain', (K, seconds, disk) => {
    const found = around(series(gain(K), integrator()), seconds)
    expect(found.diskMargin as number).toBeCloseTo(disk, 6)
    expect(found.provenDiskMargin as number).toBeLessThan(found.diskMargin as number)
    expect(found.provenDiskMargin as number).toBeGreaterThan(0.97 * disk)
  })

  it('that is late in two places, one behind the other, is sampled no more than one that is late once', () => {
    // A chain of delays has unit gain at any frequency; only the gain around the ring says how far to look.
    const filter = lowPass({ cutoff: 50, order: 2 })
    const plant = series(integrator(), filter, delay({ seconds: 4e-5 }))
    const [once, twice] = [around(series(integrator(), filter), 1e-4), around(plant, 6e-5)]
    expect((twice.diskMargin as number) / (once.diskMargin as number)).toBeCloseTo(1, 6)
    expect((twice.provenDiskMargin as number) / (once.provenDiskMargin as number)).toBeCloseTo(1, 2)
  }, 5000)

  it('has a Padé form within the bound of its error, at every frequency', () => {
    const { padeOrder: n, corner, height } = delayBound
    const factorial = (k: number): number => (k < 2 ? 1 : k * factorial(k - 1))
    // G. A. Baker, P. Graves-Morris, Padé Approximants, 2nd edition 1996, section 1.2: p(s) of e^(−s) ≈ p(−s)/p(s).
    const coefficient = (k: number) =>
      (factorial(2 * n - k) * factorial(n)) / (factorial(2 * n) * factorial(k) * factorial(n - k))
    const error = (x: number) => {
      let [re, im] = [0, 0]
      for (let k = 0; k <= n; k++) {
        const value = coefficient(k) * x ** k
        if (k % 2 === 0) re += k % 4 === 0 ? value : -value
        else im += k % 4 === 1 ? value : -value
      }
      const late = x - 2 * Math.atan2(im, re)
      return 2 * Math.abs(Math.sin(late / 2))
    }
    const bound = (x: number) => (height * (x / corner) ** 4) / (1 + (x / corner) ** 4)
    // Below 0.1 the error is below (n!)²/((2n)! (2n + 1)!) x^(2n+1), 1.7e-13 x¹³, and the bound above 1e-4 x⁴.
    expect(bound(0.1)).toBeGreaterThan(1e-4 * 0.1 ** 4)
    // The phase error grows, its derivative being x^(2n)/|p|² over a constant; up to π the error grows with it.
    let x = 0.1
    for (; error(x) < 1.999; x *= 1.0005) expect(bound(x)).toBeGreaterThan(error(1.0005 * x))
    // From here on the bound is above 2, which no error is.
    expect(bound(x)).toBeGreaterThan(2)
  })
})

describe('a system that has no such margin', () => {
  it('by being unstable says so', () => {
    const found = simultaneousLoopMargin(model(0, -1e5))
    expect(found.closedLoop).toBe('unstable')
    expect(found.diskMargin).toBeNull()
  })

  it('for want of a loop is refused', () => {
    const passive = passiveIsolation({ payload: { mass }, mount: { stiffness: 1e5, damping: 100 } })
    expect(refusal(() => simultaneousLoopMargin(passive)).code).toBe('invalid-option')
  })

  it('at a port that is not there is refused', () => {
    const { diagram } = model(0)
    expect(refusal(() => simultaneousMargin(diagram, ['valve.height'])).code).toBe('unknown-port')
    expect(refusal(() => simultaneousMargin(diagram, [])).details.path).toBe('ports')
    expect(refusal(() => simultaneousMargin(diagram, ['valve.velocity', 'valve.velocity'])).code).toBe('invalid-option')
  })
})
