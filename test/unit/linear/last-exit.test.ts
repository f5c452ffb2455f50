import { describe, expect, it } from 'vitest'
import { lastExit } from '../../../src/linear/last-exit.js'
import { dense } from './known-systems.js'

const exitOf = (A: number[][], C: number[], x: number[], low: number, high: number) =>
  lastExit(dense(A), dense([C]), Float64Array.from(x), low, high)

describe('the last exit of C e^(At) x from a band', () => {
  it.each([
    // e^(−t) = 0.02 at ln 50, by hand, and the same upside down, a hundred times as fast and as large
    ['a lag', [[-1]], [1], [1], -0.02, 0.02, Math.log(50)],
    ['a lag from below', [[-1]], [1], [-1], -0.02, 0.02, Math.log(50)],
    ['a fast lag', [[-100]], [1], [1], -0.02, 0.02, Math.log(50) / 100],
    ['a large lag', [[-1]], [100], [1], -2, 2, Math.log(50)],
    // only the side that it leaves by counts
    ['the upper edge', [[-1]], [1], [1], -1e-9, 0.02, Math.log(50)],
    ['the lower edge', [[-1]], [1], [-1], -0.02, 1e-9, Math.log(50)],
    // (1 + t) e^(−t) = 0.1, computed from the closed form with 30 digits
    ['a double pole', [[-1, 1], [0, -1]], [1, 0], [1, 1], -0.1, 0.1, 3.889720169867429],
    // 2e^(−t) − 3e^(−2t) ends from above: x = e^(−t), 3x² − 2x + 0.1 = 0 at x = (1 − √0.7)/3
    ['two lags', [[-1, 0], [0, -2]], [2, -3], [1, 1], -5, 0.1, -Math.log((1 - Math.sqrt(0.7)) / 3)],
    // … and only dips below −0.3 early: 3x² − 2x = 0.3 at x = (1 + √1.9)/3
    ['two lags, below', [[-1, 0], [0, -2]], [2, -3], [1, 1], -0.3, 5, -Math.log((1 + Math.sqrt(1.9)) / 3)],
  ] as [string, number[][], number[], number[], number, number, number][])('%s', (_, A, C, x, low, high, time) => {
    expect(exitOf(A, C, x, low, high) as number).toBeCloseTo(time, 10)
  }) // biome-ignore format: cases

  it('of a swinging motion is the last of many, on the side where the band is narrower', () => {
    // e^(−0.05 t) cos t: peaks of either sign at t_k = kπ − atan 0.05, of size e^(−0.05 t_k)/√(1 + 0.05²); within ±0.1
    // from a time in the half-turn after the last peak above 0.1, which is k = 14; by hand
    const A = [[-0.05, -1], [1, -0.05]] // biome-ignore format: matrix
    const found = exitOf(A, [1, 0], [1, 0], -0.1, 0.1) as number
    expect(Math.exp(-0.05 * found) * Math.cos(found)).toBeCloseTo(0.1, 12)
    expect(found).toBeGreaterThan(14 * Math.PI - Math.atan(0.05))
    expect(found).toBeLessThan(14.5 * Math.PI)
    // With more room above, the last exit is that below, half a turn before: k = 13
    const below = exitOf(A, [1, 0], [1, 0], -0.1, 0.2) as number
    expect(Math.exp(-0.05 * below) * Math.cos(below)).toBeCloseTo(-0.1, 12)
    expect(below).toBeGreaterThan(13 * Math.PI - Math.atan(0.05))
    expect(below).toBeLessThan(13.5 * Math.PI)
  })

  it('is 0 where it never leaves the band', () => {
    expect(exitOf([[-1]], [1], [0.5], -1, 1)).toBe(0)
    // e^(−t) − e^(−2t) is at most 1/4
    expect(exitOf([[-1, 0], [0, -2]], [1, -1], [1, 1], -0.01, 0.2501)).toBe(0) // biome-ignore format: matrix
    // and just above 0.2499 until x = (1 + √(1 − 4·0.2499))/2 has passed: the later one is (1 − √…)/2
    const late = exitOf([[-1, 0], [0, -2]], [1, -1], [1, 1], -0.01, 0.2499) as number // biome-ignore format: matrix
    expect(late).toBeCloseTo(-Math.log((1 - Math.sqrt(1 - 4 * 0.2499)) / 2), 9)
  })
})
