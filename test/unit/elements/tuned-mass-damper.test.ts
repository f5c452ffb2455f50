import { describe, expect, it } from 'vitest'
import { springMount, tunedMassDamper } from '../../../src/elements/index.js'
import { stackedIsolation } from '../../../src/isolation/index.js'
import { channel, frequencyResponse, magnitude } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const host = { mass: 400, naturalFrequency: 12 }
const damped = (massRatio: number, criterion?: 'harmonic-force' | 'white-force' | 'white-base-acceleration') =>
  tunedMassDamper({ ...host, massRatio, ...(criterion === undefined ? {} : { criterion }) })

/** Largest k·|x/F| of an undamped host with a damper on it, over frequency ratios, from the stack of the two. */
function amplification(
  { mu, ...tuning }: { readonly mu: number; readonly frequencyRatio: number; readonly dampingRatio: number },
  ratios: readonly number[],
): number {
  const mount = springMount({ ...host, dampingRatio: 0 })
  const mass = mu * host.mass
  const naturalFrequency = tuning.frequencyRatio * host.naturalFrequency
  const { closed } = stackedIsolation({
    lower: { concept: 'passive', payload: { mass: host.mass }, mount },
    upper: {
      concept: 'passive',
      payload: { mass },
      mount: springMount({ mass, naturalFrequency, dampingRatio: tuning.dampingRatio }),
    },
  })
  const grid = ratios.map((r) => r * host.naturalFrequency)
  const ports = { input: 'lower_payloadForce', output: 'lower_payloadVelocity' }
  const options = { inputs: [ports.input], outputs: [ports.output] }
  const mobility = magnitude(channel(frequencyResponse(closed, grid, options), ports))
  return Math.max(...grid.map((f, k) => (mount.stiffness * (mobility[k] as number)) / (2 * Math.PI * f)))
}

