import { describe, expect, it } from 'vitest'
import {
  delay,
  gain,
  integrator,
  poles,
  type StateSpace,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const ofState = (A: number[][]) => poles(stateSpace({ A, B: A.map(() => [1]), C: [A.map(() => 1)] }))

describe('poles', () => {
  it('have natural frequency and damping ratio', () => {
    // by hand: s² + 6 s + 25 = 0 at −3 ± 4j, |s| = 5
    const found = ofState([
      [0, 1],
      [-25, -6],
    ])
    expect(found.map(({ re, im }) => [re, im])).toEqual([
      [-3, 4],
      [-3, -4],
    ])
    for (const { naturalFrequency, dampingRatio } of found) {
      expect(naturalFrequency).toBeCloseTo(0.7957747154594768, 15)
      expect(dampingRatio).toBeCloseTo(0.6, 15)
    }
  })

  it('stand by ascending natural frequency, conjugates side by side', () => {
    const A = [
      [-9, 0, 0, 0, 0],
      [0, 0, 1, 0, 0],
      [0, -4, -0.2, 0, 0],
      [0, 0, 0, 0.5, 0],
      [0, 0, 0, 0, 0],
    ]
    // by hand: 0, 0.5, −0.1 ± j√3.99, −9
    const found = ofState(A)
    expect(found.map(({ re }) => re)).toEqual([0, 0.5, -0.1, -0.1, -9])
    expect(found[2].im).toBeCloseTo(1.997498435543818, 14)
    expect(found[3].im).toBe(-found[2].im)
  })

  it('have no damping ratio at the origin, −1 on the right, 0 on the axis', () => {
    expect(poles(integrator())).toEqual([{ re: 0, im: 0, naturalFrequency: 0, dampingRatio: null }])
    expect(ofState([[2]])[0].dampingRatio).toBe(-1)
    const undamped = ofState([
      [0, 1],
      [-4, 0],
    ])
    expect(undamped.map(({ dampingRatio }) => Object.is(dampingRatio, 0))).toEqual([true, true])
  })

  it('include hidden modes, and are none without states', () => {
    // by hand: the lag at −1 cancels the zero of the second block
    const hidden = series(
      transferFunction({ numerator: [1], denominator: [1, 1] }),
      transferFunction({ numerator: [1, 1], denominator: [1, 5] }),
    )
    expect(poles(hidden).map(({ re }) => Math.round(re * 1e9) / 1e9)).toEqual([-1, -5])
    expect(poles(gain(3))).toEqual([])
  })

  it('leave the system alone', () => {
    const system = transferFunction({ numerator: [1], denominator: [1, 2, 3] })
    const before = structuredClone(system)
    poles(system)
    expect(system).toEqual(before)
  })

  it('are refused with delays, and say what to do', () => {
    const error = refusal(() => poles(series(integrator(), delay({ seconds: 1 }))))
    expect(error.code).toBe('unsupported')
    expect(error.message).toContain('pade')
  })

  it('are refused for what is no system, by the path of the fault', () => {
    const refused = (system: unknown) => refusal(() => poles(system as StateSpace))
    const good = integrator()
    expect(refused(null).code).toBe('invalid-option')
    expect(refused({ ...good, kind: 'Mount' }).code).toBe('invalid-option')
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(refused({ ...good, A: [[value]] })).toMatchObject({
        code: 'not-finite',
        details: { function: 'poles', path: 'system.A[0][0]' },
      })
    }
    expect(refused({ ...good, A: [[1, 2]] })).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'system.A[0]' },
    })
  })
})
