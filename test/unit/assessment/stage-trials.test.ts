import { describe, expect, it } from 'vitest'
import { gainAtMargin } from '../../../src/assessment/gain-at-margin.js'
import { noiseBudget } from '../../../src/assessment/index.js'
import { drivesOf } from '../../../src/assessment/predict-payload.js'
import {
  type Corners,
  controllerAt,
  controllerOf,
  type Knobs,
  searched,
} from '../../../src/assessment/series-stage-search.js'
import { stageTrials } from '../../../src/assessment/series-stage-trials.js'
import { geophone } from '../../../src/elements/index.js'
import { scopeOf } from '../../../src/internal/check.js'
import { activeBand, loopMargins, seriesActiveIsolation } from '../../../src/isolation/index.js'
import { frequencyResponse, openLoop, transferFunction } from '../../../src/systems/index.js'
import { rms, spectrum } from '../../../src/vibration/index.js'

const scope = scopeOf('test')
const corners: Corners = { highPass: 0.05, lowPass: 100, leadCorner: 30, lagCorner: 200 }

describe('the controller of a series stage', () => {
  it.each([
    ['with lead', corners],
    ['with lag', { ...corners, leadCorner: 200, lagCorner: 30 }],
    ['with neither', { ...corners, leadCorner: 70, lagCorner: 70 }],
  ])('%s is 1/(s + ω_h) · ω_l/(s + ω_l) · (1 + s/ω_lead)/(1 + s/ω_lag)', (_, given) => {
    const places = [0.01, 0.05, 1, 40, 100, 1000]
    const { re, im } = frequencyResponse(controllerOf(given, 2), places)
    places.forEach((f, k) => {
      // Of each pole and zero the modulus √(1 + r²) and the angle atan r, r = f/corner; the pole at ω_h is in seconds.
      const turn = (corner: number) => [Math.hypot(1, f / corner), Math.atan(f / corner)]
      const [high, low, lead, lag] = [given.highPass, given.lowPass, given.leadCorner, given.lagCorner].map(turn)
      const size = (2 * lead[0]) / (2 * Math.PI * given.highPass * high[0] * low[0] * lag[0])
      const angle = lead[1] - high[1] - low[1] - lag[1]
      const at = controllerAt(given, 2 * Math.PI * f)
      for (const [x, y] of [
        [re[k], im[k]],
        [2 * at.re, 2 * at.im],
      ]) {
        expect(x / size).toBeCloseTo(Math.cos(angle), 9)
        expect(y / size).toBeCloseTo(Math.sin(angle), 9)
      }
    })
  })
})

describe('controllers tried on one stage', () => {
  const floor = spectrum({
    quantity: 'velocity',
    frequency: [0.5, 2, 100],
    amplitudeDensity: [2e-8, 1e-7, 1e-7],
    support: 'points',
  })
  const noise = { frequency: [0.1, 200], amplitudeDensity: [3e-8, 3e-8] }
  const activeStage = {
    mass: 60,
    actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 },
    sensor: geophone({ naturalFrequency: 0.3, dampingRatio: 0.7, noise }),
    sensorLocation: 'activeStage' as const,
    delay: 1e-4,
  }
  const design = { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4 }
  const built = (given: Corners, gain: number) =>
    seriesActiveIsolation({ ...design, activeStage: { ...activeStage, controller: controllerOf(given, gain) } })
  const plain = { highPass: 0.05, lowPass: 100, leadCorner: 100, lagCorner: 100 }
  const start = built(plain, 1)
  const band = [0.3, 1000] as const
  const task = { margin: 0.5, improvement: 2, band, drives: drivesOf(scope, { floor }) }
  const trial = stageTrials(scope, start, task)
  /** The least place between samples by a parabola: 3e-3 of the gain where the loop turns slowly. Levels are sums over samples. */
  const sampled = 3e-3

  it.each([
    ['plain', plain, 1],
    ['with half the gain', plain, 0.5],
    ['with lead', { highPass: 0.03, lowPass: 60, leadCorner: 0.2, lagCorner: 0.4 }, 1],
    ['with lag', { highPass: 0.03, lowPass: 60, leadCorner: 0.4, lagCorner: 0.2 }, 1],
  ])('%s come to what the model of each does', (_, given, share) => {
    const found = trial(given, share)
    const { factor } = gainAtMargin(scope, openLoop(built(given, 1).diagram, 'actuator.expansion'), 0.5)
    expect(Math.abs((found?.gain as number) / (share * factor) - 1)).toBeLessThan(sampled)
    const model = built(given, found?.gain as number)
    expect(Math.abs((found?.modulusMargin as number) / loopMargins(model)[0].margins.modulusMargin - 1)).toBeLessThan(
      sampled,
    )
    const widths = activeBand(model, { improvement: 2 }).map(([from, to]) =>
      Math.log2(Math.min(to, band[1]) / Math.max(from, band[0])),
    )
    expect(Math.abs((found?.octaves as number) - Math.max(...widths))).toBeLessThan(5e-3)
    expect(Math.abs((found?.rms as number) / rms(noiseBudget(model, { floor }).total) - 1)).toBeLessThan(sampled)
  })

  it('counts the band that is asked for alone, and none where nothing is that much better', () => {
    const octaves = (more: object) => stageTrials(scope, start, { ...task, ...more })(plain, 1)?.octaves as number
    expect(octaves({ band: [5, 20] })).toBeCloseTo(2, 9)
    expect(octaves({ improvement: 1e6 })).toBe(0)
    expect(octaves({ improvement: 1.5 })).toBeGreaterThan(octaves({ improvement: 3 }))
  })

  it('has no rms without a floor', () => {
    const found = stageTrials(scope, start, { ...task, drives: null })(plain, 1)
    expect(found?.rms).toBeNull()
    expect((found?.octaves as number) / (trial(plain, 1)?.octaves as number)).toBeCloseTo(1, 3)
  })
})

