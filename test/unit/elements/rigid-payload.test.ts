import { describe, expect, it } from 'vitest'
import {
  airSpring,
  type Point,
  type RigidPayloadOptions,
  relaxationMount,
  rigidPayload,
  springMount,
} from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

/** Printed to eight decimals of a hertz or nine digits. */
const printed = 1e-8

const kz = 88826.4396
const corners = (x: number, y: number, z: number): Point[] =>
  [-x, x].flatMap((left) => [-y, y].map((front): Point => [left, front, z]))
const mount = { stiffness: kz, lateral: { stiffness: kz / 2 } }
const box: RigidPayloadOptions = {
  mass: 1000,
  inertia: [(1000 * 1.64) / 12, (1000 * 2.89) / 12, (1000 * 3.25) / 12],
  centreOfMass: [0, 0, 0],
  supports: corners(0.6, 0.4, -0.5).map((position) => ({ position, mount })),
}
const frequencies = (options: RigidPayloadOptions) =>
  rigidPayload(options).modes.map(({ frequency }) => frequency ?? -1)

/** Largest deviation of one list from another, relative. */
function deviation(values: readonly number[], expected: readonly number[]): number {
  expect(values).toHaveLength(expected.length)
  return Math.max(...values.map((value, i) => Math.abs(value / expected[i] - 1)))
}

describe('a box of 1000 kg on four mounts under its corners', () => {
  // Computed: 6 × 6 eigenproblem of the box 1.5 × 1.0 × 0.8 m, mounts at (±0.6, ±0.4, −0.5) m; the closed form for two planes
  // of symmetry in Harris' Shock and Vibration Handbook, chapter 3, gives the same to 1e-9.
  it('has six modes without gravity', () => {
    const expected = [1.50219215, 1.7609174, 2.93938769, 3.0, 4.41856734, 4.58385334]
    expect(deviation(frequencies({ ...box, gravity: 0 }), expected)).toBeLessThan(printed)
  })

  it('rocks more slowly with gravity', () => {
    const expected = [1.46391951, 1.74802654, 2.93938769, 3.0, 4.36500289, 4.49626871]
    expect(deviation(frequencies(box), expected)).toBeLessThan(printed)
  })

  it('names its modes by what moves', () => {
    expect(rigidPayload(box).modes.map(({ name }) => name)).toEqual([
      'rocking about x with y (lower)',
      'rocking about y with x (lower)',
      'yaw',
      'vertical',
      'rocking about y with x (upper)',
      'rocking about x with y (upper)',
    ])
  })

  it('has modes of one motion each with its centre of mass in the plane of the mounts', () => {
    const supports = corners(0.6, 0.4, 0).map((position, i) => ({ position, mount, valveGroup: i < 2 ? 'a' : 'b' }))
    const names = (options: RigidPayloadOptions) => rigidPayload(options).modes.map(({ name }) => name)
    expect(names({ ...box, supports }).sort()).toEqual([
      'along x',
      'along y',
      'rocking about x',
      'rocking about y',
      'vertical',
      'yaw',
    ])
    // Mounts that lean by 45° about y: what moves along x is pushed up as well.
    const leaning = [
      [Math.SQRT1_2, 0, Math.SQRT1_2],
      [0, 1, 0],
      [-Math.SQRT1_2, 0, Math.SQRT1_2],
    ]
    const coupled = names({ ...box, supports: supports.map((support) => ({ ...support, orientation: leaning })) })
    expect(coupled).toContain('along x and vertical (lower)')
  })

  it('has the stiffness matrix about its centre of mass', () => {
    // Computed: Σ Bᵀ K B with B = [I, −r×]
    const { stiffness: K } = rigidPayload({ ...box, gravity: 0 })
    const diagonal = [177652.879, 177652.879, 355305.758, 101262.141, 172323.293, 92379.497]
    K.forEach((row, i) => {
      expect(row[i]).toBeCloseTo(diagonal[i], 3)
    })
    expect(K[0][4]).toBeCloseTo(-88826.44, 2)
    expect(K[1][3]).toBeCloseTo(88826.44, 2)
    expect(K.flat().filter((entry) => Math.abs(entry) > 1e-6)).toHaveLength(10)
  })

  it('tips only with its centre of mass far up', () => {
    // Computed: ω_z² a²/g, here about x with a = 0.4 m; 13.043 m for a = 0.6 m
    const { tipping } = rigidPayload(box)
    expect(tipping.verdict).toBe('stands')
    expect(tipping.height).toBeCloseTo(0.5, 12)
    expect(tipping.heightLimit).toBeCloseTo(5.79698, 5)
    expect(tipping.slow.axis.map(Math.abs)).toEqual([1, 0])
    expect(tipping.slow.aboutY / (1000 * 9.80665)).toBeCloseTo(13.043, 3)
  })

  it('sinks evenly', () => {
    // m·g/(4 kz) = 9806.65/355305.7584, computed
    const { deflection, tilt, supports } = rigidPayload(box)
    expect(deflection).toBeCloseTo(0.02760059, 8)
    expect(tilt.map(Math.abs)).toEqual([0, 0])
    expect(supports.map(({ load }) => load)).toEqual([2451.6625, 2451.6625, 2451.6625, 2451.6625])
  })
})

