import { describe, expect, it } from 'vitest'
import { gainAtMargin } from '../../../src/assessment/gain-at-margin.js'
import { tuneActiveDamping, tuneRelaxation, tuneRestrictor } from '../../../src/assessment/index.js'
import { scopeOf } from '../../../src/internal/check.js'
import { margins, transferFunction } from '../../../src/systems/index.js'
import { spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const white = spectrum({ quantity: 'velocity', frequency: [0.1, 100], density: [1, 1], support: 'points' })
/** A flat optimum is found to the root of what the objective resolves, 1e-4 for spectra drawn to 1e-4. */
const flat = 5e-3

describe('tuneRelaxation', () => {
  const design = { payload: { mass: 100 }, stiffness: 1e4, stiffnessRatio: 3 }

  it('finds the dashpot of lowest peak: 0.59292706 of critical, 1 + 2/N', () => {
    // Source: J. E. Ruzicka, R. D. Cavanaugh, Machine Design, 1958 (optimum); computed from N/(4(N + 1))·√(2(N + 2)).
    const found = tuneRelaxation(design)
    expect((found.parameters?.damping as number) / 2000).toBeCloseTo(0.59292706, 4)
    expect(found.outcome?.objective).toBeCloseTo(5 / 3, 8)
    expect(found.limitedBy).toBeNull()
  })

  it('finds another one for a given floor', () => {
    // Computed by minimising ∫|T|² from 0.1 to 100 Hz over the dashpot, 200 001 points: 749.99991 N·s/m, 2.5624927.
    const found = tuneRelaxation(design, { floor: white })
    expect(Math.abs((found.parameters?.damping as number) / 749.99991 - 1)).toBeLessThan(flat)
    expect((found.outcome?.objective as number) / 2.5624927).toBeCloseTo(1, 4)
  })

  it('draws the trade-off on both sides of it', () => {
    const { tried, outcome } = tuneRelaxation(design)
    expect(tried.length).toBe(25)
    expect(tried.every(({ objective }) => (objective as number) >= (outcome?.objective as number) * (1 - 1e-9))).toBe(
      true,
    )
    expect(tried[0]?.objective as number).toBeGreaterThan(3)
    expect(tried.at(-1)?.objective as number).toBeGreaterThan(3)
  })

  it('refuses a key it does not know, and an rms without a floor', () => {
    expect(refusal(() => tuneRelaxation({ ...design, objective: 'peak' } as never)).code).toBe('invalid-option')
    expect(refusal(() => tuneRelaxation(design, { objective: 'rms' })).details.path).toBe('floor')
  })
})

describe('tuneRestrictor', () => {
  const chamber = { volume: 3e-3, flowResistance: 'optimal' as const }
  const airSpring = { area: 0.01, volume: 1e-3, load: 2941.995, dampingChamber: chamber }

  it('of golden case A finds 4.2962553e7 Pa·s/m³ for the peak', () => {
    // Computed from the closed form R = 2 z_opt √(k₀ m)/(A² (V₂/(V₁ + V₂))²).
    const found = tuneRestrictor({ payload: { mass: 300 }, airSpring })
    expect((found.parameters?.flowResistance as number) / 4.2962553e7).toBeCloseTo(1, 4)
    expect(found.outcome?.objective).toBeCloseTo(5 / 3, 8)
  })

  it('begins where it is told and still finds it', () => {
    const dampingChamber = { volume: 3e-3, flowResistance: 4e8 }
    const found = tuneRestrictor({ payload: { mass: 300 }, airSpring: { ...airSpring, dampingChamber } })
    expect((found.parameters?.flowResistance as number) / 4.2962553e7).toBeCloseTo(1, 4)
  })

  it('takes the restrictor from a floor, and tells of an unstable levelling loop', () => {
    const levelled = { payload: { mass: 300 }, airSpring, levelling: { flowGain: 0.05 } }
    // κ = 5 1/s is below the limit of 8.350028 1/s at the optimum, and above it elsewhere.
    const found = tuneRestrictor(levelled, { floor: white })
    expect(found.parameters).not.toBeNull()
    expect(found.tried.some(({ feasible }) => !feasible)).toBe(true)
    const hopeless = tuneRestrictor({ ...levelled, levelling: { flowGain: 0.5 } })
    expect(hopeless.parameters).toBeNull()
    expect(hopeless.limitedBy).toBe('stability')
  })

  it('needs a damping chamber', () => {
    const { dampingChamber: _, ...single } = airSpring
    const error = refusal(() => tuneRestrictor({ payload: { mass: 300 }, airSpring: single }))
    expect(error.details.path).toBe('airSpring.dampingChamber')
  })
})

describe('tuneActiveDamping', () => {
  const omega = 2 * Math.PI * 4
  const geophone = {
    payload: { mass: 1000 },
    mount: { stiffness: 1000 * omega ** 2, damping: 0.04 * 1000 * omega },
    damping: { sensor: { naturalFrequency: 1, dampingRatio: 0.7 } },
  }

  it('finds the lowest peak with a geophone: 23705 N·s/m, 1.7772', () => {
    // Computed by minimising max |T| of the closed form over the gain, 400 001 frequencies.
    const found = tuneActiveDamping(geophone)
    expect(Math.abs((found.parameters?.gain as number) / 23705.0749 - 1)).toBeLessThan(1e-4)
    expect(found.outcome?.objective).toBeCloseTo(1.77720369, 7)
    expect(found.outcome?.modulusMargin).toBeCloseTo(0.70388, 4)
    expect(found.limitedBy).toBeNull()
  })

  it('stops at the margin where a floor asks for more', () => {
    // Computed from the closed form: min |1 + L| = 0.5 at 46897.37 N·s/m; without a margin 55035 would be best.
    const found = tuneActiveDamping(geophone, { floor: white })
    expect((found.parameters?.gain as number) / 46897.3718).toBeCloseTo(1, 5)
    expect(found.limitedBy).toBe('modulusMargin')
    expect(found.reason).toMatch(/^loop damping at 1\.\d+ Hz allows no more$/)
    const free = tuneActiveDamping(geophone, { floor: white, modulusMargin: 0.1 })
    expect(Math.abs((free.parameters?.gain as number) / 55035.1676 - 1)).toBeLessThan(flat)
    expect(free.limitedBy).toBeNull()
  })

  it('names the payload mode that is in the way', () => {
    // Computed from the closed form: min |1 + L| = 0.5 at 15891.5506 N·s/m and 42.014 Hz.
    const stiffness = 1200 * (4 * Math.PI) ** 2
    const mode = { modalMass: 6000, naturalFrequency: 42, dampingRatio: 0.01, mountShape: 0, sensorShape: -1 }
    const soft = { mass: 5, naturalFrequency: 300, dampingRatio: 0.02 }
    const design = { mount: { stiffness, damping: 0.06 * 1200 * 4 * Math.PI }, damping: {} }
    const found = tuneActiveDamping({ ...design, payload: { mass: 1200, appendages: [mode] } })
    expect((found.parameters?.gain as number) / 15891.5506).toBeCloseTo(1, 6)
    expect(found.limitedBy).toBe('payload.appendages[0]')
    expect(found.reason).toBe('payload.appendages[0] at 42.01 Hz allows no more')
    const second = tuneActiveDamping({ ...design, payload: { mass: 1195, appendages: [soft, mode] } })
    expect(second.limitedBy).toBe('payload.appendages[1]')
  })

  it('takes the lowest gain where more gains nothing', () => {
    // An ideal loop has no peak above 1 from a damping ratio of about 1/√2 on; undamped mount.
    const ideal = tuneActiveDamping({ ...geophone, mount: { stiffness: 1000 * omega ** 2 }, damping: {} })
    expect(ideal.outcome?.objective).toBeCloseTo(1, 2)
    expect((ideal.parameters?.gain as number) / (2 * 1000 * omega)).toBeLessThan(0.9)
  })

  it('finds nothing where no positive gain is stable', () => {
    // A geophone above an undamped mount; source: the Routh condition ζ_s,max = ζ_g (f₀/f_g − f_g/f₀) is negative.
    const damping = { sensor: { naturalFrequency: 8, dampingRatio: 0.7 } }
    const found = tuneActiveDamping({ ...geophone, mount: { stiffness: 1000 * omega ** 2 }, damping })
    expect(found.parameters).toBeNull()
    expect(found.tried.every(({ feasible }) => !feasible)).toBe(true)
  })

  it('says when the range ends first, and refuses one that is none', () => {
    const found = tuneActiveDamping({ ...geophone, damping: {} }, { range: [0.01, 0.1] })
    expect(found.limitedBy).toBe('gain')
    expect(refusal(() => tuneActiveDamping(geophone, { range: [1, 0.1] })).details.path).toBe('range[1]')
    expect(refusal(() => tuneActiveDamping(geophone, { modulusMargin: 1 })).details.path).toBe('modulusMargin')
  })
})

describe('gainAtMargin', () => {
  it('is the gain at which |1 + k L| touches the margin', () => {
    const loop = transferFunction({
      numerator: [1],
      denominator: [1, 2, 1, 0],
      input: 'injected',
      output: 'returned',
    })
    // Computed by a root search on min |1 + k/(s(s + 1)²)| over 2 000 001 frequencies.
    const { factor, frequency } = gainAtMargin(scopeOf('test'), loop, 0.5)
    expect(factor).toBeCloseTo(0.5718480335, 8)
    expect(frequency).toBeCloseTo(0.10006, 5)
    expect(margins({ ...loop, C: loop.C.map((row) => row.map((value) => factor * value)) }).modulusMargin).toBeCloseTo(
      0.5,
      9,
    )
  })

  it('is without limit where the loop never turns towards −1', () => {
    const loop = transferFunction({ numerator: [1], denominator: [1, 1], input: 'injected', output: 'returned' })
    expect(gainAtMargin(scopeOf('test'), loop, 0.5).factor).toBe(Number.POSITIVE_INFINITY)
  })
})
