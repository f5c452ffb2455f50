import { describe, expect, it } from 'vitest'
import { airSpring, type Point, type RigidPayloadOptions, rigidPayload } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  controlElements,
  type IsolationModel,
  isolation,
  loopMargins,
  passiveIsolation,
  pneumaticIsolation,
  type SixAxisIsolationOptions,
  type SixAxisLoop,
  sixAxisIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { channel, dcGain, frequencyResponse, poles, simulate, stability } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const axes = ['X', 'Y', 'Z', 'Rx', 'Ry', 'Rz'] as const
const frequencies = [0.3, 1.1, 2.7, 9, 40]
const corners = (x: number, y: number, z: number): Point[] =>
  [-x, x].flatMap((left) => [-y, y].map((front): Point => [left, front, z]))
const mount = {
  stiffness: 9e4,
  damping: 300,
  relaxations: [{ stiffness: 3e4, time: 0.05 }],
  lateral: { stiffness: 4e4, damping: 200, relaxations: [{ stiffness: 6e4, time: 0.02 }] },
}
const on = (z: number, under: object = mount): RigidPayloadOptions => ({
  mass: 1000,
  inertia: [140, 240, 270],
  centreOfMass: [0, 0, 0],
  supports: corners(0.6, 0.4, z).map((position) => ({ position, mount: under as typeof mount })),
})

/** Moduli of a response of the closed system. */
function response(model: IsolationModel, input: string, output: string, grid: readonly number[] = frequencies) {
  return channel(frequencyResponse(model.closed, grid, { inputs: [input], outputs: [output] }), { input, output })
}

/** Largest distance of two complex series. */
function distance(a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }): number {
  return Math.max(...Array.from(a.re, (re, k) => Math.hypot(re - b.re[k], a.im[k] - b.im[k])))
}

/** A few roundings of numbers of the order of 1 to 10. */
const rounding = 1e-12