describe('a payload with its centre of mass off the middle', () => {
  it('sinks and tilts towards it', () => {
    // θ_y = m g x/(4 kz 0.36 m²), θ_x = −m g y/(4 kz 0.16 m²) for x = 0.12 m, y = 0.04 m; the corner beneath sinks most.
    const { tilt, supports, deflection } = rigidPayload({ ...box, centreOfMass: [0.12, 0.04, 0] })
    expect(tilt[1]).toBeCloseTo(9.200198e-3, 9)
    expect(tilt[0]).toBeCloseTo(-6.9001485e-3, 9)
    // w + θ_y x − θ_x y about the middle, w = 27.600594 mm, at (0.6, 0.4): computed from the closed form
    expect(supports[3].deflection).toBeCloseTo(0.035880772, 8)
    expect(deflection).toBeCloseTo(0.028980624, 8)
  })
})

describe('the height at which four mounts let a payload tip', () => {
  // Computed: h = ω_z² a²/g; the sign of an eigenvalue of the 6 × 6 stiffness changes there
  it.each([
    [1.5, 0.4, 1.449244],
    [1.0, 0.3, 0.362311],
  ])('with vertical %d Hz and half spacing %d m is %d m', (vertical, a, limit) => {
    const stiffness = 250 * (2 * Math.PI * vertical) ** 2
    const supports = corners(a, 1, 0).map((position) => ({
      position,
      mount: { stiffness, lateral: { stiffness: stiffness * 3 } },
    }))
    const at = (height: number) => rigidPayload({ ...box, centreOfMass: [0, 0, height], supports })
    expect(at(limit).tipping.heightLimit).toBeCloseTo(limit, 6)
    expect(at(limit - 1e-5)).toMatchObject({ tipping: { verdict: 'stands' } })
    expect(at(limit - 1e-5).modes[0].frequency).not.toBeNull()
    expect(at(limit + 1e-5)).toMatchObject({
      tipping: { verdict: 'tips' },
      modes: [{ frequency: null }, {}, {}, {}, {}, {}],
    })
  })
})

describe('a payload on inclined mounts', () => {
  it('is as stiff along x as its mounts are along their axis once they lie down', () => {
    const lying = [
      [0, 0, 1],
      [0, 1, 0],
      [-1, 0, 0],
    ]
    const supports = box.supports.map((support) => ({ ...support, orientation: lying }))
    const { stiffness } = rigidPayload({ ...box, supports })
    expect(stiffness[0][0]).toBeCloseTo(4 * kz, 6)
    expect(stiffness[2][2]).toBeCloseTo(2 * kz, 6)
  })

  it('takes different mounts along the two sides', () => {
    const supports = box.supports.map(({ position }) => ({
      position,
      mount: { stiffness: kz },
      lateral: [{ stiffness: 1e4 }, { stiffness: 2e4 }] as const,
    }))
    const { stiffness } = rigidPayload({ ...box, supports })
    expect([stiffness[0][0], stiffness[1][1]]).toEqual([4e4, 8e4])
  })
})

describe('the damping ratio of a mode', () => {
  it('is that of the mount where only the mount acts', () => {
    const damped = springMount({ mass: 250, naturalFrequency: 3, dampingRatio: 0.1 })
    const supports = corners(0.6, 0.4, -0.5).map((position) => ({
      position,
      mount: { ...damped, lateral: { stiffness: 1e5 } },
    }))
    const modes = rigidPayload({ ...box, supports }).modes
    expect(modes.find(({ name }) => name === 'vertical')?.dampingRatio).toBeCloseTo(0.1, 12)
    expect(modes.find(({ name }) => name === 'yaw')?.dampingRatio).toBe(0)
  })

  it('is that of the pole where the mount relaxes', () => {
    // Poles of the elastically supported damper with stiffness ratio 3, optimal damping, 1.0811357 Hz: −5.092434 ± 9.346100j,
    // damping ratio 0.478458. Computed as roots of the cubic; T. Erin, B. Wilson, J. Zapfe, J. Sound Vib. 218, 1998 (model).
    const relaxing = relaxationMount({ stiffness: 13843.3575, stiffnessRatio: 3, damping: 'optimal', mass: 300 })
    const supports = corners(1, 1, 0).map((position) => ({
      position,
      mount: { ...relaxing, lateral: { stiffness: 1e5 } },
    }))
    const { modes } = rigidPayload({ mass: 1200, inertia: [600, 600, 900], centreOfMass: [0, 0, 0], supports })
    const vertical = modes.find(({ name }) => name === 'vertical')
    expect(vertical?.frequency).toBeCloseTo(1.0811357, 6)
    expect(vertical?.dampingRatio).toBeCloseTo(0.478458, 6)
  })

  it('is above 1 where the payload creeps back', () => {
    const damped = springMount({ mass: 250, naturalFrequency: 3, dampingRatio: 1.5 })
    const supports = corners(0.6, 0.4, -0.5).map((position) => ({
      position,
      mount: { ...damped, lateral: { stiffness: 1e5 } },
    }))
    const vertical = rigidPayload({ ...box, supports }).modes.find(({ name }) => name === 'vertical')
    expect(vertical?.dampingRatio).toBeCloseTo(1.5, 12)
  })
})

