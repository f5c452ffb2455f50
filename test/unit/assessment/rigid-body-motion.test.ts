import { describe, expect, it } from 'vitest'
import { type PlacedSensor, rigidBodyMotion } from '../../../src/assessment/index.js'
import { refusal } from '../refusal.js'

type Triple = readonly [number, number, number]

/** Eight sensors on the corners of a table, as they are bolted on: three vertical ones more than needed are not in a plane. */
const places: readonly (readonly [Triple, Triple])[] = [
  [
    [1, 0.5, 0],
    [0, 0, 1],
  ],
  [
    [-1, 0.5, 0],
    [0, 0, 1],
  ],
  [
    [-1, -0.5, 0.1],
    [0, 0, 2],
  ],
  [
    [1, -0.5, 0],
    [0, 0, -1],
  ],
  [
    [1, 0, 0.2],
    [0, 1, 0],
  ],
  [
    [-1, 0, 0.2],
    [0, 1, 0],
  ],
  [
    [0, 0.5, 0.1],
    [1, 0, 0],
  ],
  [
    [0, -0.5, -0.2],
    [1, 0, 0.1],
  ],
]

/** Reading d·(v + ω × r), worked out component by component. */
const reading = ([x, y, z]: Triple, d: Triple, v: Triple, w: Triple) => {
  const size = Math.hypot(...d)
  const moved = [v[0] + w[1] * z - w[2] * y, v[1] + w[2] * x - w[0] * z, v[2] + w[0] * y - w[1] * x]
  return moved.reduce((sum, value, k) => sum + (value * (d[k] as number)) / size, 0)
}

const v: Triple = [1, -2, 3]
const w: Triple = [0.4, 0.5, -0.6]
const sensors: PlacedSensor[] = places.map(([position, direction]) => ({
  position,
  direction,
  samples: [reading(position, direction, v, w), 2 * reading(position, direction, v, w), 0],
}))

describe('rigidBodyMotion', () => {
  it('gives back a motion in six axes from eight sensors in any direction', () => {
    const { motion, misfit, kind } = rigidBodyMotion({ sensors })
    expect(kind).toBe('RigidBodyMotion')
    const found = [motion.x, motion.y, motion.z, motion.rotationX, motion.rotationY, motion.rotationZ]
    for (const [k, expected] of [...v, ...w].entries()) {
      expect(found[k]?.[0]).toBeCloseTo(expected, 12)
      expect(found[k]?.[1]).toBeCloseTo(2 * expected, 12)
      expect(found[k]?.[2]).toBeCloseTo(0, 12)
    }
    for (const value of misfit) expect(value).toBeLessThan(1e-12)
  })

  it('says what a sensor that bends with the table reads beyond the rigid body', () => {
    const bent = sensors.map((sensor, i) =>
      i === 2 ? { ...sensor, samples: Array.from(sensor.samples, (value) => 1.5 * value) } : sensor,
    )
    const { misfit } = rigidBodyMotion({ sensors: bent })
    expect(Math.max(...misfit)).toBeGreaterThan(0.05)
    expect(rigidBodyMotion({ sensors: sensors.slice(0, 3), axes: ['z', 'rotationX', 'rotationY'] }).misfit).toEqual([
      0, 0, 0,
    ])
  })

  it('states how the noise of the sensors reaches each axis', () => {
    // Two vertical sensors 2b = 2 m apart: mean 1/√2, difference over 2b √2/2 (closed form)
    const at = (x: number) => ({ position: [x, 0, 0], direction: [0, 0, 1], samples: [0] }) as const
    const { noiseGain } = rigidBodyMotion({ sensors: [at(-1), at(1)], axes: ['z', 'rotationY'] })
    expect(noiseGain.z).toBeCloseTo(Math.SQRT1_2, 12)
    expect(noiseGain.rotationY).toBeCloseTo(Math.SQRT1_2, 12)
    expect(noiseGain.x).toBeUndefined()
  })

  it('does not mind the unit of length', () => {
    const near = sensors.map((sensor) => ({
      ...sensor,
      position: sensor.position.map((value) => value / 1000) as never,
    }))
    const { motion } = rigidBodyMotion({ sensors: near })
    expect(motion.rotationZ?.[0]).toBeCloseTo(-600, 6)
  })

  const change = (i: number, more: object) => sensors.map((sensor, k) => (k === i ? { ...sensor, ...more } : sensor))
  it.each([
    ['too few sensors', { sensors: sensors.slice(0, 5) }, 'dimension-mismatch', 'sensors'],
    [
      'sensors that are all vertical',
      { sensors: sensors.map((s) => ({ ...s, direction: [0, 0, 1] })) },
      'singular',
      'sensors',
    ],
    ['sensors in one place', { sensors: sensors.map((s) => ({ ...s, position: [0, 0, 0] })) }, 'singular', 'sensors'],
    ['no direction', { sensors: change(1, { direction: [0, 0, 0] }) }, 'out-of-range', 'sensors[1].direction'],
    ['two coordinates', { sensors: change(1, { position: [1, 2] }) }, 'dimension-mismatch', 'sensors[1].position'],
    ['a shorter record', { sensors: change(2, { samples: [1] }) }, 'dimension-mismatch', 'sensors[2].samples'],
    ['an unknown axis', { sensors, axes: ['roll'] }, 'invalid-option', 'axes.0'],
    ['the same axis twice', { sensors, axes: ['z', 'z'] }, 'invalid-option', 'axes'],
    ['no axis', { sensors, axes: [] }, 'invalid-option', 'axes'],
    ['no sensors', { sensors: [] }, 'invalid-option', 'sensors'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => rigidBodyMotion(options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
