import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  gain,
  stateSpace,
  stationaryCovariance,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const expectClose = (found: number, expected: number, relative = 1e-12) => {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected))
}
const w0 = 4 * Math.PI // 2 Hz
/** Displacement and velocity of a mass under white force per mass, damping ratio ζ. */
const oscillator = (zeta: number) =>
  stateSpace({
    A: [
      [0, 1],
      [-w0 * w0, -2 * zeta * w0],
    ],
    B: [[0], [1]],
    C: [
      [1, 0],
      [0, 1],
    ],
  })

describe('stationaryCovariance', () => {
  it('is diag(1/(4 ζ ω₀³), 1/(4 ζ ω₀)) of an oscillator', () => {
    // computed from the closed form diag(1/(4 ζ ω₀³), 1/(4 ζ ω₀)) with ζ = 0.1 and 2 Hz
    const [[a, b], [c, d]] = stationaryCovariance(oscillator(0.1))
    expectClose(a, 0.0012598255637968551)
    expectClose(d, 0.1989436788648692)
    expect(Math.abs(b)).toBeLessThan(1e-15)
    expect(Math.abs(c)).toBeLessThan(1e-15)
  })

  it('is the relative displacement under white acceleration: S₀/(8 ζ ω₀³)', () => {
    // computed from the closed form: one-sided S₀ is √(S₀/2) on the unit noise. 1e-12 (m/s²)²/Hz at 2 Hz, ζ = 0.1:
    // 2.50980633e-8 m; 0.01 g²/Hz at 200 Hz, Q = 20: √(Q S₀/(32 π³ f₀³)) = 4.9225585e-5 m
    expectClose(Math.sqrt((1e-12 / 2) * (stationaryCovariance(oscillator(0.1))[0][0] as number)), 2.50980633e-8, 1e-8)
    const w = 2 * Math.PI * 200
    const sharp = rational([1], [1, w / 20, w * w])
    const intensity = (0.01 * 9.80665 ** 2) / 2
    expectClose(Math.sqrt(stationaryCovariance(sharp, { intensity })[0][0] as number), 4.9225585e-5, 1e-8)
  })

  it('keeps its digits at a damping ratio of 1e-8', () => {
    // computed from the closed form; ε/ζ of the digits are lost where the poles are rounded
    expectClose(stationaryCovariance(oscillator(1e-8))[1][1], 1989436.788648692, 1e-7)
  })

  it('of a mount with a relaxing branch: the third-order example', () => {
    // Stretch, velocity, branch; stiffness ratio 3, ζ = 0.59292706, 2 Hz: P22 = 18.5445648 [(m/s)² per unit white velocity],
    // computed by a Lyapunov solver and by integration of |T|² (9.27228238 Hz is half of it)
    const [k, ratio, zeta] = [w0 * w0, 3, 0.59292706]
    const [branch, c] = [ratio * k, 2 * zeta * w0]
    const zener = stateSpace({
      A: [
        [0, 1, 0],
        [-k - branch, 0, branch],
        [branch / c, 0, -branch / c],
      ],
      B: [[-1], [0], [0]],
      C: [[0, 1, 0]],
    })
    // Nine digits are given.
    expectClose(stationaryCovariance(zener)[0][0], 18.5445648, 1e-8)
  })

  it('correlates outputs under one noise, and scales with its intensity', () => {
    // by hand: X_ij = 1/(a_i + a_j) for lags 1/(s + 1) and 1/(s + 2)
    const pair = stateSpace({
      A: [
        [-1, 0],
        [0, -2],
      ],
      B: [[1], [1]],
      C: [
        [1, 0],
        [0, 1],
      ],
    })
    const [[a, b], [c, d]] = stationaryCovariance(pair)
    for (const [found, expected] of [
      [a, 1 / 2],
      [b, 1 / 3],
      [c, 1 / 3],
      [d, 1 / 4],
    ])
      expectClose(found, expected)
    expectClose(stationaryCovariance(pair, { intensity: 6 })[0][1], 2)
    expect(stationaryCovariance(pair, { intensity: 0 })).toEqual([
      [0, 0],
      [0, 0],
    ])
  })

  it('adds the direct gain of a discrete system', () => {
    // by hand: x ← x/2 + w has the variance 1/(1 − 1/4); y = 3 x + 2 w adds 4
    const digital = {
      ...discretize(gain(1), { sampleTime: 1, method: 'bilinear' }),
      A: [[0.5]],
      B: [[1]],
      C: [[3]],
      D: [[2]],
      states: ['x'],
    }
    expectClose(stationaryCovariance(digital)[0][0], 16)
  })

  it('of a pole just left of the axis is right or refused, never wrong', () => {
    // computed from the closed form 1/(2a) of 1/(s + a); beside a pole of 1e6 the small one has its own digits
    for (const a of [1e-3, 1e-9, 1e-15, 1e-100]) expectClose(stationaryCovariance(rational([1], [1, a]))[0][0], 0.5 / a)
    const pair = (a: number, coupling: number) =>
      stateSpace({
        A: [
          [-a, coupling],
          [coupling, -1e6],
        ],
        B: [[1], [0]],
        C: [[1, 0]],
      })
    expectClose(stationaryCovariance(pair(1e-6, 0))[0][0], 5e5)
    // With a coupling of 1 the determinant a·1e6 − 1 vanishes at a = 1e-6: the pole is 0 but for rounding.
    expect(['unstable', 'ill-conditioned']).toContain(refusal(() => stationaryCovariance(pair(1e-6, 1))).code)
  })

  it('is told as long as it is a number, whatever the units on the way', () => {
    // b² c² W/2 of c b/(s + 1)
    const of = (b: number, c: number, intensity: number) =>
      stationaryCovariance(stateSpace({ A: [[-1]], B: [[b]], C: [[c]] }), { intensity })[0][0]
    expect(of(1e200, 1e-150, 1) / 1e100).toBeCloseTo(0.5, 12)
    expect(of(1e200, 1, 1e-200) / 1e200).toBeCloseTo(0.5, 12)
    expect(of(1e-200, 1e100, 1) / 1e-200).toBeCloseTo(0.5, 12)
    expect([of(0, 1e300, 1), of(1, 1, 0)]).toEqual([0, 0])
    // an output that the input does not reach, whatever the units of both
    const apart = stateSpace({ A: [[-1, 0], [0, -1]], B: [[1e200], [0]], C: [[0, 1e200]] }) // biome-ignore format: matrices
    expect(stationaryCovariance(apart)).toEqual([[0]])
  })

  it('is refused where there is none', () => {
    expect(refusal(() => stationaryCovariance(rational([1, 0], [1, 1])))).toMatchObject({ code: 'improper' })
    expect(refusal(() => stationaryCovariance(rational([1], [1, 0]))).code).toBe('unstable')
    expect(refusal(() => stationaryCovariance(rational([1], [1, -1]))).code).toBe('unstable')
    expect(refusal(() => stationaryCovariance(delay({ seconds: 1 }))).code).toBe('unsupported')
    expect(refusal(() => stationaryCovariance(oscillator(0.1), { intensity: -1 })).code).toBe('out-of-range')
    expect(refusal(() => stationaryCovariance(oscillator(0.1), { density: 1 } as never)).details.path).toBe('density')
  })
})
