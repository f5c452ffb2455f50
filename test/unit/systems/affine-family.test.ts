import { describe, expect, it } from 'vitest'
import { affinePower, belongs, corners, familyOf, pointAt, valueAt } from '../../../src/systems/affine-family.js'
import type { Member } from '../../../src/systems/box-family.js'

const polynomial = (gain: number, ...re: number[]) => ({ gain, roots: { re: Float64Array.from(re), im: re.map(() => 0) as never } }) // biome-ignore format: one line
/** s + pole, and gain·e^(−sτ) where there is a delay */
const member = (pole: number, late?: { gain: number; seconds: number }): Member => ({
  states: 1,
  seconds: late === undefined ? [] : [late.seconds],
  polynomials: [polynomial(1, -pole), ...(late === undefined ? [] : [polynomial(late.gain)])],
})

describe('a parameter of a box', () => {
  it.each([1, -1, 2, -2, 0.5, -0.5])('reaches its ends to the last digit at a power of %d', (power) => {
    for (const [low, high] of [
      [0.1, 0.7],
      [3, 1e3 / 7],
      [1 / 3, 0.34],
    ]) {
      const axis = { name: 'k', low, high, power }
      expect([valueAt(axis, 0), valueAt(axis, 1)]).toEqual([low, high])
      // straight in the power, by hand
      expect(valueAt(axis, 0.25) ** power / (0.75 * low ** power + 0.25 * high ** power)).toBeCloseTo(1, 12)
    }
  })

  it('may go through 0 at a power of 1', () => {
    expect([0, 0.25, 1].map((t) => valueAt({ name: 'k', low: -3, high: 5, power: 1 }, t))).toEqual([-3, -1, 5])
  })

  it('has a place for each of several', () => {
    const axes = [
      { name: 'k', low: 1, high: 3, power: 1 },
      { name: 'm', low: 1, high: 0.25, power: -1 },
    ]
    expect(pointAt(axes, [0.5, 1])).toEqual({ k: 2, m: 0.25 })
    expect(corners(2)).toEqual([[0, 0], [1, 0], [0, 1], [1, 1]]) // biome-ignore format: pairs
  })
})

describe('a family that is affine', () => {
  const family = familyOf(1, ([t]) => member(1 + t, { gain: 2 - t, seconds: 0.5 + t }))
  const at = (t: number, more: object = {}) => ({ ...member(1 + t, { gain: 2 - t, seconds: 0.5 + t }), ...more })

  it('holds what lies between its nodes and beyond, and nothing else', () => {
    for (const t of [0, 0.3, 0.5, 1]) expect(belongs(family, [t], at(t))).toBe(true)
    expect(belongs(family, [0.3], at(0.30001))).toBe(false)
    expect(belongs(family, [0.3], { ...at(0.3), seconds: [0.8 + 1e-5] })).toBe(false)
    expect(belongs(family, [0.3], { ...at(0.3), polynomials: [polynomial(1, -1.3), polynomial(1.7 + 1e-5)] })).toBe(
      false,
    )
    expect(belongs(family, [0.3], { ...at(0.3), polynomials: [polynomial(1, -1.3), polynomial(-1.7)] })).toBe(false)
  })

  it('holds no system of another order or with other delays', () => {
    expect(belongs(family, [0.3], at(0.3, { states: 2 }))).toBe(false)
    expect(belongs(family, [0.3], at(0.3, { seconds: [0.8, 1] }))).toBe(false)
    const changing = familyOf(1, ([t]) => ({ ...at(t), states: t < 0.5 ? 1 : 2 }))
    expect(belongs(changing, [0.3], at(0.3))).toBe(false)
  })

  it('has the power in which a parameter enters', () => {
    const axis = (low: number) => [{ name: 'p', low, high: 4, power: 1 }]
    const powerOf = (enters: (p: number) => number, low = 0.5) =>
      affinePower(axis(low), 0, (axes, [t]) => member(1 + enters(valueAt(axes[0], t))))
    expect(powerOf((p) => 3 * p)).toBe(1)
    expect(powerOf((p) => 3 / p)).toBe(-1)
    expect(powerOf((p) => p * p)).toBe(2)
    expect(powerOf((p) => 1 / (p * p))).toBe(-2)
    expect(powerOf(Math.sqrt)).toBe(0.5)
    expect(powerOf((p) => 1 / Math.sqrt(p))).toBe(-0.5)
    expect(powerOf(Math.exp)).toBeUndefined()
    expect(powerOf((p) => p * p, -1)).toBeUndefined()
  })
})
