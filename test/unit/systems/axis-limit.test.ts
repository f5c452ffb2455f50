import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { axisLimit } from '../../../src/systems/axis-limit.js'
import { stateSpace } from '../../../src/systems/index.js'

/** An integrator of the difference of two equal lags, which the response does not show, beside a ring of three states. */
const beside = (ring: number) =>
  stateSpace({
    A: [
      [0, 1, -1, 0, 0, 0],
      [0, -1, 0, 0, 0, 0],
      [0, 0, -1, 0, 0, 0],
      [0, 0, 0, -1, 0, ring],
      [0, 0, 0, 1, -1, 0],
      [0, 0, 0, 0, 1, -1],
    ],
    B: [[0], [1], [1], [1], [0], [0]],
    C: [[1, 0, 0, 0, 0, 1]],
  })

describe('axisLimit', () => {
  // The limit is extrapolated over 1e-5 of the distance to the next pole: six digits, as documented.
  const digits = 1e-6

  it('is the response where no pole is at the place', () => {
    const lag = stateSpace({ A: [[-2]], B: [[3]], C: [[1]] })
    expect(axisLimit(scopeOf('test'), lag, 0, 0)).toEqual({ re: 1.5, im: 0, pole: false })
  })

  it('is the limit where the pole is hidden', () => {
    // by hand: the ring is 1/((s + 1)³ − g), 2 at s = 0 with g = 1/2
    const { re, im, pole } = axisLimit(scopeOf('test'), beside(0.5), 0, 0)
    expect([pole, im]).toEqual([false, 0])
    expect(Math.abs(re / 2 - 1)).toBeLessThan(digits)
  })

  it('is that of a pole of 1e-6 rad/s among rates of 1, too (fault: the rate was guessed from pairs of entries)', () => {
    // by hand: 1/(1 − g) = 1/3e-6 with g = 1 − 3e-6, whose digits above ε are lost to ε/3e-6
    const { re, pole } = axisLimit(scopeOf('test'), beside(1 - 3e-6), 0, 0)
    expect(pole).toBe(false)
    expect(Math.abs(re * 3e-6 - 1)).toBeLessThan(digits)
  })

  it('is away from 0 Hz and for delays the same', () => {
    // by hand: 1/(s + 1) at s = 2j beside an oscillator at 2 rad/s that nothing drives
    const oscillator = stateSpace({
      A: [
        [-1, 0, 0],
        [0, 0, 2],
        [0, -2, 0],
      ],
      B: [[1], [0], [0]],
      C: [[1, 1, 0]],
    })
    const { re, im, pole } = axisLimit(scopeOf('test'), oscillator, 0, 2)
    expect(pole).toBe(false)
    expect(Math.hypot(re - 0.2, im + 0.4)).toBeLessThan(digits)
  })

  it('is right where several hidden poles come out of rounding around the place', () => {
    // by hand: 1/(s + 1) beside [1 −1; 1 −1], whose double eigenvalue 0 comes out as ±1e-8, driven along (1, 1), which the
    // output (1, −1) does not see
    const nilpotent = stateSpace({
      A: [
        [1, -1, 0],
        [1, -1, 0],
        [0, 0, -1],
      ],
      B: [[1], [1], [1]],
      C: [[1, -1, 1]],
    })
    const { re, pole } = axisLimit(scopeOf('test'), nilpotent, 0, 0)
    expect(pole).toBe(false)
    expect(Math.abs(re - 1)).toBeLessThan(1e-9)
  })

  it('is as good away from 0, where the next pole is close by', () => {
    // by hand: 1/(z − 0.9999) at z = 1 beside 1/(z − 1), driven along what cancels, and at z = −1 beside 1/(z + 1)
    const beside = (place: number) =>
      stateSpace({
        A: [
          [place, 1, -1, 0],
          [0, 0.5, 0, 0],
          [0, 0, 0.5, 0],
          [0, 0, 0, place * 0.9999],
        ],
        B: [[0], [1], [1], [1]],
        C: [[1, 0, 0, 1]],
      })
    for (const place of [1, -1]) {
      const { re, pole } = axisLimit(scopeOf('test'), beside(place), place, 0)
      expect(pole).toBe(false)
      expect(Math.abs(re * place * 1e-4 - 1)).toBeLessThan(digits)
    }
  })

  it('is told to be a pole where the response grows', () => {
    const integrator = stateSpace({ A: [[0]], B: [[-4]], C: [[1]] })
    const { re, pole } = axisLimit(scopeOf('test'), integrator, 0, 0)
    expect(pole).toBe(true)
    expect(re).toBeLessThan(0)
  })
})
