import { describe, expect, it } from 'vitest'
import {
  delay,
  impulseResponse,
  prepare,
  stateSpace,
  stepResponse,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const oscillator = rational([1], [1, 0.2, 4.01])
const two = stateSpace({ A: [[-1]], B: [[1, 2]], C: [[1]], D: [[0, 3]], inputs: ['a', 'b'], outputs: ['y'] })
const rounding = 1e-14
const at = (series: Float64Array, samples: readonly number[], expected: readonly number[]) => {
  samples.forEach((k, i) => {
    expect(Math.abs(series[k] - expected[i])).toBeLessThanOrEqual(rounding)
  })
}

describe('stepResponse', () => {
  it('is exact at the samples, from 0 to the duration', () => {
    // computed from the closed form (1 − e^(−t/10) (cos 2t + sin 2t/20))/4.01 at 0.5, 1, 2 s
    const { outputs, time } = stepResponse(oscillator, { duration: 2, sampleTime: 0.5 })
    expect(Array.from(time)).toEqual([0, 0.5, 1, 1.5, 2])
    at(outputs.y1, [0, 1, 2, 4], [0, 0.11122866596059786, 0.33301918012702353, 0.3905583560598558])
    expect(stepResponse(prepare(oscillator), { duration: 2, sampleTime: 0.5 }).outputs.y1).toEqual(outputs.y1)
  })

  it('keeps the last sample of a duration that is a whole number of samples up to rounding', () => {
    expect(stepResponse(oscillator, { duration: 0.3, sampleTime: 0.1 }).time.length).toBe(4)
    expect(stepResponse(oscillator, { duration: 0.39, sampleTime: 0.1 }).time.length).toBe(4)
  })

  it('steps the input that is named, and jumps with a direct gain', () => {
    // by hand: 3 + 2 (1 − e^(−t))
    const { outputs } = stepResponse(two, { input: 'b', duration: 1, sampleTime: 1 })
    at(outputs.y, [0, 1], [3, 4.264241117657115])
  })

  it('refuses what does not fit', () => {
    const path = (options: unknown, system: unknown = two) =>
      refusal(() => stepResponse(system as never, options as never)).details.path
    expect(path({ duration: 1, sampleTime: 0.1 })).toBe('input')
    expect(path({ input: 'c', duration: 1, sampleTime: 0.1 })).toBe('input')
    expect(path({ input: 'a', duration: 0.05, sampleTime: 0.1 })).toBe('duration')
    expect(path({ input: 'a', duration: 1, sampleTime: -1 })).toBe('sampleTime')
    expect(path({ input: 'a', duration: 1, sampleTime: 0.1, hold: 'x' })).toBe('hold')
    expect(refusal(() => stepResponse(delay({ seconds: 1 }), { duration: 1, sampleTime: 0.1 })).code).toBe(
      'unsupported',
    )
  })
})

describe('impulseResponse', () => {
  it('is exact at the samples', () => {
    // computed from the closed form e^(−t/10) sin(2t)/2 at 0.5, 1, 2 s
    const { outputs } = impulseResponse(oscillator, { duration: 2, sampleTime: 0.5 })
    at(outputs.y1, [0, 1, 2, 4], [0, 0.40021598030643224, 0.41138316795784585, -0.30980873845737794])
  })

  it('begins with the value just after the impulse', () => {
    // by hand: e^(−t)
    const { outputs } = impulseResponse(two, { input: 'a', duration: 1, sampleTime: 1 })
    at(outputs.y, [0, 1], [1, 0.36787944117144233])
  })

  it('refuses an input with a direct gain, whose impulse has no samples', () => {
    expect(refusal(() => impulseResponse(two, { input: 'b', duration: 1, sampleTime: 1 }))).toMatchObject({
      code: 'improper',
      details: { path: 'input' },
    })
  })
})
