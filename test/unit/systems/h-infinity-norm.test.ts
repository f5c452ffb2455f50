import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  gain,
  hInfinityNorm,
  lowPass,
  pade,
  parallel,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const resonance = (zeta: number, omega = 1) => rational([omega * omega], [1, 2 * zeta * omega, omega * omega])
const expectClose = (found: number, expected: number, relative: number) => {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected))
}
// The search ends when no gain 2e-10 above is reached; the place of a flat maximum is known to the root of that.
const normTolerance = 1e-9
const placeTolerance = 1e-5

describe('hInfinityNorm', () => {
  it('of a lag is at 0 Hz, and of a high-pass at Infinity', () => {
    expect(hInfinityNorm(rational([3], [1, 1]))).toEqual({ kind: 'HInfinityNorm', norm: 3, frequency: 0 })
    const high = hInfinityNorm(rational([2, 0], [1, 1]))
    expect(high).toMatchObject({ norm: 2, frequency: Number.POSITIVE_INFINITY })
  })

  it('of an all-pass is 1, whatever its phase does', () => {
    expectClose(hInfinityNorm(rational([-1, 1], [1, 1])).norm, 1, 1e-12)
    expectClose(hInfinityNorm(pade(delay({ seconds: 0.1 }), { order: 6 })).norm, 1, 1e-12)
  })

  it.each([
    // computed from the closed form 1/(2 ζ √(1 − ζ²)) at √(1 − 2 ζ²)/2π
    [1e-5, 50000.0000025, 0.15915494307597985],
    [0.01, 50.00250018751562, 0.15913902680173186],
    [0.5, 1.1547005383792517, 0.11253953951963827],
  ])('of a resonance with damping ratio %f', (zeta, norm, frequency) => {
    const found = hInfinityNorm(resonance(zeta))
    expectClose(found.norm, norm, normTolerance)
    expectClose(found.frequency, frequency, placeTolerance)
  })

  it('has no peak from a damping ratio of 1/√2 on', () => {
    // Flat to fourth order at 0 Hz
    expect(hInfinityNorm(resonance(0.75)).frequency).toBe(0)
    expectClose(hInfinityNorm(resonance(0.75)).norm, 1, 1e-12)
    expectClose(hInfinityNorm(lowPass({ cutoff: 3, order: 6 })).norm, 1, 1e-9)
  })

  it('finds the higher of two peaks decades apart, whichever it is', () => {
    // The other one adds about 1 to it: |G| = 1/(2ζ) within 1e-3.
    const slow = hInfinityNorm(parallel(resonance(1e-4, 1e-2), resonance(1e-3, 1e3)))
    expectClose(slow.norm, 5000, 1e-3)
    expectClose(2 * Math.PI * slow.frequency, 1e-2, placeTolerance)
    const fast = hInfinityNorm(parallel(resonance(1e-3, 1e-2), resonance(1e-4, 1e3)))
    expectClose(fast.norm, 5000, 1e-3)
    expectClose(2 * Math.PI * fast.frequency, 1e3, placeTolerance)
  })

  it('of a static gain is its largest singular value', () => {
    // G. Strang, Introduction to Linear Algebra, 5th edition 2016, section 7.2: [3 0; 4 5] has √45 and √5
    const found = hInfinityNorm(
      gain([
        [3, 0],
        [4, 5],
      ]),
    )
    expectClose(found.norm, 6.708203932499369, 1e-14)
    expectClose(hInfinityNorm(gain(-2)).norm, 2, 1e-15)
    expect(hInfinityNorm(gain(0)).norm).toBe(0)
  })

  it('of several channels is that of the worst combination of inputs', () => {
    // Two resonances seen through turns by 30° and 50°: orthogonal, so that the norm is that of the higher resonance.
    // computed from the closed form 1/(2 ζ √(1 − ζ²)) with ζ = 0.01
    const [c, s, d, t] = [30, 30, 50, 50].map((angle, k) => (k % 2 ? Math.sin : Math.cos)((angle * Math.PI) / 180))
    const turned = stateSpace({
      A: [
        [0, 1, 0, 0],
        [-1, -0.02, 0, 0],
        [0, 0, 0, 1],
        [0, 0, -9, -0.6],
      ],
      B: [
        [0, 0],
        [c, s],
        [0, 0],
        [-9 * s, 9 * c],
      ],
      C: [
        [d, 0, -t, 0],
        [t, 0, d, 0],
      ],
    })
    expectClose(hInfinityNorm(turned).norm, 50.00250018751562, normTolerance)
  })

  it('counts the direct gain', () => {
    // 1 + 1/(s + 1): 2 at 0 Hz; 1 − 2/(s + 1) = (s − 1)/(s + 1)
    expectClose(hInfinityNorm(stateSpace({ A: [[-1]], B: [[1]], C: [[1]], D: [[1]] })).norm, 2, 1e-12)
    expectClose(hInfinityNorm(stateSpace({ A: [[-1]], B: [[1]], C: [[-2]], D: [[1]] })).norm, 1, 1e-12)
  })

  it('of a discrete system lies between 0 and half the sample rate', () => {
    // computed from the closed form 1/((1 − r²) sin θ) at cos ω = (1 + r²) cos θ/(2 r), poles r e^(±jθ), r = 0.99, θ = 1
    const [r, theta, sampleTime] = [0.99, 1, 0.5]
    const digital = {
      ...discretize(gain(1), { sampleTime, method: 'bilinear' }),
      A: [
        [2 * r * Math.cos(theta), -r * r],
        [1, 0],
      ],
      B: [[1], [0]],
      C: [[1, 0]],
      D: [[0]],
      states: ['a', 'b'],
    }
    const found = hInfinityNorm(digital)
    expectClose(found.norm, 59.71834702402611, normTolerance)
    expectClose(found.frequency * sampleTime, 0.15914978181524225, placeTolerance)
    // 1 − z⁻¹ has its gain of 2 at half the sample rate.
    const difference = { ...digital, A: [[0]], B: [[1]], C: [[-1]], D: [[1]], states: ['a'] }
    expectClose(hInfinityNorm(difference).norm, 2, 1e-12)
    expectClose(hInfinityNorm(difference).frequency, 1, placeTolerance)
  })

  it('of a system in series with itself is the square', () => {
    // computed from the closed form 1/(2 ζ √(1 − ζ²)) with ζ = 0.01, squared
    expectClose(hInfinityNorm(series(resonance(0.01), resonance(0.01))).norm, 2500.2500250025, normTolerance)
  })

  it('is 0 of a system that passes nothing, and that of the gain without states', () => {
    const nothing = stateSpace({ A: [[-1]], B: [[0]], C: [[1]] })
    expect(hInfinityNorm(nothing)).toEqual({ kind: 'HInfinityNorm', norm: 0, frequency: 0 })
    expect(hInfinityNorm(gain(0)).norm).toBe(0)
    expect(hInfinityNorm(gain(-3))).toEqual({ kind: 'HInfinityNorm', norm: 3, frequency: 0 })
  })

  it('is refused where there is none', () => {
    for (const system of [rational([1], [1, -1]), rational([1], [1, 0]), rational([1], [1, 0, 1])]) {
      expect(refusal(() => hInfinityNorm(system))).toMatchObject({ code: 'unstable', details: { path: 'system' } })
    }
    expect(refusal(() => hInfinityNorm(delay({ seconds: 1 }))).code).toBe('unsupported')
  })
})
