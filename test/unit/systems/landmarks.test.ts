import { describe, expect, it } from 'vitest'
import {
  addDelaySteps,
  ascending,
  landmarkFrequencies,
  mostDelaySteps,
  reachOf,
  tooManyTurns,
} from '../../../src/systems/landmarks.js'

const roots = (...list: [number, number][]) => ({
  re: Float64Array.from(list, ([re]) => re),
  im: Float64Array.from(list, ([, im]) => im),
})

describe('landmarks', () => {
  it('reach as far beyond the outermost poles as asked, with as many points per decade', () => {
    const places = landmarkFrequencies([roots([-0.1, 0], [-10, 0])], 100, 4)
    // from 1e-3 to 1e3: six decades and both ends, beside the poles themselves, which lie on the grid
    expect(places[0]).toBeCloseTo(1e-3, 15)
    expect(places[places.length - 1]).toBeCloseTo(1e3, 9)
    const distinct = places.filter((place, k) => k === 0 || place > places[k - 1] * (1 + 1e-9))
    expect(distinct.length).toBe(25)
    expect(distinct[1] / distinct[0]).toBeCloseTo(10 ** 0.25, 12)
  })

  it('stand closest about a lightly damped pole, as its width says', () => {
    const places = landmarkFrequencies([roots([-0.01, 1], [-0.01, -1])], 10, 1)
    for (const offset of [0.01, 0.04, 0.16, 0.64]) {
      for (const place of [1 - offset, 1 + offset]) {
        expect(Math.min(...places.map((found) => Math.abs(found - place)))).toBeLessThan(1e-12)
      }
    }
    // A pole at rest on the axis is looked at from a billionth of its frequency on.
    const free = landmarkFrequencies([roots([0, 1], [0, -1])], 10, 1)
    expect(Math.min(...free.filter((place) => place > 1)) - 1).toBeCloseTo(1e-9, 15)
  })

  it('are about 1 rad/s where nothing else says where to look, and take zeros beyond the poles', () => {
    const [first, ...rest] = landmarkFrequencies([roots([0, 0])], 1e3, 1)
    expect([first, rest[rest.length - 1]]).toEqual([1e-3, 1e3])
    const places = landmarkFrequencies([roots([-1, 0])], 10, 1, [roots([-1e-9, 0], [1e5, 0])])
    expect([places[0], places[places.length - 1]]).toEqual([1e-9, 1e5])
  })

  it('stand by size, each once', () => {
    expect(ascending([3, 1, 2, 3, 1])).toEqual([1, 2, 3])
    expect(ascending([])).toEqual([])
  })
})

describe('the reach of a gain', () => {
  const places = [0.1, 1, 10, 100]
  const reach = (gain: (omega: number) => number, level: number, most = 1e9) => reachOf(gain, places, level, most)

  it('is the first place from which it stays at or below the level', () => {
    expect(reach((omega) => 1 / omega, 0.5)).toBe(10)
    expect(reach((omega) => 1 / omega, 0.1)).toBe(10)
    expect(reach((omega) => 1 / omega, 0.09)).toBe(100)
    expect(reach((omega) => (omega === 10 ? 5 : 0), 1)).toBe(100)
  })

  it('is nothing where it never is above', () => {
    expect(reach(() => 0.2, 0.2)).toBe(0)
  })

  it('is looked for in octaves beyond the last place, until twice as far as it may go', () => {
    // 1/ω reaches 1e-3 at 1000 rad/s: 200, 400, 800, 1600
    expect(reach((omega) => 1 / omega, 1e-3)).toBe(1600)
    expect(reach((omega) => 1 / omega, 1 / 800)).toBe(800)
    expect(reach(() => 1, 0.5, 1000)).toBe(1600)
  })
})

describe('steps of a delay', () => {
  it('turn e^(−jωτ) by less than 22.5° and reach the limit', () => {
    const steps = addDelaySteps([0.5, 7], 2, 10)
    expect(steps).toContain(0.5)
    expect(steps).toContain(7)
    expect(steps[steps.length - 1]).toBeGreaterThanOrEqual(10)
    const apart = steps.map((step, k) => 2 * (step - (steps[k - 1] ?? 0)))
    expect(Math.max(...apart)).toBeLessThan(Math.PI / 8)
    // and not by much less: 10 rad/s · 2 s over 22.5°
    expect(steps.length).toBeLessThan(2 + 1.1 * (20 / (Math.PI / 8)))
  })

  it('are too many beyond 300 000', () => {
    const most = (mostDelaySteps * Math.PI) / 8
    expect(tooManyTurns(2, most / 2)).toBe(true)
    expect(tooManyTurns(2, 0.9 * (most / 2))).toBe(false)
    expect(addDelaySteps([], 1, 1e9).length).toBe(300_000)
  })
})
