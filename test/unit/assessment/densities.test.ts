import { describe, expect, it } from 'vitest'
import { densityFunction } from '../../../src/assessment/density-function.js'
import { intervalsAbove } from '../../../src/assessment/intervals-above.js'
import { densityAt, driveDensity, predictedDensity } from '../../../src/assessment/predicted-density.js'
import { scopeOf } from '../../../src/internal/check.js'
import { type Spectrum, spectrum } from '../../../src/vibration/index.js'
import { voigt } from './sites.js'

const points = (frequency: number[], density: number[]) =>
  spectrum({ quantity: 'velocity', frequency, density, support: 'points' })
const lines = (frequency: number[], density: number[]) =>
  spectrum({ quantity: 'velocity', frequency, density, support: 'lines' })

describe('a density between its points', () => {
  it('is straight in log-log, and each point is met', () => {
    const { at, from, to, corners } = densityFunction(points([1, 10, 100], [1, 100, 1]))
    expect([from, to, corners]).toEqual([1, 100, [1, 10, 100]])
    // f² up to 10 Hz, 1e4/f² from there on, by hand
    expect(at(2)).toBeCloseTo(4, 12)
    expect(at(50)).toBeCloseTo(4, 12)
    expect([at(1), at(10), at(100)]).toEqual([1, 100, 1])
  })

  it('is straight in linear scale where it touches zero, and level between equals', () => {
    const { at } = densityFunction(points([1, 3, 5, 7], [0, 4, 4, 0]))
    // 4·(2 − 1)/(3 − 1) and 4 − 4·(6 − 5)/(7 − 5), by hand
    expect([at(2), at(4), at(6), at(6.5)]).toEqual([2, 4, 2, 1])
  })

  it('leaves out the point at 0 Hz, whose neighbour is the first', () => {
    const { from, corners, at } = densityFunction(points([0, 2, 8], [5, 1, 4]))
    expect([from, corners, at(4)]).toEqual([2, [2, 8], expect.closeTo(2, 12)])
  })
})

describe('a density on lines', () => {
  it('is level over each line, with two corners to each step and half a line beyond the outer ones', () => {
    const { at, from, to, corners } = densityFunction(lines([2, 4, 6], [1, 3, 5]))
    expect([from, to]).toEqual([expect.closeTo(1, 10), expect.closeTo(7, 10)])
    expect([from > 1, to < 7]).toEqual([true, true])
    expect([1.01, 2, 2.99, 3.01, 4.9, 5.1, 6.99].map(at)).toEqual([1, 1, 1, 3, 3, 5, 5])
    expect(corners.map((corner) => Math.round(corner))).toEqual([1, 3, 3, 5, 5, 7])
    // The two of a step stand side by side, each on its own line.
    expect([corners[1] < 3, corners[2] > 3, at(corners[1]), at(corners[2])]).toEqual([true, true, 1, 3])
    expect(corners[2] - corners[1]).toBeLessThan(1e-11)
  })

  it('begins behind the line at 0 Hz', () => {
    const { from, at, corners } = densityFunction(lines([0, 2, 4], [9, 1, 3]))
    expect([from, corners.length]).toEqual([expect.closeTo(1, 10), 4])
    expect([at(1.01), at(0.5), at(4.9)]).toEqual([1, 1, 3])
  })
})

describe('a drive', () => {
  const table = points([2, 8], [1, 4])

  it('that is silent beyond its table reaches from 0 to infinity, with two points to each end', () => {
    const { from, to, at, corners } = driveDensity({ input: 'x', spectrum: table, beyond: 'nothing' })
    expect([from, to]).toEqual([0, Infinity])
    expect([1, 1.999, 2, 4, 8, 8.001, 100].map(at)).toEqual([0, 0, 1, expect.closeTo(2, 12), 4, 0, 0])
    expect(corners.map(at)).toEqual([0, 1, 1, 4, 4, 0])
    expect([corners[0] < 2, corners[5] > 8]).toEqual([true, true])
    expect(corners).toEqual([...corners].sort((a, b) => a - b))
  })

  it('otherwise ends where its table does', () => {
    const { from, to } = driveDensity({ input: 'x', spectrum: table })
    expect([from, to]).toEqual([2, 8])
  })
})

