import { describe, expect, it } from 'vitest'
import {
  airSpring,
  dynamicStiffness,
  motionProfile,
  mountAtLoad,
  type Point,
  rigidPayload,
  sampleProfile,
  springMount,
} from '../../../src/elements/index.js'
import { densityAt } from '../../../src/elements/noise-table.js'
import { refusal } from '../refusal.js'

describe('a coil spring with the mass of its coils, its upper end held', () => {
  const [stiffness, mass] = [1e4, 0.5]
  const held = (theta: number, dampingRatio: number) => {
    const frequency = (theta * Math.sqrt(stiffness / mass)) / (2 * Math.PI)
    const { re, im } = dynamicStiffness(springMount({ stiffness, surge: { mass, dampingRatio, modes: 20 } }), [
      frequency,
    ])
    return [re[0] / stiffness, im[0] / stiffness]
  }

  // A rod of stiffness k and mass m passes k·θ/sin θ, θ = ω√(m/k): A. E. H. Love, A Treatise on the Mathematical Theory of
  // Elasticity, chapter on rods (from memory). What the modes beyond the twentieth have of it is some 2/(20·π²) of θ².
  it.each([0.1, 0.5, 1, 2, 2.5, 4, 5.5])('passes θ/sin θ of its stiffness at θ = %d', (theta) => {
    const [re, im] = held(theta, 0)
    expect(Math.abs(re - theta / Math.sin(theta))).toBeLessThan(0.011 * theta ** 2)
    expect(im).toBe(0)
  })

  it('loses a little of it to its damping, most where it surges', () => {
    // At θ = π the first of them alone: 2·ω²/(2jζω²) of the stiffness, −j/ζ, turned by what is in phase
    const [re, im] = held(Math.PI, 0.01)
    expect(Math.abs(im) * 0.01).toBeCloseTo(1, 1)
    expect(Math.abs(re)).toBeLessThan(5)
    expect(Math.abs(held(1, 0.01)[1])).toBeLessThan(0.02)
  })
})

describe('a table of noise between its entries', () => {
  const table = (...amplitudeDensity: number[]) => ({
    frequency: Float64Array.of(1, 4, 16),
    amplitudeDensity: Float64Array.from(amplitudeDensity),
  })

  it('is straight in log-log, and straight in linear scale where an entry is 0', () => {
    // 1·(2/1)^(1/2·…): from 1 to 4 at twice the frequency 2; 0 + 3·(2 − 1)/3 = 1; 3 − 3·(8 − 4)/12 = 2; by hand
    expect(densityAt(table(1, 4, 16), 2)).toBeCloseTo(2, 12)
    expect(densityAt(table(0, 3, 0), 2)).toBeCloseTo(1, 12)
    expect(densityAt(table(0, 3, 0), 8)).toBeCloseTo(2, 12)
    expect([1, 4, 16].map((place) => densityAt(table(0, 3, 0), place))).toEqual([0, 3, 0])
  })
})

describe('a mode of a payload', () => {
  it('points where most of its energy is', () => {
    const corners = [-1, 1].flatMap((x) => [-0.7, 0.7].map((y): Point => [x, y, 0]))
    const lateral = { stiffness: 3e4, damping: 100 }
    const supports = corners.map((position, k) => ({
      position,
      mount: { stiffness: 1e5 * (1 + 0.2 * k), damping: 500, lateral },
    }))
    const { modes } = rigidPayload({ mass: 800, inertia: [90, 120, 160], centreOfMass: [0.2, -0.1, 0.4], supports })
    expect(modes).toHaveLength(6)
    for (const { shape, energy } of modes) expect(shape[energy.indexOf(Math.max(...energy))]).toBeGreaterThan(0)
  })
})

describe('refused with words that help', () => {
  const coils = Array.from({ length: 11 }, () => ({ mass: 1, naturalFrequency: 20, dampingRatio: 0.1, modes: 20 }))
  const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 5 })
  const chamber = (flowResistance: unknown) =>
    airSpring({ area: 0.01, volume: 1e-3, load: 3000, dampingChamber: { volume: 1e-3, flowResistance } as never })

  it.each<[string, () => unknown]>([
    [
      'out-of-range: mount.surge may have 200 modes in all, got 220',
      () => dynamicStiffness({ stiffness: 1, surge: coils }, [1]),
    ],
    [
      'invalid-option: profile.duration must be 0.2 s like its pieces together, got 0.3',
      () => sampleProfile({ ...profile, duration: 0.3 }, { sampleTime: 0.01 }),
    ],
    [
      "invalid-option: dampingChamber.flowResistance must be a number [Pa·s/m³] or 'optimal', got 'best'",
      () => chamber('best'),
    ],
  ])('%s', (says, call) => {
    const { code, message, details } = refusal(call)
    expect(`${code}: ${message.slice(details.function.length + 2)}`).toBe(says)
  })
})

it('a mount read off a table has nothing sideways where none was given', () => {
  expect(Object.keys(mountAtLoad({ load: 600, table: { load: [500, 1000], stiffness: [2e5, 3e5] } }))).not.toContain(
    'lateral',
  )
})
