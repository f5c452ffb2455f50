import { describe, expect, it } from 'vitest'
import { closedDelays } from '../../../src/linear/closed-delays.js'
import { complexZeros } from '../../../src/linear/complex-lu.js'
import type { DelayedSystem } from '../../../src/linear/delayed-solve.js'
import { zeros } from '../../../src/linear/dense.js'

/** A system of p outputs, m inputs and delays [s], of which only the sizes are looked at. */
const systemOf = (p: number, m: number, seconds: readonly number[]) => {
  const d = seconds.length
  return { A: zeros(1, 1), B: zeros(1, m + d), C: zeros(p + d, 1), D: zeros(p + d, m + d), seconds } as DelayedSystem
}
const openOf = (rows: number, columns: number, entries: readonly [number, number][]) => {
  const value = complexZeros(rows, columns)
  entries.forEach(([re, im], k) => {
    value.re[k] = re
    value.im[k] = im
  })
  return { value, bound: new Float64Array(rows * columns).fill(1e-15) }
}

describe('closedDelays', () => {
  // a + b (e^(sτ) − d)⁻¹ c, by hand: s = 1 + 2j, τ = 0.5: e^(sτ) = e^0.5 (cos 1 + j sin 1) = 0.89079 + 1.38735j
  it('closes one delay through its number', () => {
    const open = openOf(2, 2, [
      [1, 2],
      [0.5, -1],
      [2, 1],
      [0.25, 0.5],
    ])
    const found = closedDelays(systemOf(1, 1, [0.5]))(open, 1, 2)
    const [nr, ni] = [Math.exp(0.5) * Math.cos(1) - 0.25, Math.exp(0.5) * Math.sin(1) - 0.5]
    // b c = (0.5 − j)(2 + j) = 2 − 1.5j
    const square = nr * nr + ni * ni
    expect(found?.value.re[0]).toBeCloseTo(1 + (2 * nr - 1.5 * ni) / square, 14)
    expect(found?.value.im[0]).toBeCloseTo(2 + (-1.5 * nr - 2 * ni) / square, 14)
    expect(found?.bound[0]).toBeGreaterThan(1e-15)
    expect(found?.bound[0]).toBeLessThan(1e-13)
  })

  it('closes two delays that do not meet as one after the other: their parts add', () => {
    const parts: [number, number][] = [
      [1, 2],
      [0.5, -1],
      [0.3, 0.7],
      [2, 1],
      [0.25, 0.5],
      [0, 0],
      [1, -1],
      [0, 0],
      [-0.5, 0.1],
    ]
    const both = closedDelays(systemOf(1, 1, [0.5, 0.2]))(openOf(3, 3, parts), 1, 2)
    const alone = (at: readonly number[], tau: number) =>
      closedDelays(systemOf(1, 1, [tau]))(
        openOf(
          2,
          2,
          at.map((k) => parts[k]),
        ),
        1,
        2,
      )
    const first = alone([0, 1, 3, 4], 0.5)
    const [firstRe, firstIm] = [first?.value.re[0] ?? 0, first?.value.im[0] ?? 0]
    const second = alone([0, 2, 6, 8], 0.2)
    const [secondRe, secondIm] = [second?.value.re[0] ?? 0, second?.value.im[0] ?? 0]
    expect(both?.value.re[0]).toBeCloseTo(firstRe + secondRe - 1, 13)
    expect(both?.value.im[0]).toBeCloseTo(firstIm + secondIm - 2, 13)
  })

  it('has no answer at a pole of the closed system', () => {
    const open = openOf(2, 2, [
      [1, 0],
      [1, 0],
      [1, 0],
      [1, 0],
    ])
    expect(closedDelays(systemOf(1, 1, [0.5]))(open, 0, 0)).toBeNull()
  })
})