describe('tunedMassDamper', () => {
  // J. P. Den Hartog, Mechanical Vibrations, chapter 3 (from memory); true peak found by a fine sweep over the 2 × 2
  // dynamic stiffness, digits as listed.
  it.each([
    [0.01, 0.99009901, 0.06093333, 14.179745],
    [0.02, 0.98039216, 0.08574929, 10.053169],
    [0.05, 0.95238095, 0.13363062, 6.408443],
    [0.1, 0.90909091, 0.18463724, 4.59022],
    [0.2, 0.83333333, 0.25, 3.327539],
  ])('of mass ratio %d against a sine is tuned to %d with its own damping ratio %d and leaves %d', (mu, f, z, peak) => {
    const damper = damped(mu)
    expect(damper.frequencyRatio).toBeCloseTo(f, 8)
    expect(damper.dampingRatio).toBeCloseTo(z, 8)
    expect(damper.peak).toBeCloseTo(peak, 6)
  })

  // Den Hartog's own figure, c/(2·m₂·ω₁), √(3μ/(8(1 + μ)³)), from memory: another number for the same dashpot.
  it.each([
    [0.01, 0.06033003],
    [0.02, 0.08406793],
    [0.05, 0.12726726],
    [0.1, 0.16785203],
    [0.2, 0.20833333],
  ])('of mass ratio %d has the dashpot that the convention c/(2·m₂·ω₁) calls %d', (mu, z) => {
    const { damping, mass } = damped(mu)
    expect(damping / (2 * mass * 2 * Math.PI * host.naturalFrequency)).toBeCloseTo(z, 8)
  })

  // G. B. Warburton, Earthquake Eng. Struct. Dyn. 10, 1982 (from memory), confirmed by numerical minimisation to 1e-6.
  it.each([
    ['white-force', 0.96421223, 0.10977223],
    ['white-base-acceleration', 0.94040084, 0.10980613],
  ] as const)('of mass ratio 0.05 against %s is tuned to %d with damping ratio %d', (criterion, f, z) => {
    const damper = damped(0.05, criterion)
    expect(damper.frequencyRatio).toBeCloseTo(f, 8)
    expect(damper.dampingRatio).toBeCloseTo(z, 8)
    // Best for noise is not best for a sine.
    expect(damper.peak).toBeGreaterThan(damped(0.05).peak)
  })

  it('is sized by what it hangs on', () => {
    // Computed from the closed forms: 20 kg at 12/1.05 Hz, k = m(2πf)², c = 2ζm(2πf).
    const damper = damped(0.05)
    expect(damper.mass).toBe(20)
    expect(damper.naturalFrequency).toBeCloseTo(11.428571, 6)
    expect(damper.stiffness).toBeCloseTo(103127.294966, 6)
    expect(damper.damping).toBeCloseTo(383.829008, 6)
    const { stiffness, damping } = springMount({
      mass: damper.mass,
      naturalFrequency: damper.naturalFrequency,
      dampingRatio: damper.dampingRatio,
    })
    expect(stiffness).toBeCloseTo(damper.stiffness, 8)
    expect(damping).toBeCloseTo(damper.damping, 10)
  })

  it('on a payload of a stack leaves the peak it states', () => {
    const damper = damped(0.02)
    const mount = springMount({ ...host, dampingRatio: 0 })
    const model = stackedIsolation({
      lower: { concept: 'passive', payload: { mass: host.mass }, mount },
      upper: {
        concept: 'passive',
        payload: { mass: damper.mass },
        mount: springMount({
          mass: damper.mass,
          naturalFrequency: damper.naturalFrequency,
          dampingRatio: damper.dampingRatio,
        }),
      },
    })
    const grid = Array.from({ length: 4001 }, (_, k) => 9 + k / 800)
    const ports = { input: 'lower_payloadForce', output: 'lower_payloadVelocity' }
    const mobility = magnitude(channel(frequencyResponse(model.closed, grid), ports))
    const found = Math.max(...grid.map((f, k) => (mount.stiffness * (mobility[k] as number)) / (2 * Math.PI * f)))
    // The grid misses a peak of this width by less than 1e-5.
    expect(found).toBeCloseTo(damper.peak, 4)
  })

  // J. P. Den Hartog, Mechanical Vibrations, chapter 3 (from memory): r² = (1 ∓ √(μ/(2 + μ)))/(1 + μ), there √(1 + 2/μ).
  it.each([
    [0.01, 14.17744688],
    [0.02, 10.04987562],
    [0.05, 6.40312424],
    [0.1, 4.58257569],
    [0.2, 3.31662479],
  ])('of mass ratio %d leaves %d at both fixed points whatever its dashpot', (mu, height) => {
    const { frequencyRatio } = damped(mu)
    for (const sign of [-1, 1]) {
      const r = Math.sqrt((1 + sign * Math.sqrt(mu / (2 + mu))) / (1 + mu))
      for (const dampingRatio of [0.03, 0.4]) {
        expect(amplification({ mu, frequencyRatio, dampingRatio }, [r])).toBeCloseTo(height, 7)
      }
    }
  })

  // Peaks with Den Hartog's figure taken for the own damping ratio, and with the pair that a numerical search for the least
  // peak finds. Computed from the 2 × 2 dynamic stiffness; the pair is listed to six digits, which move its peak by 1e-4.
  it.each([
    [0.01, 14.185267, 0.990099, 0.060961, 14.179643],
    [0.02, 10.06562, 0.980391, 0.085829, 10.052963],
    [0.05, 6.445929, 0.952372, 0.133938, 6.407921],
    [0.1, 4.67688, 0.909058, 0.185469, 4.589166],
    [0.2, 3.52348, 0.833223, 0.252173, 3.325438],
  ])('of mass ratio %d with the damping ratio of the other convention leaves %d', (mu, misused, f, z, least) => {
    const { frequencyRatio, dampingRatio, peak } = damped(mu)
    const grid = Array.from({ length: 20001 }, (_, k) => 0.7 + k * 2.5e-5)
    // A grid this fine misses peaks of this width by less than 1e-5.
    const other = amplification({ mu, frequencyRatio, dampingRatio: dampingRatio / (1 + mu) }, grid)
    expect(Math.abs(other - misused)).toBeLessThan(2e-5)
    const best = amplification({ mu, frequencyRatio: f, dampingRatio: z }, grid)
    expect(Math.abs(best - least)).toBeLessThan(1e-4)
    expect(peak).toBeGreaterThan(least)
    expect(peak / least).toBeLessThan(1.001)
  })

  it('works at either end of its range', () => {
    // √(1 + 2/μ) to first order: for small μ the fixed points are the peaks.
    expect(damped(1e-6).peak / 1414.2139).toBeCloseTo(1, 5)
    expect(damped(1).peak).toBeGreaterThan(1)
  })

  it.each([
    [{ massRatio: 0 }, 'out-of-range', 'massRatio'],
    [{ massRatio: 1.5 }, 'out-of-range', 'massRatio'],
    [{ mass: -1 }, 'out-of-range', 'mass'],
    [{ naturalFrequency: undefined }, 'invalid-option', 'naturalFrequency'],
    [{ criterion: 'sine' }, 'invalid-option', 'criterion'],
    [{ damping: 1 }, 'invalid-option', 'damping'],
  ])('refuses %o as %s at %s', (change, code, path) => {
    const options = { ...host, massRatio: 0.05, ...change }
    expect(refusal(() => tunedMassDamper(options as never))).toMatchObject({ code, details: { path } })
  })
})
