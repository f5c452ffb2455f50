import { describe, expect, it } from 'vitest'
import { motionProfile, residualAmplitude, sampleProfile } from '../../../src/elements/index.js'
import { simulate, stateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const move = (distance: number, maxVelocity: number, maxAcceleration: number, maxJerk: number) =>
  motionProfile({ distance, maxVelocity, maxAcceleration, maxJerk })
const first = move(0.3, 1, 10, 500)

describe('motionProfile', () => {
  // P. Lambrechts, M. Boerlage, M. Steinbuch, Control Engineering Practice 13 (2005) 145 (algorithm); numbers computed.
  it.each([
    [0.3, 1, 10, 500, 0.02, 0.08, 0.18, 10, 1, 0.42],
    [0.3, 1, 10, 1000, 0.01, 0.09, 0.19, 10, 1, 0.41],
    [0.1, 2, 10, 500, 0.02, 0.0704987562, 0, 10, 0.904987562, 0.2209975124],
    [0.01, 1, 10, 500, 0.02, 0.0031662479, 0, 10, 0.231662479, 0.0863324958],
    [0.001, 1, 10, 500, 0.01, 0, 0, 5, 0.05, 0.04],
    [0.3, 0.1, 10, 500, 0.0141421356, 0, 2.9717157288, 7.0710678119, 0.1, 3.0282842712],
  ])('over %f m within %f m/s, %f m/s², %f m/s³', (h, v, a, j, tj, ta, tv, A, V, total) => {
    const profile = move(h, v, a, j)
    expect(profile.jerkTime).toBeCloseTo(tj, 10)
    expect(profile.accelerationTime).toBeCloseTo(ta, 10)
    expect(profile.velocityTime).toBeCloseTo(tv, 10)
    expect(profile.peakAcceleration).toBeCloseTo(A, 9)
    expect(profile.peakVelocity).toBeCloseTo(V, 9)
    expect(profile.duration).toBeCloseTo(total, 10)
  })

  it('steps its acceleration where jerk has no bound', () => {
    // Computed from the closed form 2√(h/a): 50 mm at 4 m/s² take 0.2236068 s.
    const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
    expect(profile.duration).toBeCloseTo(0.2236068, 7)
    expect(profile).toMatchObject({ jerkTime: 0, velocityTime: 0, peakAcceleration: 4 })
    const { acceleration, position } = sampleProfile(profile, { sampleTime: 0.01 })
    expect([acceleration[0], acceleration[11], acceleration[12], acceleration[23]]).toEqual([4, 4, -4, 0])
    expect(position[10]).toBeCloseTo(0.02, 14)
  })

  it.each([
    [{ distance: 0, maxVelocity: 1, maxAcceleration: 1 }, 'distance'],
    [{ distance: 1, maxVelocity: 0, maxAcceleration: 1 }, 'maxVelocity'],
    [{ distance: 1, maxVelocity: 1, maxAcceleration: -1 }, 'maxAcceleration'],
    [{ distance: 1, maxVelocity: 1, maxAcceleration: 1, maxJerk: Infinity }, 'maxJerk'],
    [{ distance: 1, maxVelocity: 1, maxAcceleration: 1, maxSnap: 1 }, 'maxSnap'],
    [{ distance: 1e300, maxVelocity: 1e-300, maxAcceleration: 1 }, ''],
  ])('refuses %o at "%s"', (options, path) => {
    expect(refusal(() => motionProfile(options)).details.path).toBe(path)
  })
})

describe('sampleProfile', () => {
  it('is exact at its samples', () => {
    // Computed from the closed forms of the pieces: j·t³/6 at 0.01 s; V/2·(T₂ + T₃) = 0.06 m at 0.12 s; half way at 0.21 s.
    const { time, position, velocity, acceleration, jerk } = sampleProfile(first, { sampleTime: 0.01 })
    expect(time).toHaveLength(43)
    expect(position[1]).toBeCloseTo(8.33333333333e-5, 15)
    expect([position[12], position[21], position[42]].map((x) => x?.toFixed(12))).toEqual([
      '0.060000000000',
      '0.150000000000',
      '0.300000000000',
    ])
    expect(velocity[12]).toBeCloseTo(1, 13)
    expect(acceleration[2]).toBeCloseTo(10, 13)
    expect([velocity[42], acceleration[42], jerk[42]]).toEqual([0, 0, 0])
    expect([jerk[0], jerk[2], jerk[10], jerk[12], jerk[40]].map((x) => Math.round(x as number))).toEqual([
      500, 0, -500, 0, 500,
    ])
  })

  it('goes back by the same way', () => {
    const there = sampleProfile(first, { sampleTime: 0.007 })
    const back = sampleProfile(move(-0.3, 1, 10, 500), { sampleTime: 0.007 })
    expect(Array.from(back.position)).toEqual(Array.from(there.position, (x) => (x === 0 ? x : -x)))
  })

  it('refuses a move that is none and a sample time that is too short', () => {
    expect(refusal(() => sampleProfile({ ...first, jerkTime: -1 }, { sampleTime: 0.1 })).details.path).toBe(
      'profile.jerkTime',
    )
    expect(refusal(() => sampleProfile({} as never, { sampleTime: 0.1 })).details.path).toBe('profile.kind')
    expect(refusal(() => sampleProfile(first, { sampleTime: 1e-9 })).details.path).toBe('sampleTime')
  })
})

describe('residualAmplitude', () => {
  const swinging = (naturalFrequency: number) =>
    residualAmplitude(first, { naturalFrequency, movingMass: 1, totalMass: 1 })

  it('has the tabulated values and its zeros', () => {
    // Computed from the closed form with three sincs, confirmed by exact simulation; mm.
    const expected = [287.784906, 253.136325, 201.623566, 141.228275, 27.978402, 39.865089]
    const found = [0.5, 1, 1.5, 2, 3, 5].map((frequency) => 1e3 * swinging(frequency))
    expected.forEach((value, k) => {
      expect(found[k]).toBeCloseTo(value, 6)
    })
    expect(swinging(10 / 3)).toBeLessThan(1e-16)
    expect(swinging(10)).toBeLessThan(1e-16)
    expect(swinging(0)).toBeCloseTo(0.3, 15)
    const small = { naturalFrequency: 1.5, movingMass: 20, totalMass: 1000 }
    expect(1e3 * residualAmplitude(first, small)).toBeCloseTo(4.032471, 6)
  })

  it.each([0.5, 1.5, 3, 10 / 3, 5, 10])('is what an exact simulation leaves at %f Hz', (frequency) => {
    // Acceleration is linear between multiples of 0.02 s and 0.01 s, so a first-order hold loses nothing.
    const omega = 2 * Math.PI * frequency
    const payload = stateSpace({
      A: [
        [0, omega],
        [-omega, 0],
      ],
      B: [[0], [-1 / omega]],
      C: [
        [1, 0],
        [0, 1],
      ],
    })
    const { acceleration } = sampleProfile(first, { sampleTime: 0.01 })
    const { finalState } = simulate(payload, { inputs: { u1: acceleration }, sampleTime: 0.01 })
    // 42 steps of rounding on up to 0.3 m.
    expect(Math.abs(Math.hypot(...finalState) - swinging(frequency))).toBeLessThan(1e-14)
  })

  it('refuses a stage heavier than the whole', () => {
    const heavy = { naturalFrequency: 1, movingMass: 2, totalMass: 1 }
    expect(refusal(() => residualAmplitude(first, heavy)).details.path).toBe('totalMass')
  })
})