describe('the largest gain at a margin', () => {
  const loop = (numerator: number[], denominator: number[]) =>
    transferFunction({ numerator, denominator, input: 'injected', output: 'returned' })

  it('is where the lowest of several turns touches it', () => {
    // Real and negative −1/(…) loops: k·L = −k/(1 + s)² at ω = 0 is −k: |1 − k| = m at k = 1 − m; a margin of 0.2 by hand
    const { factor, frequency } = gainAtMargin(scope, loop([-1], [1, 2, 1]), 0.2)
    // The scan begins above 0 Hz.
    expect(factor).toBeCloseTo(0.8, 4)
    expect(frequency).toBeLessThan(1e-3)
    // A light mode at 10 rad/s, 0.01·s/(s² + 0.02 s + 100) with the wrong sign, is −1/2 at its peak: (1 − m)/0.5
    const mode = gainAtMargin(scope, loop([-0.01, 0], [1, 0.02, 100]), 0.2)
    expect(mode.factor).toBeCloseTo(1.6, 6)
    expect(mode.frequency * 2 * Math.PI).toBeCloseTo(10, 3)
  })
})

describe('the search', () => {
  const distance = (knobs: Knobs, target: Corners) =>
    (Object.keys(target) as (keyof Corners)[]).reduce((sum, name) => sum + Math.log(knobs[name] / target[name]) ** 2, 0)
  const target = { highPass: 0.3, lowPass: 70, leadCorner: 55, lagCorner: 140 }

  it('comes within its finest step of a single valley', () => {
    const found = searched((knobs) => distance(knobs, target), [0.01, 1e4], 1)
    for (const name of Object.keys(target) as (keyof Corners)[])
      expect(Math.abs(Math.log(found[name] / target[name]))).toBeLessThan(Math.log(1.05))
    expect(found.share).toBe(1)
  })

  it('keeps its corners in the range, and stops at its ends', () => {
    const seen: Knobs[] = []
    const found = searched(
      (knobs) => {
        seen.push(knobs)
        return distance(knobs, { highPass: 1e-3, lowPass: 1e5, leadCorner: 1e5, lagCorner: 1e-3 })
      },
      [0.5, 200],
      1,
    )
    for (const { share, ...rest } of seen)
      for (const corner of Object.values(rest)) expect(corner >= 0.5 && corner <= 200 && share === 1).toBe(true)
    expect([found.lowPass, found.leadCorner]).toEqual([200, 200])
    expect(found.highPass).toBeLessThan(0.5 * 1.05)
  })

  it('takes less of the gain where that is better, down to the least share', () => {
    const found = (best: number, least: number) =>
      searched(
        (knobs) => distance(knobs, { ...target, leadCorner: 100, lagCorner: 100 }) + Math.log(knobs.share / best) ** 2,
        [0.01, 1e4],
        least,
      ).share
    expect(Math.abs(Math.log(found(0.2, 1e-3) / 0.2))).toBeLessThan(Math.log(1.05))
    expect(found(0.01, 0.3)).toBeGreaterThanOrEqual(0.3)
    expect(found(0.01, 0.3)).toBeLessThan(0.3 * 1.05)
    expect(found(5, 1e-3)).toBe(1)
  })

  it('tries nothing twice', () => {
    const seen = new Set<string>()
    searched(
      (knobs) => {
        const key = JSON.stringify(Object.entries(knobs).sort())
        expect(seen.has(key)).toBe(false)
        seen.add(key)
        return distance(knobs, target)
      },
      [0.01, 1e4],
      1,
    )
    expect(seen.size).toBeGreaterThan(100)
  })
})