describe('six axes', () => {
  it('are one axis along z', () => {
    const one = transmissibility(passiveIsolation({ payload: { mass: 1000 }, mount, count: 4 }), frequencies)
    const six = response(sixAxisIsolation({ payload: on(-0.5) }), 'floorVelocityZ', 'payloadVelocityZ')
    expect(distance(six, one)).toBeLessThan(rounding)
  })

  it.each(['X', 'Y'])(
    'are one axis along %s with the centre of mass in the plane of the mounts and gravity off',
    (axis) => {
      const one = passiveIsolation({ payload: { mass: 1000 }, mount: mount.lateral, count: 4 })
      const six = sixAxisIsolation({ payload: { ...on(0), gravity: 0 } })
      const along = response(six, `floorVelocity${axis}`, `payloadVelocity${axis}`)
      expect(distance(along, transmissibility(one, frequencies))).toBeLessThan(rounding)
      for (const other of axes.filter((name) => name !== axis)) {
        const across = response(six, `floorVelocity${axis}`, `payloadVelocity${other}`)
        expect(Math.max(...across.re.map(Math.abs), ...across.im.map(Math.abs))).toBeLessThan(rounding)
      }
    },
  )

  it('are one axis along z with levelled air springs', () => {
    const spring = airSpring({
      area: 0.0125,
      volume: 0.002,
      load: 2451.6625,
      diaphragmDamping: 64,
      dampingChamber: { volume: 0.004, flowResistance: 'optimal' },
      lateral: { stiffness: 4e4, damping: 200 },
    })
    const levelling = { flowGain: 0.004, delay: 0.02 }
    const one = pneumaticIsolation({ payload: { mass: 1000 }, mount: spring, count: 4, levelling })
    const payload = on(-0.1, spring)
    // One valve for two springs and one each for the others.
    const supports = payload.supports.map((support, i) => (i < 2 ? { ...support, valveGroup: 'left' } : support))
    const six = sixAxisIsolation({ payload: { ...payload, supports }, levelling })
    for (const [from, to] of [
      ['floorVelocity', 'payloadVelocity'],
      ['payloadForce', 'stretch'],
      ['floorVelocity', 'stretch'],
    ]) {
      const expected = response(one, from, to)
      expect(distance(response(six, `${from}Z`, `${to}Z`), expected)).toBeLessThan(rounding)
    }
    expect(loopMargins(six).map(({ name }) => name)).toEqual(['levelling1', 'levelling2', 'levelling3'])
  })

  it('are one axis along z with active damping', () => {
    const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
    const actuator = { bandwidth: 60 }
    const one = activelyDampedIsolation({
      payload: { mass: 1000 },
      mount,
      count: 4,
      damping: { gain: 8000, sensor, actuator, delay: 0.001 },
    })
    const at = (list: readonly Point[]) => list.map((position) => ({ position, direction: [0, 0, 1] as const }))
    const six = sixAxisIsolation({
      payload: on(-0.5),
      damping: {
        sensors: at(corners(0.5, 0.3, 0.2)).map((place) => ({ ...place, sensor })),
        actuators: at(corners(0.6, 0.4, -0.5)).map((place) => ({ ...place, actuator })),
        loops: [{ axis: 'Z', gain: 8000 }],
        delay: 0.001,
      },
    })
    const expected = transmissibility(one, frequencies)
    expect(distance(response(six, 'floorVelocityZ', 'payloadVelocityZ'), expected)).toBeLessThan(rounding)
    const [single] = loopMargins(one)
    const [own] = loopMargins(six)
    expect(own.name).toBe('damping, Z')
    expect(own.margins.gainMargin).toBeCloseTo(single.margins.gainMargin as number, 9)
    expect(own.margins.modulusMargin).toBeCloseTo(single.margins.modulusMargin, 9)
  })

  it('have the poles of the payload alone whatever the reference, and none at zero', () => {
    const poleList = (options: Partial<SixAxisIsolationOptions>) =>
      poles(sixAxisIsolation({ payload: on(-0.5), ...options }).closed)
        .map(({ re, im }) => [re, im] as const)
        .sort((a, b) => a[1] - b[1] || a[0] - b[0])
    const usual = poleList({})
    // Six velocities, six stretches, and of each kind of branch three: z and two tilts, x, y and yaw.
    expect(usual).toHaveLength(12 + 3 + 3)
    for (const list of [poleList({ reference: [0.3, -0.2, 0.7] }), poleList({ feet: 'independent' })]) {
      list.forEach(([re, im], k) => {
        expect(Math.hypot(re - usual[k][0], im - usual[k][1])).toBeLessThan(1e-9 * Math.hypot(...usual[k]))
      })
    }
    expect(Math.max(...usual.map(([re]) => re))).toBeLessThan(-0.1)
  })

  it('answer to a point of the floor and of the payload alike at every reference', () => {
    const points = { tool: [0.2, 0.1, 0.4] as Point, sample: [0.2, 0.1, 0.1] as Point }
    const differences = { gap: ['sample', 'tool'] as const }
    const build = (reference: Point) => sixAxisIsolation({ payload: on(-0.5), reference, points, differences })
    const [a, b] = [build([0, 0, 0]), build([0, 0, -0.5])]
    for (const output of ['toolVelocityX', 'gapVelocityX', 'gapVelocityY']) {
      const [first, second] = [a, b].map((model) => response(model, 'floorVelocityX', output))
      expect(distance(first, second)).toBeLessThan(rounding)
    }
    // Between two points 0.3 m above each other: 0.3 m times the rotation about y.
    const gap = response(a, 'floorVelocityX', 'gapVelocityX')
    const turn = response(a, 'floorVelocityX', 'payloadVelocityRy')
    expect(distance(gap, { re: turn.re.map((v) => 0.3 * v), im: turn.im.map((v) => 0.3 * v) })).toBeLessThan(rounding)
  })
})

describe('the floor', () => {
  it('takes the payload along at rest, and tilts it further through its weight', () => {
    const { closed } = sixAxisIsolation({ payload: on(-0.5) })
    const still = dcGain(closed)
    const at = (output: string, input: string) => still[closed.outputs.indexOf(output)][closed.inputs.indexOf(input)]
    for (const axis of ['X', 'Y', 'Z', 'Rz'])
      expect(at(`payloadVelocity${axis}`, `floorVelocity${axis}`)).toBeCloseTo(1, 12)
    // An inverted pendulum on a rotational spring, K/(K − m g h): K = 4·9e4·0.16 and 4·9e4·0.36 N·m/rad, m g h = 4903.325.
    expect(at('payloadVelocityRx', 'floorVelocityRx')).toBeCloseTo(57600 / (57600 - 4903.325), 10)
    expect(at('payloadVelocityRy', 'floorVelocityRy')).toBeCloseTo(129600 / (129600 - 4903.325), 10)
  })

  it('feels what accelerates the payload', () => {
    // M a = force − floorForce: force balance along x and z
    const model = sixAxisIsolation({ payload: on(-0.5) })
    for (const axis of ['X', 'Z']) {
      const motion = response(model, `payloadForce${axis}`, `payloadVelocity${axis}`)
      const force = response(model, `payloadForce${axis}`, `floorForce${axis}`)
      frequencies.forEach((f, k) => {
        const omega = 2 * Math.PI * f
        expect(
          Math.hypot(-1000 * omega * motion.im[k] - (1 - force.re[k]), 1000 * omega * motion.re[k] + force.im[k]),
        ).toBeLessThan(1e-9)
      })
    }
  })

  it('moves the payload foot by foot as it does as a whole', () => {
    const model = sixAxisIsolation({ payload: on(-0.5), feet: 'independent' })
    const whole = response(model, 'floorVelocityZ', 'payloadVelocityZ')
    const feet = [1, 2, 3, 4].map((i) => response(model, `foot${i}VelocityZ`, 'payloadVelocityZ'))
    const added = {
      re: whole.re.map((_, k) => feet.reduce((t, f) => t + f.re[k], 0)),
      im: whole.im.map((_, k) => feet.reduce((t, f) => t + f.im[k], 0)),
    }
    expect(distance(added, whole)).toBeLessThan(rounding)
    const twist = response(model, 'foot1VelocityZ', 'payloadVelocityRx')
    expect(Math.max(...twist.re.map(Math.abs))).toBeGreaterThan(0.1)
  })
})

