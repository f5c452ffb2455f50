import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { certifiedSteps, isTail } from '../../../src/systems/certified-step.js'
import { characteristicSum } from '../../../src/systems/characteristic-terms.js'
import { type StateSpace, stateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const scope = scopeOf('stability')
const sumOf = (inner: StateSpace, seconds: readonly number[]) => characteristicSum(scope, inner, seconds)
const states = (A: number[][], B: number[][], C: number[][]) => stateSpace({ A, B, C })
const near = (found: { re: number; im: number } | undefined, re: number, im: number, tolerance = 1e-13) => {
  expect(Math.hypot((found?.re ?? Number.NaN) - re, (found?.im ?? Number.NaN) - im)).toBeLessThan(tolerance)
}

describe('characteristicSum', () => {
  it('of one delay around a lag is 1 − e^(−sτ) k/(s + a)', () => {
    // by hand at s = j: 1 + 2 e^(−j)/(j + 1), with P = −2/(s + 1) and τ = 1
    const sum = sumOf(states([[-1]], [[-2]], [[1]]), [1])
    expect(sum.terms.map(({ seconds }) => seconds)).toEqual([1])
    near(sum.at(0, 1)?.value, 1 + Math.cos(1) - Math.sin(1), -Math.sin(1) - Math.cos(1))
  })

  it('of two coupled delays is the determinant, term by term', () => {
    // by hand: P = [1/(s + 1), 2/(s + 1); 3/(s + 2), 1/(s + 2)], det = (1 − 6)/((s + 1)(s + 2)), τ = 1 and 2, at s = 1
    const inner = states([[-1, 0], [0, -2]], [[1, 2], [3, 1]], [[1, 0], [0, 1]]) // biome-ignore format: small matrices
    const sum = sumOf(inner, [1, 2])
    const sample = sum.at(1, 0)
    near(sample?.terms[0], -Math.exp(-1) / 2, 0)
    near(sample?.terms[1], -Math.exp(-2) / 3, 0)
    near(sample?.terms[2], (-5 * Math.exp(-3)) / 6, 0)
    expect(sum.terms.map(({ seconds }) => seconds)).toEqual([1, 2, 3])
  })

  it('of three coupled delays has all seven terms, each with its sign', () => {
    // by hand: P = M/(s + 1), M = [1 2 0; 0 1 3; 4 0 1], at s = 1: single entries −1/2 e^(−τ), pairs det/4, all of them −25/8
    const M = [[1, 2, 0], [0, 1, 3], [4, 0, 1]] // biome-ignore format: matrix
    const unit = [[1, 0, 0], [0, 1, 0], [0, 0, 1]] // biome-ignore format: matrix
    const stable = unit.map((row) => row.map((value) => -value))
    const sum = sumOf(states(stable, M, unit), [0.1, 0.2, 0.4])
    const sample = sum.at(1, 0)
    const expected = [
      [0.1, -1 / 2],
      [0.2, -1 / 2],
      [0.3, 1 / 4],
      [0.4, -1 / 2],
      [0.5, 1 / 4],
      [0.6, 1 / 4],
      [0.7, -25 / 8],
    ]
    expect(sum.terms.map(({ seconds }) => seconds)).toEqual(expected.map(([seconds]) => expect.closeTo(seconds, 14)))
    for (const [k, [seconds, value]] of expected.entries()) near(sample?.terms[k], value * Math.exp(-seconds), 0)
    near(
      sample?.value,
      expected.reduce((total, [seconds, value]) => total + value * Math.exp(-seconds), 1),
      0,
    )
    // and at s = j, where det(I − e^(−sτ) P) is worked out by hand from its entries
    const other = sum.at(0, 1)
    const [re, im] = expected.slice(6).map(([seconds]) => {
      // −25 e^(−0.7j)/(1 + j)³, (1 + j)³ = −2 + 2j
      const [a, b] = [-25 * Math.cos(seconds), 25 * Math.sin(seconds)]
      return [(-2 * a + 2 * b) / 8, (-2 * b - 2 * a) / 8]
    })[0]
    near(other?.terms[6], re, im)
  })

  it('leaves out what vanishes: two delays that are fed by one signal and add up again', () => {
    const sum = sumOf(states([[-1, 0.3], [0.2, -2]], [[1, -1], [0.5, -0.5]], [[1, 4], [1, 4]]), [0.5, 0.7]) // biome-ignore format: small matrices
    expect(sum.terms.map(({ seconds }) => seconds)).toEqual([0.5, 0.7])
  })

  it('refuses more delays in one loop than it can take', () => {
    const rows = (count: number) => Array.from({ length: count }, () => [1])
    const many = states([[-1]], [rows(9).map(() => 1)], rows(9))
    expect(
      refusal(() =>
        sumOf(
          many,
          rows(9).map(() => 1),
        ),
      ),
    ).toMatchObject({ code: 'unsupported' })
  })
})

describe('certifiedSteps', () => {
  const onPath = () => 0
  const sum = sumOf(states([[-1]], [[-2]], [[1]]), [1])
  const at = (omega: number) => sum.at(0, omega) as NonNullable<ReturnType<typeof sum.at>>

  it('is no longer than the way to a zero of the sum', () => {
    // computed from the closed form: for k = 2, τ = 1.2091995761561454 the zero lies at ω = √3
    const limit = sumOf(states([[-1]], [[-2]], [[1]]), [1.2091995761561454])
    for (const from of [1, 1.5, 1.7, 1.732]) {
      const sample = limit.at(0, from) as NonNullable<ReturnType<typeof limit.at>>
      const step = certifiedSteps(limit)(sample, 10, onPath)
      expect(step).toBeGreaterThan(0)
      expect(step).toBeLessThan(1.7320508075688772 - from)
    }
  })

  it('finds nothing to prove where a zero lies as far beside the path as it must not', () => {
    // computed from the closed form: for k = 2, τ = 1.2091995761561454 the zero lies at ω = √3
    const limit = sumOf(states([[-1]], [[-2]], [[1]]), [1.2091995761561454])
    const sample = limit.at(0.01, 1.7320508075688772) as NonNullable<ReturnType<typeof limit.at>>
    expect(certifiedSteps(limit)(sample, 10, () => 0.02)).toBe(0)
    expect(certifiedSteps(limit)(sample, 10, () => 0.002)).toBeGreaterThan(1e-3)
  })

  it('is as long as it likes where the terms are small', () => {
    // by hand: |c| = 2/√(1 + ω²) ≤ 0.9 from ω = 2 on
    expect(certifiedSteps(sum)(at(30), 15, onPath)).toBe(15)
    expect(isTail(sum, at(30), 0, 0)).toBe(true)
    expect(isTail(sum, at(1), 0, 0)).toBe(false)
  })
})
