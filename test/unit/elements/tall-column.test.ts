import { describe, expect, it } from 'vitest'
import { airSpring, type Point, type RigidPayloadOptions, rigidPayload } from '../../../src/elements/index.js'

const corners = (x: number, y: number, z: number): Point[] =>
  [-x, x].flatMap((left) => [-y, y].map((front): Point => [left, front, z]))
const frequencies = (options: RigidPayloadOptions) =>
  rigidPayload(options).modes.map(({ frequency }) => frequency ?? -1)

describe('a tall column of 900 kg on air legs', () => {
  // physics.stackexchange 781848, "Weight distribution and support polygon" (equilibrium is not stability); E. I. Rivin,
  // Vibration isolation of precision equipment, Precision Engineering 1995 (rocking); numbers computed from K·b² and m·g·h.
  const load = (900 * 9.80665) / 4
  const leg = (area: number, more: object) => {
    const stiffness = 225 * (2 * Math.PI * 1.6) ** 2
    const volume = (1.4 * (101325 + load / area) * area ** 2) / stiffness
    // Stiff sideways: the column turns about an axis in the plane of the legs.
    return airSpring({ area, volume, load, lateral: { stiffness: 1e9 }, ...more })
  }
  const column = (narrow: number, valves: (position: Point) => object = () => ({}), more = {}) =>
    rigidPayload({
      mass: 900,
      inertia: [110, 110, 20],
      centreOfMass: [0, 0, 0.75],
      supports: corners(narrow, 0.6, 0).map((position) => ({ position, mount: leg(0.02, more), ...valves(position) })),
    })

  it('stands in vibration and tips at rest', () => {
    const { tipping } = column(0.3)
    expect(tipping.fast.aboutY).toBeCloseTo(8186, 0)
    expect(tipping.gravityStiffness).toBeCloseTo(6619, 0)
    expect(tipping.slow.aboutY).toBeCloseTo(5847, 0)
    expect(tipping.margin).toBeCloseTo(-772, 0)
    expect(tipping.verdict).toBe('tips')
    expect(tipping.slow.axis[1]).toBeCloseTo(1, 9)
  })

  it('has a lower height limit at rest than in vibration', () => {
    const { tipping } = column(0.3)
    expect(tipping.fastHeightLimit).toBeCloseTo(0.928, 3)
    expect(tipping.heightLimit).toBeCloseTo(0.663, 3)
  })

  it('rolls at a quarter of a hertz, far below what its springs alone would give', () => {
    const { modes } = column(0.3)
    expect(modes[0].name).toBe('rocking about y with x (lower)')
    expect(modes[0].frequency).toBeCloseTo(0.254, 3)
    const { mass, inertia, centreOfMass, supports } = column(0.3)
    const options = {
      mass,
      inertia,
      centreOfMass,
      supports: corners(0.3, 0.6, 0).map((position, i) => ({ position, mount: supports[i].mount })),
    }
    expect(frequencies({ ...options, gravity: 0 })[0]).toBeCloseTo(0.58, 3)
  })

  it('needs legs 0.451 m from the middle to stand twice over', () => {
    const { slow, gravityStiffness } = column(0.451).tipping
    expect(slow.aboutY / gravityStiffness).toBeCloseTo(2, 2)
  })

  it('has no stiffness between legs that share a valve', () => {
    const sides = column(0.3, ([x]) => ({ valveGroup: `${x}` })).tipping
    expect(sides.slow.aboutY).toBeCloseTo(5847, 0)
    expect(sides.slow.aboutX).toBeCloseTo(0, 6)
    expect(sides.verdict).toBe('tips')
    // One pair and two single legs: the pair counts as one leg at its middle, half of the stiffness is left. Computed.
    const front = column(0.3, ([, y]) => (y < 0 ? { valveGroup: 'front' } : {})).tipping
    expect(front.slow.aboutY).toBeCloseTo(5847.3176 / 2, 3)
    expect(front.fast.aboutY).toBeCloseTo(8186, 0)
  })

  it('has no stiffness at all against slow tilt on one valve for all legs', () => {
    const { slow, heightLimit, verdict } = column(0.3, () => ({ valveGroup: 'all' })).tipping
    expect([slow.weakest, heightLimit]).toEqual([expect.closeTo(0, 6), expect.closeTo(0, 9)])
    expect(verdict).toBe('tips')
  })

  it('leans as much at rest whether its gas takes up heat in vibration or does not', () => {
    const { slow, fast } = column(0.3, ([, y]) => (y < 0 ? { valveGroup: 'front' } : {}), {
      heatExchange: { time: 1 },
    }).tipping
    // the values of the gas without heat exchange at rest, and isothermal in vibration too as far as springs go. Computed.
    expect(slow.aboutY).toBeCloseTo(5847.3176 / 2, 3)
    expect(fast.aboutY).toBeCloseTo(5847.3176, 3)
  })
})
