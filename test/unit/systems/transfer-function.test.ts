import { describe, expect, it } from 'vitest'
import { frequencyResponse, poles, stability, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const responseAt = (numerator: number[], denominator: number[], omega: number) => {
  const { re, im } = frequencyResponse(transferFunction({ numerator, denominator }), [omega / (2 * Math.PI)])
  return [re[0], im[0]]
}
const expectResponse = (got: number[], expected: number[], relative: number) => {
  const distance = Math.hypot(got[0] - expected[0], got[1] - expected[1])
  expect(distance).toBeLessThanOrEqual(relative * Math.hypot(expected[0], expected[1]))
}

// A handful of operations on coefficients of one magnitude.
const rounding = 1e-14

describe('transferFunction', () => {
  it('takes coefficients in descending powers of s', () => {
    // computed from the closed form (s² + 2s + 3)/(2s² + 4s + 10) at s = 2i
    expectResponse(responseAt([1, 2, 3], [2, 4, 10], 2), [0.4411764705882353, 0.23529411764705882], rounding)
    // computed from the closed form (3s + 1)/(s³ + 2s²) at s = i/2, a double integrator
    expectResponse(responseAt([3, 1], [1, 2, 0, 0], 0.5), [-2.588235294117647, -2.3529411764705883], rounding)
  })

  it('drops leading zeros and takes typed arrays', () => {
    const plain = transferFunction({ numerator: [3, 1], denominator: [1, 2, 0, 0] })
    const padded = {
      numerator: Float64Array.of(0, 0, 0, 0, 3, 1),
      denominator: Float64Array.of(0, 0, 1, 2, 0, 0),
    }
    expect(transferFunction(padded)).toEqual(plain)
    expect(plain.states.length).toBe(3)
  })

  it('has as many states as the denominator has degrees, and its feedthrough is the ratio of the leading coefficients', () => {
    // by hand
    expect(transferFunction({ numerator: [6], denominator: [3] })).toMatchObject({ A: [], B: [], C: [[]], D: [[2]] })
    expect(transferFunction({ numerator: [6, 0], denominator: [3, 1] }).D).toEqual([[2]])
    expect(transferFunction({ numerator: [6], denominator: [3, 1] }).D).toEqual([[0]])
    expect(transferFunction({ numerator: [0], denominator: [1, 0, 0] })).toMatchObject({ C: [[0, 0]], D: [[0]] })
  })

  it('keeps factors that cancel', () => {
    const { states } = transferFunction({ numerator: [1, 1], denominator: [1, 3, 2] })
    expect(states.length).toBe(2)
  })

  it('carries the names it is given', () => {
    const named = transferFunction({ numerator: [1], denominator: [1, 1], input: 'voltage', output: 'force' })
    expect([named.inputs, named.outputs, named.states]).toEqual([['voltage'], ['force'], ['x1']])
  })

  describe('with poles over eight decades, known by their coefficients only', () => {
    const numerator = [6.720000000000001]
    const denominator = [
      1, 10700.4011, 7005891.8020401, 19928556.5895848, 11205721528.371721, 3596432351.5682945, 71143637.25796147,
      74278.410608, 6.720000000000001,
    ]
    const system = transferFunction({ numerator, denominator })

    it('finds the poles and stays stable', () => {
      // roots of the exact binary coefficients at 120 digits, checked by Vieta
      const expected = [
        [-1e-4, 0],
        [-0.0010000000000000002, 0],
        [-0.019999999999999997, 0],
        [-0.3, 0],
        [-0.04000000000000015, 39.999979999995],
        [-0.04000000000000015, -39.999979999995],
        [-700.0000000000001, 0],
        [-9999.999999999998, 0],
      ]
      const found = poles(system)
      expect(found.length).toBe(8)
      for (const [re, im] of expected) {
        const distance = Math.min(...found.map((pole) => Math.hypot(pole.re - re, pole.im - im)))
        expect(distance).toBeLessThanOrEqual(1e-8 * Math.hypot(re, im))
      }
      expect(stability(system).verdict).toBe('stable')
    })

    it.each([
      // exact binary coefficients at 120 digits
      [0.0001, 0.44262832022796866, -0.5469161216827446],
      [0.01, -0.0008235648786128092, 0.00033594936232553393],
      [1, 5.473626601045367e-10, 1.7592425639915507e-10],
      [40, -6.203933497888629e-15, -1.1682779126484887e-13],
      [5000, 2.429216005596894e-30, 7.22208666475351e-30],
    ])('responds right at %f rad/s', (omega, re, im) => {
      expectResponse(responseAt(numerator, denominator, omega), [re, im], 1e-8)
    })

    it('has no entry in its matrices that stands alone', () => {
      // The companion form as written spans ten decades in one row; balanced rows and columns meet in the middle.
      const sizes = system.A.map((row, i) => [
        Math.max(...row.map(Math.abs)),
        Math.max(...system.A.map((other) => Math.abs(other[i]))),
      ])
      for (const [row, column] of sizes.slice(1, -1)) expect(Math.max(row / column, column / row)).toBeLessThan(300)
    })
  })

  it.each([1e-10, 1e10])('holds twenty poles at %f rad/s, whose coefficients reach 1e±200', (pole) => {
    let denominator = [1]
    for (let k = 0; k < 20; k++)
      denominator = [...denominator, 0].map((entry, i) => entry + pole * (denominator[i - 1] ?? 0))
    // computed from the closed form (1 + i)^(−20) = −2⁻¹⁰; rounding of the coefficients counts by their binomial sum, 2¹⁰
    expectResponse(responseAt([denominator[20]], denominator, pole), [-(2 ** -10), 0], 1e-11)
  })

  it('does not change with the unit of time', () => {
    const base = transferFunction({ numerator: [1, 2], denominator: [1, 3, 5, 7] })
    for (const unit of [2 ** -20, 2 ** 20]) {
      // coefficients of the same curve with s in units of `unit`
      const scaled = transferFunction({
        numerator: [unit ** 2, 2 * unit ** 3],
        denominator: [1, 3 * unit, 5 * unit ** 2, 7 * unit ** 3],
      })
      const a = frequencyResponse(base, [0.5])
      const b = frequencyResponse(scaled, [0.5 * unit])
      expect(b.re[0]).toBeCloseTo(a.re[0], 14)
      expect(b.im[0]).toBeCloseTo(a.im[0], 14)
    }
  })

  it('refuses a numerator of higher degree', () => {
    const error = refusal(() => transferFunction({ numerator: [1, 0, 0], denominator: [1, 1] }))
    expect(error).toMatchObject({ code: 'improper', details: { path: 'numerator', value: 2, allowed: '0 to 1' } })
  })

  it('refuses what is no polynomial', () => {
    const call = (numerator: unknown, denominator: unknown, more = {}) =>
      refusal(() => transferFunction({ numerator, denominator, ...more } as never))
    expect(call([1], [0, 0])).toMatchObject({ code: 'invalid-option', details: { path: 'denominator' } })
    expect(call([1], [])).toMatchObject({ code: 'invalid-option', details: { path: 'denominator' } })
    expect(call([], [1])).toMatchObject({ code: 'invalid-option', details: { path: 'numerator' } })
    expect(call(1, [1])).toMatchObject({ code: 'invalid-option', details: { path: 'numerator' } })
    expect(call([1], [1, Number.NaN])).toMatchObject({ code: 'not-finite', details: { path: 'denominator[1]' } })
    expect(call([1], [1, 1], { gain: 1 })).toMatchObject({ code: 'invalid-option', details: { path: 'gain' } })
    expect(call([1], [1, 1], { input: '' })).toMatchObject({ code: 'invalid-option', details: { path: 'input' } })
    expect(call([1], [1e-300, 1, 1e300])).toMatchObject({ code: 'not-finite' })
    expect(call([1e300], [1e-300])).toMatchObject({ code: 'not-finite' })
  })
})
