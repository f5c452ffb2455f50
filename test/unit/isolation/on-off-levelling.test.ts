import { describe, expect, it } from 'vitest'
import {
  type OnOffLevelling,
  onOffLevelling,
  passiveIsolation,
  pneumaticIsolation,
} from '../../../src/isolation/index.js'
import { gain } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { oneChamber } from './one-chamber.js'

const speed = 3e-4
const spring = oneChamber(1.4, 0.05)
const model = (levelling: object = {}) =>
  pneumaticIsolation({ payload: spring.payload, mount: spring.mount, levelling: { flowGain: 0.01, ...levelling } })

/** Largest height over the last ten of 400 seconds of z'' + 2ζω·z' + ω²·(z + u) = 0, u' = v·sign z outside the dead band,
 * let go at z = start with the gas at u = 0, by the classical Runge–Kutta method. */
function stepped(deadBand: number, start: number): number {
  const omega = 2 * Math.PI * 1.4
  const step = 1e-3
  const rate = ([z, speedOfZ, u]: readonly [number, number, number]): [number, number, number] => [
    speedOfZ,
    -0.1 * omega * speedOfZ - omega ** 2 * (z + u),
    Math.abs(z) > deadBand ? speed * Math.sign(z) : 0,
  ]
  const moved = (x: readonly [number, number, number], slope: readonly [number, number, number], h: number) =>
    x.map((value, i) => value + h * (slope[i] as number)) as [number, number, number]
  let state: [number, number, number] = [start, 0, 0]
  let largest = 0
  for (let n = 0; n < 400_000; n++) {
    const a = rate(state)
    const b = rate(moved(state, a, step / 2))
    const c = rate(moved(state, b, step / 2))
    const d = rate(moved(state, c, step))
    state = state.map(
      (value, i) =>
        value + (step / 6) * ((a[i] as number) + 2 * ((b[i] as number) + (c[i] as number)) + (d[i] as number)),
    ) as [number, number, number]
    if (n > 390_000) largest = Math.max(largest, Math.abs(state[0]))
  }
  return largest
}

describe('an on-off valve of 0.3 mm/s on 1.4 Hz, damping ratio 0.05', () => {
  // Computed from the describing function of a relay, amplitude 4v/(π·2ζω₀) and dead band half of that.
  const free = onOffLevelling(model(), { rate: speed })

  const same = (a: OnOffLevelling, b: OnOffLevelling) =>
    expect((a.limitCycle?.amplitude as number) / (b.limitCycle?.amplitude as number)).toBeCloseTo(1, 9)

  it('without dead band hunts at 1.4 Hz with 0.434 mm; 0.217 mm of dead band stop it', () => {
    expect((free.limitCycle?.amplitude as number) * 1e4).toBeCloseTo(4.34, 2)
    expect(free.limitCycle?.frequency).toBeCloseTo(1.4, 9)
    expect(free.limitCycle?.threshold).toBe(0)
    expect(free.stoppingDeadBand * 1e3).toBeCloseTo(0.217, 3)
  })

  it('does so in time steps too', () => {
    // The describing function counts the fundamental. The third harmonic of a relay is a third; an integrator and a payload of
    // ζ = 0.05 pass it by 2ζ/(3·3·8) of the fundamental, 0.14 %, so that 1 % is ample.
    const harmonics = 0.01
    expect(Math.abs(stepped(0, 1e-4) / 4.342336e-4 - 1)).toBeLessThan(harmonics)
  }, 20_000)

  // Computed from a⁴ − a²·A² + δ²·A² = 0, A the amplitude without dead band; the describing function itself was confirmed by a
  // Fourier integral of the valve.
  it.each([
    [1e-4, 4.2185719e-4, 1.029338e-4],
    [2e-4, 3.6189887e-4, 2.3997513e-4],
  ])('with a dead band of %d m hunts with %d m once it exceeds %d m', (deadBand, amplitude, threshold) => {
    const { limitCycle } = onOffLevelling(model(), { rate: speed, deadBand })
    expect((limitCycle?.amplitude as number) / amplitude).toBeCloseTo(1, 7)
    expect((limitCycle?.threshold as number) / threshold).toBeCloseTo(1, 7)
  })

  it('stops in time steps above the stopping dead band, and hunts below it', () => {
    const { limitCycle } = onOffLevelling(model(), { rate: speed, deadBand: 1e-4 })
    expect(Math.abs(stepped(1e-4, 5e-4) / (limitCycle?.amplitude as number) - 1)).toBeLessThan(0.01)
    // What is left lies within the dead band.
    expect(stepped(2.3e-4, 1e-3)).toBeLessThan(2.3e-4)
    expect(onOffLevelling(model(), { rate: speed, deadBand: 2.3e-4 }).limitCycle).toBeNull()
  }, 20_000)

  it('does not ask for the flow gain, and minds the controller', () => {
    same(onOffLevelling(model({ flowGain: 1 }), { rate: speed }), free)
    // A relay behind an amplifier is the same relay.
    same(onOffLevelling(model({ controller: gain(5) }), { rate: speed }), free)
  })

  it('behind an amplifier of 5 needs five times the dead band for the same cycle', () => {
    const plain = onOffLevelling(model(), { rate: speed, deadBand: 1e-4 })
    const behind = onOffLevelling(model({ controller: gain(5) }), { rate: speed, deadBand: 5e-4 })
    same(behind, plain)
    expect((behind.limitCycle?.threshold as number) / (plain.limitCycle?.threshold as number)).toBeCloseTo(1, 9)
    expect(behind.stoppingDeadBand / plain.stoppingDeadBand).toBeCloseTo(5, 9)
  })

  it('never stops where nothing damps the payload', () => {
    const bare = oneChamber(1.4, 0)
    const undamped = pneumaticIsolation({ payload: bare.payload, mount: bare.mount, levelling: { flowGain: 0.01 } })
    expect(onOffLevelling(undamped, { rate: speed, deadBand: 1e-4 })).toEqual({
      kind: 'OnOffLevelling',
      limitCycle: { amplitude: Number.POSITIVE_INFINITY, frequency: null, threshold: 1e-4 },
      stoppingDeadBand: Number.POSITIVE_INFINITY,
    })
  })

  it.each([
    [{}, 'invalid-option', 'rate'],
    [{ rate: 0 }, 'out-of-range', 'rate'],
    [{ rate: 1, deadBand: -1 }, 'out-of-range', 'deadBand'],
    [{ rate: 1, hysteresis: 1 }, 'invalid-option', 'hysteresis'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    const error = refusal(() => onOffLevelling(model(), options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a model without levelling', () => {
    const bare = passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 1 } })
    expect(refusal(() => onOffLevelling(bare, { rate: 1 })).code).toBe('invalid-option')
  })
})
