import { describe, expect, it } from 'vitest'
import { denseFrom, zeros } from '../../../src/linear/dense.js'
import { pencilZeros } from '../../../src/linear/pencil-zeros.js'

const tolerance = 1e-13
const zerosOf = (A: number[][], B: number[][], C: number[][], D: number[][]): [number, number][] => {
  const [n, m] = [A.length, D[0].length]
  const found = pencilZeros(
    { A: denseFrom(A, n), B: denseFrom(B, m), C: denseFrom(C, n), D: denseFrom(D, m) },
    tolerance,
  )
  if (found === null) throw new Error('no convergence')
  return Array.from(found.re, (re, k): [number, number] => [re, found.im[k]]).sort((a, b) => a[0] - b[0] || a[1] - b[1])
}
const expectSame = (found: [number, number][], expected: [number, number][], relative = 1e-12) => {
  expect(found.length).toBe(expected.length)
  expected.forEach(([re, im], k) => {
    expect(Math.hypot(found[k][0] - re, found[k][1] - im)).toBeLessThanOrEqual(relative * (Math.hypot(re, im) || 1))
  })
}
/** A chain of integrators closed by the polynomial, read through the numerator; ascending powers. */
const companion = (denominator: number[], numerator: number[]): [number[][], number[][], number[][], number[][]] => {
  const n = denominator.length
  const A = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => (i === n - 1 ? -denominator[j] : Number(j === i + 1))),
  )
  return [A, A.map((_, i) => [Number(i === n - 1)]), [A.map((_, j) => numerator[j] ?? 0)], [[0]]]
}

describe('pencilZeros', () => {
  it('are the roots of the numerator, whatever the excess of poles', () => {
    const denominator = [24, 50, 35, 10]
    expectSame(zerosOf(...companion(denominator, [5])), [])
    expectSame(zerosOf(...companion(denominator, [6, 2])), [[-3, 0]])
    expectSame(zerosOf(...companion(denominator, [10, 2, 1])), [
      [-1, -3],
      [-1, 3],
    ])
    expectSame(zerosOf(...companion(denominator, [0, 0, 0, 1])), [
      [0, 0],
      [0, 0],
      [0, 0],
    ])
  })

  it('are exact whole numbers with a direct gain of whole numbers', () => {
    // by hand: A − B C/D = [0 1; −6 −5] has −2 and −3
    expect(zerosOf([[0, 1], [0, 0]], [[0], [2]], [[3, 2.5]], [[1]])).toEqual([[-3, 0], [-2, 0]]) // biome-ignore format: small matrices
  })

  it('hold with a direct gain close to singular, by compression instead of division', () => {
    // by hand: 1 + 1/(s + 1) and 1e-9 + 1/(s + 3) side by side: −2 and −3 − 1e9
    const found = zerosOf([[-1, 0], [0, -3]], [[1, 0], [0, 1]], [[1, 0], [0, 1]], [[1, 0], [0, 1e-9]]) // biome-ignore format: small matrices
    expectSame(found, [[-1000000003, 0], [-2, 0]], 1e-6) // biome-ignore format: small matrices
  })

  it('of more inputs than outputs are those all of them share', () => {
    // by hand: (s + 2)/((s + 1)(s + 3)) from the first, (s + 2)/(s + 1)(s + 5)… from states that share −2: [1, 1] of lags
    const [A, C] = [[[-1, 0], [0, -3]], [[1, 1]]] // biome-ignore format: small matrices
    // (s + 3 + s + 1) b/…: both columns (1, 1) and (2, 2) leave s = −2
    expectSame(zerosOf(A, [[1, 2], [1, 2]], C, [[0, 0]]), [[-2, 0]]) // biome-ignore format: small matrices
    // Two independent columns leave none.
    expectSame(zerosOf(A, [[1, 0], [0, 1]], C, [[0, 0]]), []) // biome-ignore format: small matrices
  })

  it('of a system with more outputs than inputs are those of the dual', () => {
    const [A, B] = [[[-1, 0], [0, -3]], [[1], [1]]] // biome-ignore format: small matrices
    expectSame(zerosOf(A, B, [[1, 1], [2, 2]], [[0], [0]]), [[-2, 0]]) // biome-ignore format: small matrices
    expectSame(zerosOf(A, B, [[1, 0], [0, 1]], [[0], [0]]), []) // biome-ignore format: small matrices
  })

  it('are the hidden modes where nothing drives and nothing shows', () => {
    expectSame(zerosOf([[-4, 1], [0, -7]], [[0], [0]], [[0, 0]], [[1]]), [[-7, 0], [-4, 0]]) // biome-ignore format: small matrices
  })

  it('are none without states', () => {
    expect(zerosOf([], [], [[]], [[2]])).toEqual([])
  })
})

it('zeros of what neither is driven nor seen are all of its eigenvalues', () => {
  // by hand: [A − s I, 0; 0, 0] loses rank where A − s I does
  const found = pencilZeros(
    { A: denseFrom([[-1, 0], [0, -2]], 2), B: zeros(2, 1), C: zeros(1, 2), D: zeros(1, 1) }, // biome-ignore format: matrix
    1e-14,
  )
  expect(Array.from(found?.re ?? []).sort((a, b) => a - b)).toEqual([-2, -1])
})
