import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  integrator,
  lowPass,
  mechanicalSystem,
  prepare,
  simulate,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
const rounding = 1e-14
const expectSamples = (found: Float64Array, expected: readonly number[], off = rounding) => {
  expect(found.length).toBe(expected.length)
  expected.forEach((value, k) => {
    expect(Math.abs(found[k] - value)).toBeLessThanOrEqual(off)
  })
}

describe('simulate', () => {
  it('is exact for straight lines between samples', () => {
    // computed from the closed form t − 1 + e^(−t) for a ramp
    const { outputs, time, kind } = simulate(lag, { inputs: { u1: [0, 0.5, 1, 1.5] }, sampleTime: 0.5 })
    expect(kind).toBe('Simulation')
    expect(Array.from(time)).toEqual([0, 0.5, 1, 1.5])
    expectSamples(outputs.y1, [0, 0.10653065971263342, 0.36787944117144233, 0.7231301601484298])
  })

  it('is exact for steps between samples', () => {
    // computed from the closed form x ← x e^(−0.5) + u (1 − e^(−0.5))
    const { outputs } = simulate(lag, { inputs: { u1: [1, 2, 0] }, sampleTime: 0.5, hold: 'zero-order-hold' })
    expectSamples(outputs.y1, [0, 0.3934693402873666, 1.0255898991159242])
  })

  it('starts from a given state', () => {
    // computed from the closed form 3 e^(−t)
    const free = { inputs: { u1: [0, 0, 0] }, sampleTime: 0.5, initialState: [3] }
    const { outputs, finalState } = simulate(lag, free)
    expectSamples(outputs.y1, [3, 1.8195919791379003, 1.103638323514327])
    expectSamples(finalState, [1.103638323514327])
  })

  it('lets an input through at once', () => {
    const direct = stateSpace({ A: [[-1]], B: [[0]], C: [[0]], D: [[2]] })
    expectSamples(simulate(direct, { inputs: { u1: [1, -3, 5] }, sampleTime: 1 }).outputs.y1, [2, -6, 10])
  })

  it('adds the inputs there are; absent ones are zero', () => {
    const two = stateSpace({
      A: [[0]],
      B: [[1, 10]],
      C: [[1], [2]],
      D: [
        [0, 0],
        [0, 1],
      ],
      inputs: ['a', 'b'],
      outputs: ['y', 'z'],
    })
    // by hand: trapezia
    const both = simulate(two, { inputs: { a: [0, 2, 2], b: [1, 1, 0] }, sampleTime: 1 })
    expectSamples(both.outputs.y, [0, 11, 18])
    expectSamples(both.outputs.z, [1, 23, 36])
    expectSamples(simulate(two, { inputs: { b: [1, 1, 0] }, sampleTime: 1 }).outputs.y, [0, 10, 15])
  })

  it('gives the same in one run and in chunks', () => {
    const filter = lowPass({ cutoff: 3, order: 4 })
    // Long records are summed in another order than short ones, which differs by rounding.
    const samples = Float64Array.from({ length: 400 }, (_, k) => Math.sin(k * k))
    for (const system of [filter, discretize(filter, { sampleTime: 0.01, method: 'first-order-hold' })]) {
      const options = system.kind === 'StateSpace' ? { sampleTime: 0.01 } : {}
      const whole = simulate(system, { inputs: { u1: samples }, ...options })
      let initialState = new Float64Array(4)
      for (let start = 0; start + 1 < samples.length; start += 57) {
        // A chunk begins with the last sample of the one before.
        const chunk = samples.subarray(start, start + 58)
        const part = simulate(system, { inputs: { u1: chunk }, ...options, initialState })
        expectSamples(part.outputs.y1, Array.from(whole.outputs.y1.subarray(start, start + 58)), 1e-13)
        initialState = part.finalState as Float64Array<ArrayBuffer>
      }
      expectSamples(initialState, Array.from(whole.finalState), 1e-13)
    }
  })

  it('gives for a held discrete system what it gives for the continuous one', () => {
    const filter = lowPass({ cutoff: 3, order: 3 })
    const samples = Array.from({ length: 50 }, (_, k) => Math.cos(k * k))
    for (const hold of ['zero-order-hold', 'first-order-hold'] as const) {
      const held = discretize(filter, { sampleTime: 0.02, method: hold })
      // The state of a first-order hold is shifted by what the first sample puts into it, so the record begins at 0.
      const inputs = { u1: [0, ...samples] }
      const continuous = simulate(filter, { inputs, sampleTime: 0.02, hold })
      expectSamples(simulate(held, { inputs }).outputs.y1, [...continuous.outputs.y1], 1e-13)
    }
  })

  it('iterates a discrete system', () => {
    const held = discretize(integrator(), { sampleTime: 0.5, method: 'zero-order-hold' })
    const { time, outputs, finalState } = simulate(held, { inputs: { u1: [1, 1, 4, 0] } })
    expect(Array.from(time)).toEqual([0, 0.5, 1, 1.5])
    expectSamples(outputs.y1, [0, 0.5, 1, 3])
    expectSamples(finalState, [3])
  })

  it('takes a mechanical and a prepared system', () => {
    const mass = mechanicalSystem({
      mass: [[2]],
      damping: [[0]],
      stiffness: [[0]],
      inputs: { force: [1] },
      outputs: { motion: { displacement: [1] } },
    })
    for (const system of [mass, prepare(mass)]) {
      // by hand: a force of 1 moves 2 kg by t²/4
      const { outputs } = simulate(system, { inputs: { force: [1, 1, 1] }, sampleTime: 2 })
      expectSamples(outputs.motion, [0, 1, 4])
    }
  })

  it('changes nothing it was given', () => {
    const samples = Float64Array.of(1, 2, 3)
    const initialState = Float64Array.of(5)
    const before = structuredClone({ lag, samples, initialState })
    simulate(lag, { inputs: { u1: samples }, sampleTime: 1, initialState })
    expect({ lag, samples, initialState }).toEqual(before)
  })

  it('refuses what does not fit', () => {
    const inputs = { u1: [0, 1] }
    const error = (options: unknown, system: unknown = lag) =>
      refusal(() => simulate(system as never, options as never))
    expect(error({ inputs: { u2: [1] }, sampleTime: 1 })).toMatchObject({
      code: 'unknown-port',
      details: { path: 'inputs.u2' },
    })
    const two = stateSpace({ A: [[-1]], B: [[1, 1]], C: [[1]] })
    expect(error({ inputs: { u1: [1, 2], u2: [1] }, sampleTime: 1 }, two)).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'inputs.u2' },
    })
    expect(error({ inputs: { u1: [1, Number.NaN] }, sampleTime: 1 }).code).toBe('not-finite')
    expect(error({ inputs: {}, sampleTime: 1 }).details.path).toBe('inputs')
    expect(error({ inputs: { u1: [] }, sampleTime: 1 }).details.path).toBe('inputs')
    expect(error({ inputs, sampleTime: 0 }).details.path).toBe('sampleTime')
    expect(error({ inputs }).details.path).toBe('sampleTime')
    expect(error({ inputs, sampleTime: 1, hold: 'none' }).details.path).toBe('hold')
    expect(error({ inputs, sampleTime: 1, initialState: [1, 2] }).code).toBe('dimension-mismatch')
    expect(error({ inputs, sampleTime: 1, start: 0 }).details.path).toBe('start')
    expect(error({ inputs, sampleTime: 1 }, delay({ seconds: 1 })).code).toBe('unsupported')
    const digital = discretize(lag, { sampleTime: 1, method: 'bilinear' })
    expect(error({ inputs, sampleTime: 1 }, digital).details.path).toBe('sampleTime')
    expect(error({ inputs, hold: 'zero-order-hold' }, digital).details.path).toBe('hold')
  })

  it('says so where an unstable response leaves the range of numbers', () => {
    const growing = transferFunction({ numerator: [1], denominator: [1, -100] })
    const long = { inputs: { u1: new Float64Array(20).fill(1) }, sampleTime: 1 }
    expect(refusal(() => simulate(growing, long)).code).toBe('out-of-range')
  })
})

