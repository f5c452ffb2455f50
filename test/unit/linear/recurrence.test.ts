import { describe, expect, it } from 'vitest'
import { type Dense, denseFrom } from '../../../src/linear/dense.js'
import { type Recurrence, runRecurrence } from '../../../src/linear/recurrence.js'

/** The equations of a recurrence, one after the other as they are written. */
function stepped({ A, now, next, C, D }: Recurrence, samples: Float64Array, count: number, start: readonly number[]) {
  const times = (M: Dense, x: readonly number[]) =>
    Array.from({ length: M.rows }, (_, i) => x.reduce((sum, value, j) => sum + M.data[i * M.columns + j] * value, 0))
  const add = (...lists: readonly number[][]) => lists[0].map((_, i) => lists.reduce((sum, list) => sum + list[i], 0))
  const input = (k: number) => Array.from(samples.subarray(k * D.columns, (k + 1) * D.columns))
  let x = [...start]
  const outputs: number[][] = []
  for (let k = 0; k < count; k++) {
    outputs.push(add(times(C, x), times(D, input(k))))
    if (k === count - 1) break
    x = add(times(A, x), times(now, input(k)), next === null ? x.map(() => 0) : times(next, input(k + 1)))
  }
  return { outputs, x }
}

/** Entries of no pattern, and a state matrix that lets them die down. */
const entries = (rows: number, columns: number, size: number, seed: number) =>
  denseFrom(
    Array.from({ length: rows }, (_, i) =>
      Array.from({ length: columns }, (_, j) => size * Math.sin(seed + 7.3 * i + 3.1 * j + i * j)),
    ),
    columns,
  )

describe('runRecurrence', () => {
  // In blocks or in single steps, the answer is that of the equations: derived, by their definition.
  it.each([
    ['one state, one channel', 1, 1, 1, 50],
    ['twelve states, one channel, in blocks', 12, 1, 1, 1000],
    ['twelve states, three inputs, two outputs', 12, 3, 2, 1000],
    ['seven states, five outputs', 7, 1, 5, 777],
    ['thirty states, one channel, a count that is no multiple of the blocks', 30, 1, 1, 2003],
    ['a single sample', 5, 2, 2, 1],
  ])('%s', (_, n, m, p, count) => {
    const A = entries(n, n, 0.6 / Math.sqrt(n), 1)
    for (const next of [null, entries(n, m, 0.5, 2)]) {
      const step: Recurrence = { A, now: entries(n, m, 1, 3), next, C: entries(p, n, 1, 4), D: entries(p, m, 1, 5) }
      const samples = Float64Array.from({ length: count * m }, (_, k) => Math.cos(k * k))
      const start = Array.from({ length: n }, (_, i) => Math.sin(i))
      const state = Float64Array.from(start)
      const found = runRecurrence(step, samples, count, state)
      const { outputs, x } = stepped(step, samples, count, start)
      const size = Math.max(...outputs.flat().map(Math.abs))
      const worst = outputs.flatMap((row, k) => row.map((value, o) => Math.abs(found[o][k] - value)))
      expect(Math.max(...worst)).toBeLessThan(1e-12 * size)
      expect(Math.max(...x.map((value, i) => Math.abs(state[i] - value)))).toBeLessThan(1e-12 * size)
    }
  })

  it('steps one by one where the power of the matrix that a block takes overflows', () => {
    const A = denseFrom([[1e200]], 1)
    const one = denseFrom([[1]], 1)
    const still = { A: denseFrom([[0]], 1), now: one, next: null, C: one, D: one, power: () => null }
    const samples = Float64Array.from({ length: 100 }, (_, k) => k)
    const [found] = runRecurrence(still, samples, 100, new Float64Array(1))
    expect(Array.from(found.slice(0, 4))).toEqual([0, 1, 3, 5])
    const [grown] = runRecurrence({ A, now: one, next: null, C: one, D: one }, samples, 2, new Float64Array(1))
    expect(Array.from(grown)).toEqual([0, 1])
  })

  it('takes the state across a block by the power that it is given', () => {
    // x[k+1] = x[k]/2 of twelve states, nothing coming in: 2^−k, until a power that is nothing forgets the state
    const n = 12
    const A = denseFrom(
      Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? 0.5 : 0))),
      n,
    )
    const one = denseFrom([new Array<number>(n).fill(1 / n)], n)
    const still = denseFrom([[0]], 1)
    const asked: number[] = []
    const power = (exponent: number) => {
      asked.push(exponent)
      return denseFrom(
        Array.from({ length: n }, () => new Array<number>(n).fill(0)),
        n,
      )
    }
    const none = denseFrom(
      Array.from({ length: n }, () => [0]),
      1,
    )
    const step: Recurrence = { A, now: none, next: null, C: one, D: still, power }
    const [found] = runRecurrence(step, new Float64Array(1000), 1000, new Float64Array(n).fill(1))
    const [length] = asked
    expect([asked.length, Math.log2(length) % 1]).toEqual([1, 0])
    expect(length).toBeGreaterThan(1)
    for (let k = 0; k < length; k++) expect(found[k]).toBeCloseTo(2 ** -k, 14)
    expect(Array.from(found.slice(length)).every((value) => value === 0)).toBe(true)
  })
})