describe('where one density is above another', () => {
  const flat = (value: number, from = 1, to = 100): Spectrum => points([from, to], [value, value])

  it('is from the crossing at 1.01 times on', () => {
    // f² = 1.01·16 at f = 4·√1.01; and the other way round 16 = 1.01·f²; by hand
    const rising = points([1, 100], [1, 1e4])
    expect(intervalsAbove(rising, flat(16))).toEqual([[expect.closeTo(4 * Math.sqrt(1.01), 9), 100]])
    expect(intervalsAbove(flat(16), rising)).toEqual([[1, expect.closeTo(4 / Math.sqrt(1.01), 9)]])
  })

  it('has one interval for each of several, in ascending order', () => {
    // 1, 100, 1, 100, 1 at 1, 10, 100, 1000, 10 000 Hz: above 4.04 from 2·√1.01 to 50/√1.01 and a hundred times that, by hand
    const twice = points([1, 10, 100, 1000, 1e4], [1, 100, 1, 100, 1])
    const root = Math.sqrt(1.01)
    const expected = [2 * root, 50 / root, 200 * root, 5000 / root].map((edge) => expect.closeTo(edge, 6))
    expect(intervalsAbove(twice, flat(4, 1, 1e4))).toEqual([expected.slice(0, 2), expected.slice(2)])
    expect(intervalsAbove(flat(4, 1, 1e4), twice)).toHaveLength(3)
  })

  it('is nowhere for equals, everywhere for twice as much, as far as both reach', () => {
    expect(intervalsAbove(flat(1), flat(1))).toEqual([])
    expect(intervalsAbove(flat(1.005), flat(1))).toEqual([])
    expect(intervalsAbove(flat(2, 1, 50), flat(1, 3, 200))).toEqual([[3, 50]])
    expect(intervalsAbove(flat(2, 3, 200), flat(1, 1, 50))).toEqual([[3, 50]])
  })

  it('is from the line on where a density steps out of silence', () => {
    const [[from, to]] = intervalsAbove(lines([2, 4, 6], [0, 1, 0]), flat(0.1, 1, 10))
    expect([from, to]).toEqual([expect.closeTo(3, 9), expect.closeTo(5, 9)])
  })
})

describe('a predicted density', () => {
  const { closed } = voigt(2, 0.05)
  const floor = { input: 'floorVelocity', spectrum: points([0.5, 50], [1e-12, 1e-12]) }
  const force = { input: 'payloadForce', spectrum: points([1, 80], [1e-6, 1e-6]) }
  const predicted = (...given: unknown[]) =>
    predictedDensity(scopeOf('test'), closed, 'payloadVelocity', ...(given as [[typeof floor]]))
  /** |T|² and |V/F|² of one kilogram at 2 Hz, damping 0.05: closed forms. */
  const through = (f: number) => {
    const [r, w] = [f / 2, 4 * Math.PI]
    const size = (1 - r * r) ** 2 + (0.1 * r) ** 2
    return { floor: (1 + (0.1 * r) ** 2) / size, force: ((2 * Math.PI * f) / w ** 2) ** 2 / size }
  }

  it('is the sum of its parts, each exact at every point, ascending over what all cover', () => {
    const { frequency, density, parts } = predicted([floor, force])
    expect([frequency[0], frequency[frequency.length - 1], parts.length]).toEqual([1, 50, 2])
    frequency.forEach((f, k) => {
      if (k > 0) expect(f).toBeGreaterThan(frequency[k - 1])
      const expected = [1e-12 * through(f).floor, 1e-6 * through(f).force]
      parts.forEach((part, i) => {
        expect(Math.abs(part[k] / expected[i] - 1)).toBeLessThan(1e-9)
      })
      expect(density[k]).toBeCloseTo(parts[0][k] + parts[1][k], 20)
    })
    expect(densityAt(closed, 'payloadVelocity', [floor, force], frequency)).toEqual(density)
  })

  it('follows log-log lines to 1e-4 between them, without many more points than that takes', () => {
    const { frequency, density } = predicted([floor])
    for (let k = 1; k < frequency.length; k++) {
      const middle = Math.sqrt(frequency[k - 1] * frequency[k])
      const line = Math.sqrt(density[k - 1] * density[k])
      expect(Math.abs(line / (1e-12 * through(middle).floor) - 1)).toBeLessThan(1.1e-4)
    }
    // 545 here; a bend half as large takes 1.4 times as many.
    expect(frequency.length).toBeLessThan(700)
  })

  it('keeps to a range, weighs each place, and holds the corners of the weight', () => {
    const weighting = { at: (f: number) => f ** 2, corners: [7, 60] }
    const { frequency, density } = predicted([floor], [3, 20], weighting)
    expect([frequency[0], frequency[frequency.length - 1]]).toEqual([3, 20])
    expect([frequency.includes(7), frequency.includes(60)]).toEqual([true, false])
    const k = frequency.indexOf(7)
    expect(density[k] / (49e-12 * through(7).floor)).toBeCloseTo(1, 9)
  })
})