describe('a rigid payload is refused', () => {
  const at = (centreOfMass: Point) => () => rigidPayload({ ...box, centreOfMass })
  const air = (load: number) => airSpring({ area: 0.01, volume: 1e-3, load, lateral: { stiffness: 1e5 } })
  it.each([
    ['without support', () => rigidPayload({ ...box, supports: [] }), 'invalid-option', 'supports'],
    ['with its centre of mass outside the supports', at([0.7, 0, 0]), 'out-of-range', 'centreOfMass'],
    [
      'with a support that would pull',
      () =>
        rigidPayload({
          ...box,
          // Two stiff rows, and a soft one that the tilt would lift.
          centreOfMass: [0.9, 0, 0],
          supports: [-3, 0, 1].flatMap((x) =>
            [-1, 1].map((y) => ({ position: [x, y, 0] as const, mount: { ...mount, stiffness: x < 0 ? 1e3 : 1e5 } })),
          ),
        }),
      'out-of-range',
      'supports[0]',
    ],
    [
      'with one support',
      () => rigidPayload({ ...box, supports: [{ position: [0, 0, 0], mount }] }),
      'out-of-range',
      'supports',
    ],
    [
      'without a stiffness sideways',
      () => rigidPayload({ ...box, supports: [{ position: [0, 0, 0], mount: { stiffness: 1 } }] }),
      'invalid-option',
      'supports[0].lateral',
    ],
    [
      'with an air spring set for another load',
      () => rigidPayload({ ...box, supports: corners(1, 1, 0).map((position) => ({ position, mount: air(2500) })) }),
      'invalid-option',
      'supports[0].mount',
    ],
    [
      'with air springs that lie rather than stand',
      () =>
        rigidPayload({
          ...box,
          // turned by 70° about x
          supports: corners(1, 1, 0).map((position) => ({
            position,
            mount: air(2500),
            orientation: [
              [1, 0, 0],
              [0, 0.3420201433256688, -0.9396926207859083],
              [0, 0.9396926207859083, 0.3420201433256688],
            ],
          })),
        }),
      'unsupported',
      'supports[0].mount',
    ],
    [
      'with stiffnesses beyond the range of numbers',
      () => rigidPayload({ ...box, supports: corners(1e200, 1e200, 0).map((position) => ({ position, mount })) }),
      'no-convergence',
      '',
    ],
    [
      'with a valve between an air spring and another spring',
      () =>
        rigidPayload({
          ...box,
          supports: corners(1, 1, 0).map((position, i) => ({
            position,
            mount: i === 0 ? air(2451.66) : mount,
            valveGroup: 'a',
          })),
        }),
      'invalid-option',
      'supports[0].valveGroup',
    ],
    ['with an inertia no body has', () => rigidPayload({ ...box, inertia: [1, 1, 3] }), 'out-of-range', 'inertia'],
    [
      'with an inertia that is not symmetric',
      () =>
        rigidPayload({
          ...box,
          inertia: [
            [1, 0.1, 0],
            [0, 1, 0],
            [0, 0, 1],
          ],
        }),
      'out-of-range',
      'inertia',
    ],
    [
      'with an orientation that is no rotation',
      () =>
        rigidPayload({
          ...box,
          supports: [
            {
              position: [0, 0, 0],
              mount,
              orientation: [
                [1, 0, 0],
                [0, 1, 0],
                [0, 0, -1],
              ],
            },
          ],
        }),
      'out-of-range',
      'supports[0].orientation',
    ],
    ['without mass', () => rigidPayload({ ...box, mass: 0 }), 'out-of-range', 'mass'],
    ['with a place that is none', at([0, Number.NaN, 0]), 'not-finite', 'centreOfMass[1]'],
    ['with an unknown option', () => rigidPayload({ ...box, weight: 1 } as never), 'invalid-option', 'weight'],
  ] as const)('%s', (_, call, code, path) => {
    const error = refusal(call)
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('a record of a rigid payload', () => {
  it('gives itself when worked out again', () => {
    const record = rigidPayload(box)
    expect(rigidPayload(record)).toEqual(record)
  })
})
