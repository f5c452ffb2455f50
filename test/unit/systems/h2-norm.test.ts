import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  gain,
  h2Norm,
  lowPass,
  prepare,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const expectClose = (found: number, expected: number, relative = 1e-12) => {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected))
}
const w0 = 4 * Math.PI // 2 Hz
/** Payload velocity from floor velocity of a spring and a damper: (2 ζ ω₀ s + ω₀²)/(s² + 2 ζ ω₀ s + ω₀²). */
const passive = (zeta: number) => rational([2 * zeta * w0, w0 * w0], [1, 2 * zeta * w0, w0 * w0])

describe('h2Norm', () => {
  it.each([
    // computed from the closed form √(S ω₀ (1 + 4 ζ²)/(8 ζ)): the rms velocity under a one-sided density S = 1e-12 is
    // √(S/2) times the norm
    [0.1, 4.041816645849601e-6],
    [0.5, 2.5066282746310003e-6],
  ])('is the rms of a passive payload with damping ratio %f', (zeta, rms) => {
    expectClose(Math.sqrt(1e-12 / 2) * h2Norm(passive(zeta)), rms)
    expectClose(Math.sqrt(1e-12 / 2) * h2Norm(prepare(passive(zeta))), rms)
  })

  it('is least for a passive payload at a damping ratio of exactly 0.5', () => {
    // computed from the closed form: (1 + 4ζ²)/(8ζ) has its minimum 1/2 at ζ = 1/2, so that the variance is S ω₀/2 there
    expectClose(h2Norm(passive(0.5)) ** 2, w0)
    for (const zeta of [0.4999, 0.5001, 0.3, 0.8]) expect(h2Norm(passive(zeta))).toBeGreaterThan(h2Norm(passive(0.5)))
  })

  it('is the root of the trace over several outputs', () => {
    // by hand: 1/2 + 1/4 of two lags on separate inputs
    const pair = stateSpace({
      A: [
        [-1, 0],
        [0, -2],
      ],
      B: [
        [1, 0],
        [0, 1],
      ],
      C: [
        [1, 0],
        [0, 1],
      ],
    })
    expectClose(h2Norm(pair), Math.sqrt(0.75))
  })

  it('is infinite with a direct gain, and finite for a discrete system with one', () => {
    expect(h2Norm(rational([1, 0], [1, 1]))).toBe(Number.POSITIVE_INFINITY)
    expect(h2Norm(gain(2))).toBe(Number.POSITIVE_INFINITY)
    expect(h2Norm(gain(0))).toBe(0)
    expectClose(h2Norm(discretize(gain(2), { sampleTime: 1, method: 'bilinear' })), 2)
  })

  it('is that of the white noise bandwidth of a low-pass', () => {
    // computed from the closed form ω_c/2 of ω_c/(s + ω_c), ω_c = 2π · 10 Hz
    expectClose(h2Norm(lowPass({ cutoff: 10 })) ** 2, 31.41592653589793)
  })

  it('is right in any units of inputs and outputs (fault: NaN and Infinity from where squares leave the range of numbers)', () => {
    // c b/(s + 1): c b/√2; continuous, and discrete with a pole at 1/2: c b/√(1 − 1/4)
    const lag = (b: number, c: number) => stateSpace({ A: [[-1]], B: [[b]], C: [[c]] })
    const digital = (b: number, c: number, d: number) => ({
      ...discretize(lag(b, c), { sampleTime: 1, method: 'bilinear' }),
      A: [[0.5]],
      B: [[b]],
      C: [[c]],
      D: [[d]],
    })
    for (const [b, c, size] of [
      [1e200, 1, 1e200],
      [1, 1e-200, 1e-200],
      [1e-300, 1e300, 1],
      [1e160, 1e140, 1e300],
    ]) {
      expectClose(h2Norm(lag(b, c)) / size, Math.SQRT1_2)
      expectClose(h2Norm(digital(b, c, 0)) / size, 2 / Math.sqrt(3))
      // with a direct gain as large as that: 4/3 + 1
      expectClose(h2Norm(digital(b, c, size)) / size, Math.sqrt(7 / 3))
    }
    expectClose(h2Norm(digital(1e-200, 1e-200, 3)), 3)
    expect([h2Norm(lag(0, 1)), h2Norm(lag(1e200, 0)), h2Norm(digital(0, 0, 0))]).toEqual([0, 0, 0])
    // b/((s + 1)(s + 2)): b/√12, by hand
    const two = stateSpace({ A: [[-1, 1], [0, -2]], B: [[0], [1e160]], C: [[1, 0]] }) // biome-ignore format: matrix
    expectClose(h2Norm(two) / 1e160, Math.sqrt(1 / 12))
    expect(refusal(() => h2Norm(lag(1e200, 1e200))).message).toBe(
      'h2Norm: gives a norm beyond the range of numbers; the options together are too extreme',
    )
  })

  it('is refused for unstable and marginal systems, even with a direct gain', () => {
    for (const system of [rational([1], [1, -1]), rational([1], [1, 0]), rational([1, 1], [1, 0])]) {
      expect(refusal(() => h2Norm(system)).code).toBe('unstable')
    }
    expect(refusal(() => h2Norm(delay({ seconds: 1 }))).code).toBe('unsupported')
  })
})