describe('a long record', () => {
  // The same sums in another order; some hundred roundings of values of about 1.
  const sameSums = 1e-13
  const plants = [
    transferFunction({ numerator: [1, 3, 40], denominator: [1, 2, 50, 60, 400] }),
    stateSpace({
      A: [
        [-1, 2, 0],
        [-3, -1, 5],
        [0, 1, -4],
      ],
      B: [
        [1, 0],
        [0, 2],
        [1, -1],
      ],
      C: [
        [1, 0, 0],
        [0, 1, 1],
      ],
      D: [
        [0, 0.5],
        [1, 0],
      ],
    }),
  ]
  it.each(['first-order-hold', 'zero-order-hold'] as const)(
    'is its pieces, each from the state before (%s)',
    (hold) => {
      for (const plant of plants) {
        const count = 1000
        const series = plant.inputs.map((_, i) =>
          Array.from({ length: count }, (_, k) => Math.sin(k * (1 + i) + 0.1 * k ** 2)),
        )
        const inputsOf = (from: number, to: number) =>
          Object.fromEntries(plant.inputs.map((name, i) => [name, series[i].slice(from, to)]))
        const whole = simulate(plant, { inputs: inputsOf(0, count), sampleTime: 0.05, hold })
        let initialState: Float64Array = new Float64Array(plant.states.length)
        for (let from = 0; from + 1 < count; from += 9) {
          const piece = simulate(plant, { inputs: inputsOf(from, from + 10), sampleTime: 0.05, hold, initialState })
          initialState = piece.finalState
          for (const name of plant.outputs) {
            expectSamples(piece.outputs[name], Array.from(whole.outputs[name].slice(from, from + 10)), sameSums)
          }
        }
        expectSamples(whole.finalState, Array.from(initialState), sameSums)
      }
    },
  )

  it('does not mind a mode that grows beyond all numbers where nothing moves it', () => {
    const plant = stateSpace({
      A: [
        [-1, 0],
        [0, 1e5],
      ],
      B: [[1], [0]],
      C: [[1, 0]],
    })
    const { outputs } = simulate(plant, { inputs: { u1: new Float64Array(400).fill(1) }, sampleTime: 0.002 })
    // computed from the closed form 1 − e^(−t)
    expectSamples(outputs.y1.subarray(399), [0.5497714786972108])
  })
})
