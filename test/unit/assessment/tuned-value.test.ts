import { describe, expect, it } from 'vitest'
import { objectiveOf, type Trial, tunedValue } from '../../../src/assessment/tuning.js'
import { scopeOf } from '../../../src/internal/check.js'
import { flatFloor, voigt } from './sites.js'

/** A parabola over the logarithm, least at `best`, with an upper bound and one below which nothing is stable. */
const parabola =
  ({ best = 3, most = Infinity, stableFrom = 0, margin = null as number | null } = {}) =>
  (x: number): Trial => ({
    objective: x < stableFrom ? null : () => 1 + Math.log(x / best) ** 2,
    modulusMargin: margin,
    violates: x > most ? { name: 'bound', says: `no more than ${most}` } : null,
  })
/** Five places per decade: 1, 10^0.2, … 100, none of them at 3. */
const tuned = (evaluate: (x: number) => Trial) => tunedValue('x', [1, 100], 11, evaluate)

describe('one value tuned', () => {
  it('is the least of a parabola between the points of the grid', () => {
    const { parameters, outcome, limitedBy, reason, tried, kind } = tuned(parabola())
    // The root of what the objective resolves
    expect(Math.abs((parameters?.x as number) / 3 - 1)).toBeLessThan(1e-6)
    expect(outcome?.objective).toBeCloseTo(1, 12)
    expect([kind, limitedBy, reason]).toEqual(['Tuning', null, 'the objective is least here'])
    expect(Object.keys(outcome ?? {})).toEqual(['objective'])
    // A grid of 11 points over two decades, by hand
    expect(tried.map((trial) => Number((trial.parameters.x as number).toFixed(4)))).toEqual([
      1, 1.5849, 2.5119, 3.9811, 6.3096, 10, 15.8489, 25.1189, 39.8107, 63.0957, 100,
    ])
    expect(tried[5]).toEqual({
      parameters: { x: expect.closeTo(10, 9) },
      objective: expect.closeTo(1 + Math.log(10 / 3) ** 2, 9),
      modulusMargin: null,
      feasible: true,
    })
  })

  it('goes to the edge of what is feasible where the best lies beyond, and says what is in the way', () => {
    const { parameters, outcome, limitedBy, reason, tried } = tuned(parabola({ best: 50, most: 20, margin: 0.7 }))
    expect(Math.abs((parameters?.x as number) / 20 - 1)).toBeLessThan(1e-4)
    expect(parameters?.x as number).toBeLessThanOrEqual(20)
    expect([limitedBy, reason]).toEqual(['bound', 'no more than 20'])
    expect(outcome).toEqual({ objective: expect.closeTo(1 + Math.log(2.5) ** 2, 3), modulusMargin: 0.7 })
    expect(tried.map(({ feasible }) => feasible)).toEqual([...Array(7).fill(true), ...Array(4).fill(false)])
    // What is not feasible has its objective all the same.
    expect(tried[10].objective).toBeCloseTo(1 + Math.log(2) ** 2, 9)
  })

  it('is not stopped by a bound that is further away than a fifth of a per cent', () => {
    expect(tuned(parabola({ most: 3.01 }))).toMatchObject({ limitedBy: null, reason: 'the objective is least here' })
    expect(tuned(parabola({ most: 3.003 }))).toMatchObject({ limitedBy: 'bound', reason: 'no more than 3.003' })
  })

  it('says at which end of the range it stands', () => {
    const low = tuned(parabola({ best: 0.1 }))
    expect(low).toMatchObject({ limitedBy: 'x', reason: 'x ends at 1, the range searched' })
    expect(low.parameters?.x).toBeCloseTo(1, 4)
    const high = tuned(parabola({ best: 1e4 }))
    expect(high).toMatchObject({ limitedBy: 'x', reason: 'x ends at 100, the range searched' })
    expect(high.parameters?.x).toBeCloseTo(100, 2)
  })

  it('takes the lowest value where more gains less than a part in a thousand', () => {
    // Falls to 1 at x = 6.3 and then by 1e-4 in all
    const flat = (x: number): Trial => ({
      objective: () => (x < 6 ? 7 - x : 1 - 1e-6 * x),
      modulusMargin: null,
      violates: null,
    })
    const x = tuned(flat).parameters?.x as number
    expect(x).toBeGreaterThan(6)
    expect(x).toBeLessThan(10.001)
  })

  it('says what is violated first where nothing is feasible', () => {
    expect(tuned(parabola({ most: 0.5 }))).toMatchObject({
      parameters: null,
      outcome: null,
      limitedBy: 'bound',
      reason: 'no x between 1 and 100 keeps all constraints: no more than 0.5',
    })
    const none = tuned(parabola({ stableFrom: 1000 }))
    expect(none).toMatchObject({
      parameters: null,
      limitedBy: 'stability',
      reason: 'no x between 1 and 100 keeps all constraints: the model is not stable',
    })
    expect(none.tried.every(({ objective, feasible }) => objective === null && !feasible)).toBe(true)
  })

  it('counts what is not stable as not feasible, whatever else is kept', () => {
    const { tried, parameters } = tuned(parabola({ stableFrom: 2 }))
    expect(tried.map(({ feasible }) => feasible).slice(0, 3)).toEqual([false, false, true])
    expect(tried[0]).toMatchObject({ objective: null, feasible: false })
    expect(parameters?.x).toBeCloseTo(3, 5)
  })
})

describe('what is made small', () => {
  const model = voigt(2.5, 0.1)
  const floor = flatFloor(1e-12, 1e-4, 1e4)

  it('is the peak without a floor, the rms with one, or what is asked for', () => {
    // Peak of |T|: Harris' Shock and Vibration Handbook; √(S₀ω₀(1 + 4ζ²)/(8ζ)) of white velocity, computed from the closed form
    const [peak, rms] = [5.1227736, Math.sqrt((1e-12 * 2 * Math.PI * 2.5 * 1.04) / 0.8)]
    const found = (options: object) => objectiveOf(scopeOf('test'), options)(model)
    expect(found({})).toBeCloseTo(peak, 6)
    expect(found({ objective: 'peak', floor })).toBeCloseTo(peak, 6)
    expect(found({ floor }) / rms).toBeCloseTo(1, 3)
    expect(found({ objective: 'rms', floor }) / rms).toBeCloseTo(1, 3)
  })
})
