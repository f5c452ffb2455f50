import { describe, expect, it } from 'vitest'
import { motionProfile, type Point, sampleProfile } from '../../../src/elements/index.js'
import {
  type IsolationModel,
  passiveIsolation,
  type SixAxisFloorOptions,
  sixAxisIsolation,
  stackedIsolation,
  stageReaction,
} from '../../../src/isolation/index.js'
import { channel, dcGain, frequencyResponse, poles, type StateSpace, simulate } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const frequencies = [0.7, 2.3, 11, 12, 45]
const corners = (x: number, y: number, z: number): Point[] =>
  [-x, x].flatMap((left) => [-y, y].map((front): Point => [left, front, z]))
const mount = { stiffness: 5e4, damping: 200, lateral: { stiffness: 4e4, damping: 150 } }
const payload = {
  mass: 1000,
  inertia: [140, 240, 270] as const,
  centreOfMass: [0, 0, 0] as Point,
  supports: corners(0.6, 0.4, -0.5).map((position) => ({ position, mount })),
}
const body = { mass: 5000, stiffness: 2.8e7, damping: 2.2e4 }
const turning = { mass: 4000, stiffness: 3e7, damping: 2e4 }

function response(model: IsolationModel, input: string, output: string) {
  return channel(frequencyResponse(model.closed, frequencies, { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
}

function distance(a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }): number {
  return Math.max(...Array.from(a.re, (re, k) => Math.hypot(re - b.re[k], a.im[k] - b.im[k])))
}

const on = (floor: SixAxisFloorOptions, gravity = 9.80665) =>
  sixAxisIsolation({ payload: { ...payload, gravity }, floor })

/** A few roundings of numbers of the order of 1. */
const rounding = 1e-12

describe('a floor that gives way under six axes', () => {
  const omega = Math.sqrt(body.stiffness / body.mass)
  const mode = {
    modalMass: body.mass,
    naturalFrequency: omega / (2 * Math.PI),
    dampingRatio: body.damping / (2 * body.mass * omega),
  }
  const up = [0, 0, 1, 0, 0, 0]
  const own: StateSpace = {
    kind: 'StateSpace',
    A: [
      [0, 1],
      [-body.stiffness / body.mass, -body.damping / body.mass],
    ],
    B: [up.map(() => 0), up.map((value) => value / body.mass)],
    C: [...up, ...up].map((value) => [0, value]),
    D: [...up, ...up].map(() => up.map(() => 0)),
    inputs: up.map((_, i) => `f${i}`),
    outputs: [...up, ...up].map((_, i) => `v${i}`),
    states: ['x', 'v'],
    delays: null,
  }
  const floors: [string, SixAxisFloorOptions][] = [
    ['a body', { axes: { Z: body } }],
    ['modes of an axis', { axes: { Z: { modes: [{ ...mode, neighbourShape: 1 }] } } }],
    ['modes by their shapes', { modes: [{ ...mode, shape: up, neighbourShape: up }] }],
    ['a mobility of your own', own],
  ]

  it.each(floors)('along z is the floor of one axis, given as %s', (_, floor) => {
    const six = on(floor)
    const one = passiveIsolation({ payload: { mass: 1000 }, mount, count: 4, floor: body })
    for (const [from, to] of [
      ['floorVelocity', 'payloadVelocity'],
      ['floorVelocity', 'loadedFloorVelocity'],
      ['reactionForce', 'floorForce'],
      ['payloadForce', 'neighbourVelocity'],
      ['floorVelocity', 'stretch'],
    ]) {
      expect(distance(response(six, `${from}Z`, `${to}Z`), response(one, from, to))).toBeLessThan(rounding)
    }
  })

  it('is a body beneath it, without gravity: the lower storey of a stack', () => {
    const lower = {
      mass: 5000,
      inertia: [4000, 3000, 6000] as const,
      centreOfMass: [0.2, -0.1, -1] as Point,
      gravity: 0,
      supports: corners(1.5, 1, -1).map((place) => ({
        position: [place[0] + 0.2, place[1] - 0.1, place[2]] as Point,
        mount: { stiffness: 7e6, damping: 5e3, lateral: { stiffness: 4e6, damping: 3e3 } },
      })),
    }
    const stack = stackedIsolation({
      lower: { concept: 'sixAxis', payload: lower },
      upper: { concept: 'sixAxis', payload: { ...payload, gravity: 0 } },
    })
    // Σ k, Σ k y², Σ k x² and Σ k_h (x² + y²) over four springs at 1.5 and 1 m from the middle.
    const level = { mass: 5000, stiffness: 1.6e7, damping: 1.2e4 }
    const floor: SixAxisFloorOptions = {
      position: [0.2, -0.1, -1],
      axes: {
        X: level,
        Y: level,
        Z: { mass: 5000, stiffness: 2.8e7, damping: 2e4 },
        Rx: { mass: 4000, stiffness: 2.8e7, damping: 2e4 },
        Ry: { mass: 3000, stiffness: 6.3e7, damping: 4.5e4 },
        Rz: { mass: 6000, stiffness: 5.2e7, damping: 3.9e4 },
      },
    }
    const model = on(floor, 0)
    for (const [input, output] of [
      ['payloadForceX', 'payloadVelocityX'],
      ['payloadForceX', 'payloadVelocityRz'],
      ['reactionForceRx', 'payloadVelocityY'],
      ['payloadForceZ', 'payloadVelocityRy'],
    ]) {
      const [a, b] = [stack, model].map((system) => response(system, input, output))
      const size = Math.max(...a.re.map(Math.abs), ...a.im.map(Math.abs))
      expect(distance(a, b)).toBeLessThan(1e-10 * size)
    }
  })

  it('gives back a move of the payload as it gave it force: reciprocity with the neighbour left out', () => {
    const model = on({ axes: { X: body, Rx: turning, Ry: turning }, position: [0.1, 0.2, -1.5] })
    for (const [a, b] of [
      ['X', 'Ry'],
      ['Y', 'Rx'],
      ['Z', 'Ry'],
    ]) {
      const [there, back] = [
        response(model, `payloadForce${a}`, `payloadVelocity${b}`),
        response(model, `payloadForce${b}`, `payloadVelocity${a}`),
      ]
      const size = Math.max(...there.re.map(Math.abs), ...there.im.map(Math.abs))
      expect(distance(there, back)).toBeLessThan(1e-10 * size)
    }
    // What the floor does to the payload per velocity is what the payload passes on per force.
    const down = response(model, 'payloadForceX', 'floorForceRy')
    const upwards = response(model, 'floorVelocityRy', 'payloadVelocityX')
    expect(distance(down, upwards)).toBeLessThan(1e-11)
    expect(Math.max(...poles(model.closed).map(({ re }) => re))).toBeLessThan(0)
  })

  it('tends to the rigid floor as it gets heavy', () => {
    const heavy = { mass: 5e12, stiffness: 2.8e16, damping: 2.2e13 }
    const floor = { axes: { X: heavy, Y: heavy, Z: heavy, Rx: heavy, Ry: heavy, Rz: heavy } }
    for (const output of ['payloadVelocityX', 'payloadVelocityRy']) {
      const [soft, rigid] = [on(floor), sixAxisIsolation({ payload })].map((model) =>
        response(model, 'floorVelocityX', output),
      )
      expect(distance(soft, rigid)).toBeLessThan(1e-7)
    }
  })

  it('does not depend on the reference, and turns about its own place', () => {
    const build = (reference: Point) =>
      sixAxisIsolation({
        payload,
        reference,
        points: { tool: [0.2, 0.1, 0.6] },
        floor: { position: [0, 0, -2], axes: { X: body, Ry: turning } },
      })
    const [a, b] = [build([0, 0, 0]), build([0, 0, 0.7])]
    for (const input of ['floorVelocityX', 'payloadForceZ', 'payloadForceRy']) {
      const [first, second] = [a, b].map((model) => response(model, input, 'toolVelocityX'))
      const size = Math.max(1e-9, ...first.re.map(Math.abs), ...first.im.map(Math.abs))
      expect(distance(first, second)).toBeLessThan(1e-10 * size)
    }
  })
})

describe('the force on the floor', () => {
  it('has at rest the moment of the weight that has moved off', () => {
    // Moments about the place where the centre of mass was: the push has none, the weight m·g per metre.
    const { closed } = sixAxisIsolation({ payload })
    const still = dcGain(closed)
    const at = (output: string) => still[closed.outputs.indexOf(output)][closed.inputs.indexOf('payloadForceX')]
    expect(at('floorForceX')).toBeCloseTo(1, 10)
    expect(at('floorForceRy') / at('stretchX')).toBeCloseTo(9806.65, 6)
  })

  it('is an output while a stage moves, and shakes a neighbour on the same floor', () => {
    const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
    const motion = sampleProfile(profile, { sampleTime: 1e-3 })
    const stage = { mass: 50, position: [0, 0, 0], direction: [1, 0, 0], reference: [0, 0, 0] } as const
    const supports = payload.supports.map((foot) => ({
      ...foot,
      position: [foot.position[0], foot.position[1], 0] as Point,
    }))
    const six = sixAxisIsolation({ payload: { ...payload, supports, gravity: 0 }, floor: { axes: { X: body } } })
    const inputs = stageReaction({ ...stage, motion, gravity: 0 })
    const found = simulate(six.closed, { inputs, sampleTime: 1e-3 }).outputs
    // In the plane of the mounts and without gravity it is the concept of one axis.
    const one = passiveIsolation({ payload: { mass: 1000 }, mount: mount.lateral, count: 4, floor: body })
    const expected = simulate(one.closed, {
      inputs: { reactionForce: inputs.reactionForceX },
      sampleTime: 1e-3,
    }).outputs
    for (const output of ['floorForce', 'neighbourVelocity'] as const) {
      const size = Math.max(...expected[output].map(Math.abs))
      expect(size).toBeGreaterThan(1e-4)
      found[`${output}X`].forEach((value, n) => {
        expect(Math.abs(value - expected[output][n])).toBeLessThan(1e-9 * size)
      })
    }
  })
})

describe('a floor in six axes is refused', () => {
  it.each([
    [{ axes: {} }, 'invalid-option', 'floor.axes'],
    [{ axes: { Q: body } }, 'invalid-option', 'floor.axes.Q'],
    [{ axes: { Rx: { mass: 0, stiffness: 1 } } }, 'out-of-range', 'floor.axes.Rx.mass'],
    [{ axes: { Z: null } }, 'invalid-option', 'floor.axes.Z'],
    [{ axes: { Z: { frequency: [1], re: [1], im: [1] } } }, 'unsupported', 'floor.axes.Z'],
    [{ modes: [] }, 'invalid-option', 'floor.modes'],
    [
      { modes: [{ modalMass: 1, naturalFrequency: 1, dampingRatio: 0, shape: [0, 0, 1] }] },
      'dimension-mismatch',
      'floor.modes[0].shape',
    ],
    [{ axes: { Z: body }, position: [0, 0] }, 'invalid-option', 'floor.position'],
    [body, 'invalid-option', 'floor.mass'],
    [null, 'invalid-option', 'floor'],
  ])('%j', (floor, code, path) => {
    const error = refusal(() => on(floor as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