const everywhere = [
  ...corners(0.5, 0.4, -0.4).map((position) => ({ position, direction: [0, 0, 1] as const })),
  ...[-0.5, 0.5].map((x) => ({ position: [x, 0, -0.3] as const, direction: [0, 1, 0] as const })),
  ...[-0.4, 0.4].map((y) => ({ position: [0, y, -0.3] as const, direction: [1, 0, 0] as const })),
]
const loops = (list: readonly SixAxisLoop[]) => ({ sensors: everywhere, actuators: everywhere, loops: list })

describe('damping in decoupled coordinates', () => {
  it('gives every mode the damping ratio it asks for', () => {
    const payload = on(-0.5, { stiffness: 9e4, lateral: { stiffness: 4e4 } })
    const asked = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6]
    const model = sixAxisIsolation({
      payload,
      damping: loops(asked.map((dampingRatio, i) => ({ mode: i + 1, dampingRatio }))),
    })
    const modes = rigidPayload(payload).modes
    const found = poles(model.closed).filter(({ im }) => im > 0)
    modes.forEach(({ frequency }, i) => {
      const pole = found.find(({ naturalFrequency }) => Math.abs(naturalFrequency / (frequency as number) - 1) < 1e-9)
      expect(pole?.dampingRatio).toBeCloseTo(asked[i], 9)
    })
    expect(model.loops.map(({ name }) => name)).toEqual(modes.map(({ name }) => `damping, ${name}`))
    expect(controlElements(model).active).toBe(true)
  })

  it('reads tilt as g·θ/ω² through level sensors, as motion at 0.1114 Hz', () => {
    // Rotation of 0.05 rad per metre of motion: apparent over real is g·α/ω², 4.97 at 0.05 Hz, 1 at 0.1114 Hz, 0.0497 at
    // 0.5 Hz. BSSA 106(3) 987 (inertial sensors cannot separate tilt from translation); numbers computed.
    const sensor = { naturalFrequency: 0.02, dampingRatio: 0.7 }
    const model = sixAxisIsolation({
      payload: on(-0.5),
      damping: { ...loops([{ axis: 'X', gain: 1 }]), sensors: everywhere.map((place) => ({ ...place, sensor })) },
    })
    const level = model.diagram.blocks.sensor7
    expect(level.inputs).toEqual(['velocity', 'tilting'])
    expect(model.diagram.blocks.sensor1.inputs).toEqual(['velocity'])
    for (const [frequency, ratio, digits] of [
      [0.05, 4.97, 2],
      [0.1114, 1, 2],
      [0.5, 0.0497, 4],
    ]) {
      const both = frequencyResponse(level, [frequency])
      const size = (i: number) => Math.hypot(both.re[i], both.im[i])
      expect((0.05 * size(1)) / size(0)).toBeCloseTo(ratio, digits)
    }
    // A turn about +y lowers the positive x axis: the sensor takes that for motion towards −x.
    const lines = model.diagram.blocks.sensorLines
    if (lines.kind !== 'StateSpace') throw new Error('gains are state spaces')
    expect(lines.D[lines.outputs.indexOf('tilting7')]).toEqual([0, 0, 0, 0, -1, 0])
  })

  it('makes a high gain on level sensors run away through tilt, which an exact sensor would hide', () => {
    const sensor = { naturalFrequency: 0.1, dampingRatio: 0.7 }
    const damped = (place: object) =>
      stability(
        sixAxisIsolation({
          payload: on(-0.5),
          damping: { ...loops([{ axis: 'X', gain: 2e6 }]), sensors: everywhere.map((at) => ({ ...at, ...place })) },
        }).closed,
      ).verdict
    expect(damped({})).toBe('stable')
    expect(damped({ sensor })).toBe('unstable')
  })
})

