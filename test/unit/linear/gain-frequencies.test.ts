import { describe, expect, it } from 'vitest'
import { gainFrequencies } from '../../../src/linear/hamiltonian.js'
import { largestSingularValue } from '../../../src/linear/singular-value.js'
import { complexFrom, dense } from './known-systems.js'

describe('the frequencies at which a gain is reached', () => {
  it('of a lag is one: |1/(jω + 1)| = g at ω = √(1/g² − 1)', () => {
    const lag = { A: dense([[-1]]), B: dense([[1]]), C: dense([[1]]), D: dense([[0]]) }
    expect(gainFrequencies(lag, 0.1)).toEqual([expect.closeTo(Math.sqrt(99), 10)])
    expect(gainFrequencies(lag, 0.8)).toEqual([expect.closeTo(0.75, 12)])
    expect(gainFrequencies(lag, 1.1)).toEqual([])
  })

  it('of a resonance are two, by ascending frequency', () => {
    // |1/(1 − x + 0.2 j √x)|² = 1/((1 − x)² + 0.04 x) = 4, x = ω²: x² − 1.96 x + 0.75 = 0, by hand
    const resonance = { A: dense([[0, 1], [-1, -0.2]]), B: dense([[0], [1]]), C: dense([[1, 0]]), D: dense([[0]]) } // biome-ignore format: one line
    const root = Math.sqrt(0.98 ** 2 - 0.75)
    expect(gainFrequencies(resonance, 2)).toEqual([
      expect.closeTo(Math.sqrt(0.98 - root), 10),
      expect.closeTo(Math.sqrt(0.98 + root), 10),
    ])
  })

  it('counts the direct gain: |(jω + 3)/(jω + 1)| = g at ω² = (9 − g²)/(g² − 1)', () => {
    const lead = { A: dense([[-1]]), B: dense([[2]]), C: dense([[1]]), D: dense([[1]]) }
    expect(gainFrequencies(lead, 2)).toEqual([expect.closeTo(Math.sqrt(5 / 3), 10)])
    expect(gainFrequencies(lead, 3.01)).toEqual([])
  })

  it('of two channels is that of their singular values, of more inputs than outputs too', () => {
    // [1 2]/(s + 1): √5/|jω + 1| = 1 at ω = 2; the same as two outputs; by hand
    const wide = { A: dense([[-1]]), B: dense([[1, 2]]), C: dense([[1]]), D: dense([[0, 0]]) }
    const tall = { A: dense([[-1]]), B: dense([[1]]), C: dense([[1], [2]]), D: dense([[0], [0]]) }
    expect(gainFrequencies(wide, 1)).toEqual([expect.closeTo(2, 10)])
    expect(gainFrequencies(tall, 1)).toEqual([expect.closeTo(2, 10)])
    // diag(1/(s + 1), 6/(s + 2)) reaches 1 at 4√2 by the second alone, and 0.2 at √24 and √896
    const both = { A: dense([[-1, 0], [0, -2]]), B: dense([[1, 0], [0, 6]]), C: dense([[1, 0], [0, 1]]), D: dense([[0, 0], [0, 0]]) } // biome-ignore format: one line
    expect(gainFrequencies(both, 1.5)).toEqual([expect.closeTo(Math.sqrt(12), 10)])
    expect(gainFrequencies(both, 0.2)).toEqual([expect.closeTo(Math.sqrt(24), 8), expect.closeTo(Math.sqrt(896), 8)])
  })

  it('with a direct gain across channels', () => {
    // [1/(s + 1), 1]: √(1/(1 + ω²) + 1) = 1.25 at 1 + ω² = 1/0.5625, by hand; and turned on its side
    const row = { A: dense([[-1]]), B: dense([[1, 0]]), C: dense([[1]]), D: dense([[0, 1]]) }
    const column = { A: dense([[-1]]), B: dense([[1]]), C: dense([[1], [0]]), D: dense([[0], [1]]) }
    for (const system of [row, column]) {
      expect(gainFrequencies(system, 1.25)).toEqual([expect.closeTo(Math.sqrt(1 / 0.5625 - 1), 10)])
    }
  })
})

describe('the largest singular value', () => {
  it.each([
    // by hand
    ['a number', [[[3, -4]]], 5],
    ['a row', [[[1, 0], [0, 2], [2, 0]]], 3],
    ['a column', [[[1, 0]], [[0, 2]], [[0, -2]]], 3],
    ['nothing', [[[0, 0], [0, 0]], [[0, 0], [0, 0]]], 0],
    ['[1 j; j 1]: orthogonal columns of length √2', [[[1, 0], [0, 1]], [[0, 1], [1, 0]]], Math.SQRT2],
    ['[1 j; −j 1], which is of rank one', [[[1, 0], [0, 1]], [[0, -1], [1, 0]]], 2],
    ['[1 1; 0 1]: the golden ratio', [[[1, 0], [1, 0]], [[0, 0], [1, 0]]], 1.618033988749895],
    ['three rows of two: [3 0; 0 4j; 0 0]', [[[3, 0], [0, 0]], [[0, 0], [0, 4]], [[0, 0], [0, 0]]], 4],
    ['two rows of three of rank one: (1, 2j)ᵀ (2, 1, 2)', [[[2, 0], [1, 0], [2, 0]], [[0, 4], [0, 2], [0, 4]]], 3 * Math.sqrt(5)],
  ] as [string, [number, number][][], number][])('of %s', (_, rows, value) => {
    expect(largestSingularValue(complexFrom(rows))).toBeCloseTo(value, 13)
    const scaled = complexFrom(rows.map((row) => row.map(([re, im]) => [re * 1e200, im * 1e200] as const)))
    expect((largestSingularValue(scaled) as number) / 1e200).toBeCloseTo(value, 12)
  }) // biome-ignore format: matrices
})
