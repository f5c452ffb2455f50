import fc from 'fast-check'
import { describe, it } from 'vitest'
import type { Point, SupportOptions } from '../../src/elements/index.js'
import { type SixAxisIsolationOptions, sixAxisIsolation } from '../../src/isolation/index.js'
import { frequencyResponse, stability } from '../../src/systems/index.js'
import { expectPassive, expectReciprocal, expectSameMobility } from './mobility.js'

// A body on springs, dashpots and relaxing branches in six axes, its weight left out: reciprocal and passive as any network of
// them. Harris' Shock and Vibration Handbook, 5th edition 2002, from memory.

const axes = ['X', 'Y', 'Z', 'Rx', 'Ry', 'Rz']
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const decades = (low: number, high: number) => between(low, high).map((power) => 10 ** power)
const leg = fc
  .record({ stiffness: decades(3, 6), loss: decades(-2, 0), branch: fc.option(decades(-1, 1)), time: decades(-3, 0) })
  .map(({ stiffness, loss, branch, time }) => ({
    stiffness,
    damping: (loss * stiffness) / 100,
    relaxations: branch === null ? [] : [{ stiffness: branch * stiffness, time }],
  }))
const coordinate = between(-1, 1)
const options: fc.Arbitrary<SixAxisIsolationOptions> = fc
  .record({
    mass: decades(1, 4),
    radii: fc.tuple(between(0.35, 0.48), between(0.35, 0.48), between(0.35, 0.48)),
    centreOfMass: fc.tuple(between(-0.2, 0.2), between(-0.2, 0.2), between(0, 0.5)),
    heights: fc.tuple(between(-0.1, 0.1), between(-0.1, 0.1), between(-0.1, 0.1)),
    legs: fc.tuple(leg, leg, leg),
    sides: fc.tuple(leg, leg, leg),
  })
  .map(({ mass, radii, centreOfMass, heights, legs, sides }) => ({
    payload: {
      mass,
      gravity: 0,
      inertia: radii.map((radius) => mass * radius ** 2) as unknown as Point,
      centreOfMass,
      supports: [
        [-0.8, -0.7],
        [0.9, -0.8],
        [0, 0.9],
      ].map(([x, y], i) => ({
        position: [x, y, heights[i]] as const,
        mount: { ...legs[i], lateral: sides[i] },
      })),
    },
  }))

/** Six by six, from force and moment to velocity and rate of turn about the reference. */
function mobility(given: SixAxisIsolationOptions, frequency: number) {
  const ports = (kind: string) => axes.map((axis) => kind + axis)
  const { re, im } = frequencyResponse(sixAxisIsolation(given).closed, [frequency], {
    inputs: ports('payloadForce'),
    outputs: ports('payloadVelocity'),
  })
  return axes.map((_, o) => axes.map((_, i) => ({ re: re[6 * o + i], im: im[6 * o + i] })))
}

// Six modes over three decades of stiffness: responses are right to some 1e-12 of their row, rows differ by the lever arms.
const accuracy = 1e-9

describe('a rigid payload on passive mounts in six axes', () => {
  it('is stable without its weight', () => {
    fc.assert(
      fc.property(options, (given) => stability(sixAxisIsolation(given).closed).verdict === 'stable'),
      { numRuns: 40 },
    )
  })

  it('is reciprocal, motions and turns alike', () => {
    fc.assert(
      fc.property(options, decades(-1, 2.5), (given, frequency) => {
        expectReciprocal(mobility(given, frequency), accuracy)
      }),
    )
  })

  it('is passive: forces and moments that act at once do no negative work on average', () => {
    const force = fc.tuple(coordinate, coordinate)
    fc.assert(
      fc.property(options, decades(-1, 2.5), fc.array(force, { minLength: 6, maxLength: 6 }), (given, frequency, F) => {
        expectPassive(mobility(given, frequency), F, accuracy)
      }),
    )
  })

  it('does not depend on the unit of length: levers times λ, inertia times λ²', () => {
    fc.assert(
      fc.property(options, decades(-1, 2.5), decades(-2, 2), (given, frequency, unit) => {
        const { payload } = given
        const longer = ([x, y, z]: Point): Point => [unit * x, unit * y, unit * z]
        const other = mobility(
          {
            payload: {
              ...payload,
              inertia: (payload.inertia as Point).map((value) => unit ** 2 * value) as unknown as Point,
              centreOfMass: longer(payload.centreOfMass),
              supports: (payload.supports as readonly SupportOptions[]).map((support) => ({
                ...support,
                position: longer(support.position),
              })),
            },
          },
          frequency,
        )
        // A turn per moment goes with 1/λ², a motion per moment with 1/λ.
        const power = (i: number, j: number) => unit ** ((i > 2 ? 1 : 0) + (j > 2 ? 1 : 0))
        const back = other.map((row, i) => row.map(({ re, im }, j) => ({ re: power(i, j) * re, im: power(i, j) * im })))
        expectSameMobility(mobility(given, frequency), back, accuracy)
      }),
    )
  })
})