describe('a move of a stage', () => {
  it('leaves the payload where it was', () => {
    const { closed } = sixAxisIsolation({ payload: on(-0.5) })
    const force = Float64Array.from({ length: 4000 }, (_, n) => (n < 100 ? 50 : n < 200 ? -50 : 0))
    const { outputs } = simulate(closed, { inputs: { reactionForceX: force }, sampleTime: 0.002 })
    expect(Math.max(...outputs.stretchX.map(Math.abs))).toBeGreaterThan(1e-5)
    expect(Math.abs(outputs.stretchX[3999])).toBeLessThan(1e-6)
    expect(outputs.payloadVelocityY.every((value) => Math.abs(value) < 1e-15)).toBe(true)
  })
})

describe('from JSON', () => {
  it('is the same model', () => {
    const options = { payload: on(-0.5), points: { tool: [0, 0, 1] as Point } }
    expect(isolation({ concept: 'sixAxis', ...options })).toEqual(sixAxisIsolation(options))
  })
})

describe('six axes are refused', () => {
  const spring = airSpring({ area: 0.0125, volume: 0.002, load: 2451.6625, lateral: { stiffness: 4e4 } })
  const level = { levelling: { flowGain: 0.01 } }
  const build =
    (more: object, payload: RigidPayloadOptions = on(-0.5)) =>
    () =>
      sixAxisIsolation({ payload, ...more })
  it.each([
    ['with a payload that tips at rest', build({}, { ...on(-0.5), centreOfMass: [0, 0, 7] }), 'unstable', 'payload'],
    [
      'with a payload outside its supports',
      build({}, { ...on(-0.5), centreOfMass: [1, 0, 0] }),
      'out-of-range',
      'payload.centreOfMass',
    ],
    ['without supports', build({}, { ...on(-0.5), supports: [] }), 'invalid-option', 'payload.supports'],
    ['with four valves', build(level, on(-0.5, spring)), 'invalid-option', 'levelling'],
    ['with valves and no air spring', build(level), 'invalid-option', 'levelling'],
    [
      'with valves and feet apart',
      build(
        { ...level, feet: 'independent' },
        {
          ...on(-0.5, spring),
          supports: on(-0.5, spring).supports.map((s, i) => ({ ...s, ...(i < 2 ? { valveGroup: 'a' } : {}) })),
        },
      ),
      'unsupported',
      'levelling',
    ],
    [
      'with a difference from nowhere',
      build({ points: { tool: [0, 0, 0] }, differences: { gap: ['tool', 'sample'] } }),
      'invalid-option',
      'differences.gap',
    ],
    ['with a point called payload', build({ points: { payload: [0, 0, 0] } }), 'duplicate-port', 'points.payload'],
    [
      'with a loop without gain',
      build({ damping: loops([{ axis: 'X' } as never]) }),
      'invalid-option',
      'damping.loops[0]',
    ],
    [
      'with a loop twice',
      build({
        damping: loops([
          { mode: 1, gain: 1 },
          { mode: 1, gain: 2 },
        ]),
      }),
      'invalid-option',
      'damping.loops[1]',
    ],
    [
      'with actuators that cannot drive the loop alone',
      build({ damping: { ...loops([{ mode: 1, gain: 1 }]), actuators: everywhere.slice(0, 4) } }),
      'singular',
      'damping.loops[0]',
    ],
    [
      'with a level sensor of one slope',
      build({
        damping: {
          ...loops([{ axis: 'X', gain: 1 }]),
          sensors: everywhere.map((place) => ({
            ...place,
            sensor: {
              kind: 'Sensor',
              measures: 'velocity',
              noise: null,
              dynamics: {
                kind: 'StateSpace',
                A: [[-1]],
                B: [[1]],
                C: [[-1]],
                D: [[1]],
                inputs: ['motion'],
                outputs: ['signal'],
                states: ['x'],
                delays: null,
              },
            },
          })),
        },
      }),
      'unsupported',
      'damping.sensors[4].sensor',
    ],
    [
      'in a stack',
      () =>
        isolation({
          concept: 'stacked',
          lower: { concept: 'passive', payload: { mass: 1 }, mount },
          upper: { concept: 'sixAxis', payload: on(-0.5) },
        }),
      'unsupported',
      'upper.concept',
    ],
    [
      'by functions of one axis',
      () => transmissibility(sixAxisIsolation({ payload: on(-0.5) }), [1]),
      'unknown-port',
      'inputs[0]',
    ],
  ] as const)('%s', (_, call, code, path) => {
    const error = refusal(call)
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('unless a tipping payload is asked for', () => {
    // Kθ = 4·9e4·0.16 N·m/rad tips where m g h is above it: h = 5.8736 m over the mounts. Computed.
    const model = sixAxisIsolation({ payload: { ...on(-0.5), centreOfMass: [0, 0, 7] }, tipping: 'model' })
    expect(stability(model.closed)).toMatchObject({ verdict: 'unstable', unstablePoles: 1 })
  })
})
