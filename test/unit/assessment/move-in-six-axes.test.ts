import { describe, expect, it } from 'vitest'
import { type Move, moveAndSettle } from '../../../src/assessment/index.js'
import { motionProfile, type Point, sampleProfile, standardGravity } from '../../../src/elements/index.js'
import { passiveIsolation, sixAxisIsolation } from '../../../src/isolation/index.js'
import { simulate } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const mount = { stiffness: 1e5, damping: 1500, lateral: { stiffness: 5e4, damping: 900 } }
const corners = [-1, 1].flatMap((x) => [-1, 1].map((y): Point => [x, y, 0]))
const table = (height: number, points: Record<string, Point> = {}) =>
  sixAxisIsolation({
    payload: {
      mass: 1000,
      inertia: [90, 90, 160],
      centreOfMass: [0, 0, height],
      supports: corners.map((position) => ({ position, mount })),
    },
    points,
  })
const profile = motionProfile({ distance: 0.05, maxVelocity: 0.4, maxAcceleration: 4, maxJerk: 200 })
const along = (direction: Point, position: Point): Move => ({ profile, movingMass: 25, direction, position })
const settle = { band: 1e-7, sampleTime: 1e-3 }

describe('a stage that moves along x', () => {
  it('is the move of one axis where stage, mass and mounts lie in one plane', () => {
    const one = passiveIsolation({ payload: { mass: 1000 }, mount: mount.lateral, count: 4 })
    const expected = moveAndSettle(one, { move: { profile, movingMass: 25 }, ...settle })
    const six = moveAndSettle(table(0), { move: along([2, 0, 0], [0.3, 0, 0]), ...settle })
    expect([six.axis, expected.axis]).toEqual(['x', null])
    // Rounding of two ways to the same exponential.
    const rounding = 1e-9
    for (const key of ['settlingTime', 'peakDisplacement', 'peakStretch'] as const) {
      expect(Math.abs((six[key] ?? 0) / (expected[key] ?? 1) - 1)).toBeLessThan(rounding)
    }
    expect(Math.abs(six.restsAt)).toBeLessThan(1e-15)
  })

  it('leans the payload by its weight, which tilts a point beside the middle for good', () => {
    const model = table(0.5, { tool: [0.5, 0, 1] })
    const result = moveAndSettle(model, { move: along([1, 0, 0], [0, 0, 0]), point: 'tool', ...settle })
    // Balance of moments about the plane of the mounts, computed from the closed form θ = m·g·d/(4·k·1² − M·g·h) =
    // 12.25831/395096.7 rad = 3.10261e-5 rad; the tool, 1 m above that plane and 0.5 m beside, goes by θ and −θ/2.
    const theta = 3.10261e-5
    const rest = { x: theta, y: 0, z: -theta / 2 }[result.axis ?? 'y']
    expect(Math.abs(result.restsAt / rest - 1)).toBeLessThan(1e-5)
    expect(result.axis).not.toBe('y')
    expect(result.displacement[result.displacement.length - 1]).toBeCloseTo(result.restsAt, 7)
  })

  it('moves a point as a simulation of force and moment does', () => {
    const model = table(0.5, { tool: [0.4, -0.2, 0.8] })
    const direction: Point = [0.6, 0.8, 0]
    const position: Point = [0.1, -0.3, 0.2]
    const result = moveAndSettle(model, { move: along(direction, position), point: 'tool', ...settle })
    const { acceleration, position: way } = sampleProfile(profile, { sampleTime: 1e-3 })
    const count = 1000
    const at = (samples: Float64Array, k: number) => samples[Math.min(k, samples.length - 1)] ?? 0
    const force = Float64Array.from({ length: count }, (_, k) => -25 * at(acceleration, k))
    const weight = Float64Array.from({ length: count }, (_, k) => 25 * standardGravity * at(way, k))
    const times = (samples: Float64Array, factor: number) => samples.map((value) => factor * value)
    // r × d of the lever and the direction above, by hand: (−0.16, 0.12, 0.26).
    const inputs = {
      reactionForceX: times(force, 0.6),
      reactionForceY: times(force, 0.8),
      reactionForceRx: times(force, -0.16),
      reactionForceRy: times(force, 0.12),
      reactionForceRz: times(force, 0.26),
      payloadForceRx: times(weight, -0.8),
      payloadForceRy: times(weight, 0.6),
    }
    const { outputs } = simulate(model.closed, { inputs, sampleTime: 1e-3 })
    const velocity = outputs[`toolVelocity${(result.axis ?? 'x').toUpperCase()}`] as Float64Array
    let sum = 0
    const moved = velocity.map((value, k) => {
      if (k > 0) sum += (1e-3 * ((velocity[k - 1] ?? 0) + value)) / 2
      return sum
    })
    // The trapezoid rule over steps of 1 ms at modes of some 5 Hz, against exact steps: (ωh)²/12 is about 1e-4.
    const most = Math.max(...moved.map(Math.abs))
    moved.forEach((value, k) => {
      expect(Math.abs(value - (result.displacement[k] ?? 0))).toBeLessThan(2e-3 * most)
    })
  })

  it.each([
    [{ direction: undefined }, 'invalid-option', 'move.direction'],
    [{ direction: [0, 0, 0] }, 'out-of-range', 'move.direction'],
    [{ position: [1, 2] }, 'invalid-option', 'move.position'],
    [{ repeatEvery: 1 }, 'unsupported', 'move.repeatEvery'],
  ])('refuses %o', (change, code, path) => {
    const move = { ...along([1, 0, 0], [0, 0, 0]), ...change } as Move
    const error = refusal(() => moveAndSettle(table(0.5), { move, ...settle }))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a point that is not there', () => {
    const options = { move: along([1, 0, 0], [0, 0, 0]), point: 'lens', ...settle }
    expect(refusal(() => moveAndSettle(table(0.5), options)).details.path).toBe('point')
  })
})
