import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { airSpring, standardGravity } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  loopMargins,
  passiveIsolation,
  simultaneousLoopMargin,
} from '../../../src/isolation/index.js'
import { connect, gain, replaceBlock, simultaneousMargin, stability } from '../../../src/systems/index.js'
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

  it('are left without a proof where that is asked for', () => {
    expect(simultaneousLoopMargin(model(2e-3), { proof: 'without-delay' }).provenDiskMargin).toBeNull()
    expect(simultaneousLoopMargin(model(0), { proof: 'without-delay' }).provenDiskMargin).toBeGreaterThan(1.5)
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
