import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Point, type RigidPayloadOptions, rigidPayload, supportLoads } from '../../src/elements/index.js'

/** Relative: six eigenvalues of a matrix whose entries span four decades, worked out in doubles. */
const rounding = 1e-9

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const stiffness = between(1e3, 1e6)
const payloads: fc.Arbitrary<RigidPayloadOptions> = fc
  .record({
    mass: between(10, 5000),
    radii: fc.tuple(between(0.35, 0.48), between(0.35, 0.48), between(0.35, 0.48)),
    centre: fc.tuple(between(-0.2, 0.2), between(-0.2, 0.2), between(0, 0.4)),
    feet: fc.tuple(stiffness, stiffness, stiffness),
    side: stiffness,
  })
  .map(({ mass, radii, centre, feet, side }) => ({
    mass,
    inertia: radii.map((radius) => mass * radius ** 2) as unknown as Point,
    centreOfMass: centre,
    supports: [
      [-0.8, -0.7, 0.02],
      [0.9, -0.8, -0.03],
      [0, 0.9, 0.05],
    ].map((position, i) => ({
      position: position as unknown as Point,
      mount: { stiffness: feet[i] },
      lateral: [{ stiffness: side }, { stiffness: 1.5 * side }] as const,
    })),
  }))

const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0)

describe('a rigid payload', () => {
  it('has the same modes and tipping limit wherever its frame stands and however it is turned about the vertical', () => {
    fc.assert(
      fc.property(
        payloads,
        fc.tuple(between(-3, 3), between(-3, 3), between(-3, 3)),
        between(-3, 3),
        (options, shift, turn) => {
          const [c, s] = [Math.cos(turn), Math.sin(turn)]
          const place = ([x, y, z]: Point): Point => [c * x - s * y + shift[0], s * x + c * y + shift[1], z + shift[2]]
          const rotation = [
            [c, -s, 0],
            [s, c, 0],
            [0, 0, 1],
          ]
          const [a, b, d] = options.inertia as Point
          const moved = rigidPayload({
            ...options,
            inertia: [
              [c * c * a + s * s * b, c * s * (a - b), 0],
              [c * s * (a - b), s * s * a + c * c * b, 0],
              [0, 0, d],
            ],
            centreOfMass: place(options.centreOfMass),
            supports: options.supports.map((support) => ({
              ...support,
              position: place(support.position),
              orientation: rotation,
            })),
          })
          const still = rigidPayload(options)
          const largest = (still.modes[5].frequency ?? 0) ** 2
          still.modes.forEach(({ frequency }, k) => {
            const square = (f: number | null) => (f ?? 0) ** 2
            expect(Math.abs(square(moved.modes[k].frequency) - square(frequency))).toBeLessThan(rounding * largest)
          })
          expect(moved.tipping.slow.weakest / still.tipping.slow.weakest).toBeCloseTo(1, 7)
          expect(moved.tipping.height).toBeCloseTo(still.tipping.height, 9)
        },
      ),
    )
  })

  it('is balanced by the loads of its supports', () => {
    fc.assert(
      fc.property(payloads, (options) => {
        const { supports } = rigidPayload(options)
        const weight = options.mass * 9.80665
        expect(sum(supports.map(({ load }) => load)) / weight).toBeCloseTo(1, 9)
        for (const axis of [0, 1]) {
          const moment = sum(supports.map(({ load, position }) => load * (position[axis] - options.centreOfMass[axis])))
          expect(Math.abs(moment) / weight).toBeLessThan(rounding)
        }
        const alone = supportLoads({
          mass: options.mass,
          centreOfMass: options.centreOfMass,
          supports: options.supports.map(({ position }) => ({ position })),
        })
        supports.forEach(({ load }, i) => {
          expect(load / alone[i]).toBeCloseTo(1, 9)
        })
      }),
    )
  })

  it('shares the kinetic energy of each mode among its motions', () => {
    fc.assert(
      fc.property(payloads, (options) => {
        for (const { energy } of rigidPayload(options).modes) expect(sum(energy)).toBeCloseTo(1, 9)
      }),
    )
  })
})
