import { describe, expect, it } from 'vitest'
import { airSpring, type Point, type RigidPayloadOptions } from '../../../src/elements/index.js'
import {
  levellingLimit,
  loopMargins,
  passiveIsolation,
  type SixAxisIsolationOptions,
  type SixAxisLoop,
  sixAxisIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import {
  channel,
  delay,
  frequencyResponse,
  gain,
  type StateSpace,
  series,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const corners = [-0.6, 0.6].flatMap((x) => [-0.4, 0.4].map((y): Point => [x, y, -0.5]))
const mount = { stiffness: 9e4, damping: 300, lateral: { stiffness: 4e4, damping: 200 } }
const payload: RigidPayloadOptions = {
  mass: 1000,
  inertia: [140, 240, 270],
  centreOfMass: [0, 0, 0],
  supports: corners.map((position) => ({ position, mount })),
}
const across = [-0.5, 0.5].map((y) => ({ position: [0, y, 0] as Point, direction: [1, 0, 0] as const }))
const upright = corners.map((position) => ({ position, direction: [0, 0, 1] as const }))
const tall = { ...payload, centreOfMass: [0, 0, 7] as Point }

/** A geophone made by hand from its transfer function: velocity in, signal out. */
const sensorOf = (dynamics: StateSpace) => ({ kind: 'Sensor', measures: 'velocity', dynamics, noise: null })
const second = (numerator: number[]) =>
  transferFunction({ numerator, denominator: [1, 2, 4], input: 'motion', output: 'signal' })

describe('a sensor that lies level in six axes', () => {
  const damped = (dynamics: StateSpace) => () =>
    sixAxisIsolation({
      payload,
      damping: {
        sensors: across.map((place) => ({ ...place, sensor: sensorOf(dynamics) as never })),
        actuators: across,
        loops: [{ axis: 'X', gain: 500 }],
      },
    })

  it('reads no tilt where it answers to a constant velocity', () => {
    expect(damped(second([1, 2, 4]))().diagram.blocks.sensor1.inputs).toEqual(['velocity'])
    expect(damped(second([1, 0, 0]))().diagram.blocks.sensor1.inputs).toEqual(['velocity', 'tilting'])
  })

  it.each([
    ['with a dead time', delay({ seconds: 0.01, input: 'motion', output: 'signal' })],
    ['that integrates', transferFunction({ numerator: [1], denominator: [1, 0], input: 'motion', output: 'signal' })],
    ['whose slope at rest is lasting', second([1, 3, 0])],
  ])('is refused %s', (_, dynamics) => {
    const error = refusal(damped(dynamics as StateSpace))
    expect([error.code, error.details.path]).toEqual(['unsupported', 'damping.sensors[0].sensor'])
  })
})

const middle = {
  position: [0, 0, -0.5] as Point,
  mount: airSpring({ area: 0.05, volume: 0.01, load: 9600, lateral: { stiffness: 4e4 } }),
}

describe('one air spring in the middle of four steel springs', () => {
  const supports = [...payload.supports, middle]

  it('is levelled by one valve', () => {
    const build = () => sixAxisIsolation({ payload: { ...payload, supports }, levelling: { flowGain: 0.002 } })
    const { loops, closed } = build()
    expect(loops.map(({ name }) => name)).toEqual(['levelling1'])
    expect(loopMargins(build())[0].margins.closedLoop).toBe('stable')
    expect(closed.outputs).toContain('payloadVelocityZ')
    const error = refusal(() => levellingLimit(build()))
    expect([error.code, error.details.path]).toEqual(['unsupported', ''])
  })
})

describe('a floor in six axes', () => {
  const frequencies = [1, 5, 20]
  const oscillator = { modalMass: 5000, naturalFrequency: 12, dampingRatio: 0.05 }

  it('by shapes of which only one is known at the neighbour moves that one there', () => {
    const unit = (k: number) => [0, 1, 2, 3, 4, 5].map((i) => (i === k ? 1 : 0))
    const modes = [
      { ...oscillator, shape: unit(2), neighbourShape: unit(2) },
      { ...oscillator, naturalFrequency: 9, shape: unit(0) },
    ]
    const six = sixAxisIsolation({ payload: { ...payload, gravity: 0 }, floor: { modes } })
    const modulus = (input: string, output: string) => {
      const ports = { input, output }
      const found = channel(frequencyResponse(six.closed, frequencies, { inputs: [input], outputs: [output] }), ports)
      return Array.from(found.re, (re, k) => Math.hypot(re, found.im[k]))
    }
    expect(Math.min(...modulus('reactionForceZ', 'neighbourVelocityZ'))).toBeGreaterThan(1e-9)
    expect(Math.max(...modulus('reactionForceX', 'neighbourVelocityX'))).toBeLessThan(1e-18)
  })
})

describe('a floor with a dead time in its mobility', () => {
  it('comes late in the response of what stands on it', () => {
    // Computed from the closed form T = F/(m s), F = 1/(s/K + Y·exp(−s·2 ms) + 1/(m s)), at 2, 5 and 12 Hz
    const own = transferFunction({ numerator: [1, 0], denominator: [5000, 4e4, 3e7] })
    const floor = series(own, delay({ seconds: 0.002, input: 'force', output: 'velocity' }))
    const late = transmissibility(passiveIsolation({ payload: { mass: 1000 }, mount, count: 4, floor }), [2, 5, 12])
    const expected = [
      [1.7942425036847482, -0.05985127047400534],
      [-0.5560490911553989, -0.09159403835516695],
      [-0.06113747471682127, -0.022565231560854247],
    ]
    expected.forEach(([re, im], k) => {
      expect(late.re[k]).toBeCloseTo(re, 12)
      expect(late.im[k]).toBeCloseTo(im, 12)
    })
  })
})

describe('six axes are refused', () => {
  const build = (more: Partial<SixAxisIsolationOptions>, load: RigidPayloadOptions = payload) =>
    sixAxisIsolation({ payload: load, ...more })
  const loops = (...list: object[]) => ({ sensors: upright, actuators: upright, loops: list as SixAxisLoop[] })

  const row = [0, 1, 2, 3, 4, 5].map(() => 0)
  const mobility = gain([0, 1, 2, 3, 4, 5].map(() => row))
  it.each([
    ['with a loop along nothing', { damping: loops({ gain: 1 }) }, payload, 'invalid-option', 'damping.loops[0]'],
    [
      'with a loop along a mode and an axis',
      { damping: loops({ mode: 1, axis: 'Z', gain: 1 }) },
      payload,
      'invalid-option',
      'damping.loops[0]',
    ],
    [
      'with the damping ratio of a mode that falls over',
      { damping: loops({ mode: 1, dampingRatio: 0.3 }), tipping: 'model' as const },
      tall,
      'out-of-range',
      'damping.loops[0].dampingRatio',
    ],
    [
      'with valves on a floor that does not tell its angle',
      { floor: mobility, levelling: { flowGain: 0.002 } },
      { ...payload, supports: [...payload.supports, middle] },
      'unsupported',
      'floor',
    ],
    [
      'with a difference of three points',
      { points: { a: [0, 0, 0], b: [0, 0, 1], c: [0, 1, 0] }, differences: { gap: ['a', 'b', 'c'] } },
      payload,
      'invalid-option',
      'differences.gap',
    ],
  ])('%s', (_, more, load, code, path) => {
    const error = refusal(() => build(more as never, load))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
