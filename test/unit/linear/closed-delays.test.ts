import { describe, expect, it } from 'vitest'
import { closedDelays } from '../../../src/linear/closed-delays.js'
import { complexZeros } from '../../../src/linear/complex-lu.js'
import type { DelayedSystem } from '../../../src/linear/delayed-solve.js'
import { zeros } from '../../../src/linear/dense.js'
import { closedBy, minus, type Number2, plus, size } from './known-systems.js'

/** A system of p outputs, m inputs and delays [s], of which only the sizes are looked at. */
const systemOf = (p: number, m: number, seconds: readonly number[]) => {
  const d = seconds.length
  return { A: zeros(1, 1), B: zeros(1, m + d), C: zeros(p + d, 1), D: zeros(p + d, m + d), seconds } as DelayedSystem
}
const openOf = (rows: number, columns: number, entries: readonly Number2[]) => {
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

describe('the bound that a closed response inherits', () => {
  const entry = (k: number): Number2 => [Math.sin(3 * k + 1), Math.cos(5 * k)]
  const s: Number2 = [0.4, 2]
  const shapes: [number, number, number[]][] = [
    [1, 1, [0.5]],
    [2, 3, [0.5]],
    [1, 1, [0.5, 0.2]],
    [2, 2, [0.5, 0.2]],
  ]

  it.each(shapes)(
    'is what an error of one entry of the open one does to it: %i outputs, %i inputs, delays %j',
    (p, m, seconds) => {
      const d = seconds.length
      const [rows, columns] = [p + d, m + d]
      const exact = Array.from({ length: rows * columns }, (_, k) => entry(k))
      const rowsOf = (list: Number2[]) =>
        Array.from({ length: rows }, (_, i) => list.slice(i * columns, (i + 1) * columns))
      const before = closedBy(rowsOf(exact), seconds, s).flat()
      const close = closedDelays(systemOf(p, m, seconds))
      exact.forEach((value, k) => {
        const open = openOf(rows, columns, exact)
        const off = 1e-6
        open.bound.fill(0)
        open.bound[k] = off
        const found = close(open, ...s)
        // From the definition, with that entry moved by the error in two directions
        const moved = [
          [off, 0],
          [0, off],
        ].map(
          (
            step, // biome-ignore format: pairs
          ) =>
            closedBy(
              rowsOf(exact.map((other, at) => (at === k ? plus(value, step as unknown as Number2) : other))),
              seconds,
              s,
            ).flat(),
        )
        before.forEach((old, e) => {
          const change = Math.max(...moved.map((list) => size(minus(list[e], old))))
          const bound = found?.bound[e] as number
          expect(size(minus(old, [found?.value.re[e] as number, found?.value.im[e] as number]))).toBeLessThan(1e-13)
          expect(bound).toBeGreaterThanOrEqual(change * (1 - 1e-4))
          // 1.2 times as much, and rounding
          expect(bound).toBeLessThan(1.21 * change + 1e-12)
        })
      })
    },
  )

  it('is rounding where the open one is exact', () => {
    const open = openOf(2, 2, [[1, 2], [0.5, -1], [2, 1], [0.25, 0.5]]) // biome-ignore format: pairs
    open.bound.fill(0)
    const { bound } = closedDelays(systemOf(1, 1, [0.5]))(open, 1, 2) as ReturnType<typeof openOf>
    expect(bound[0]).toBeGreaterThan(Number.EPSILON)
    expect(bound[0]).toBeLessThan(1e-13)
  })
})
