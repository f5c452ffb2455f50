import { describe, expect, it } from 'vitest'
import { compareToModel } from '../../../src/assessment/index.js'
import { passiveIsolation } from '../../../src/isolation/index.js'
import { transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { inventedRecords, viscous } from './invented-records.js'

const build = (frequency: number, ratio: number) => {
  const omega = 2 * Math.PI * frequency
  const mount = { stiffness: 100 * omega ** 2, damping: 2 * ratio * omega * 100 }
  return passiveIsolation({ payload: { mass: 100 }, mount })
}

const estimateOf = (seed: number, outputNoise = 0.05, ratio = 0.1) =>
  transferEstimate({
    ...inventedRecords(viscous(2, ratio), { count: 32_768, sampleRate: 100, seed, outputNoise }),
    segmentLength: 1024,
  })

describe('compareToModel', () => {
  it('lets a system that is as predicted pass as often as it says', () => {
    // of 40 comparisons with 95 % confidence more than 6 depart once in about thirty times (binomial), more than 8 in 800
    let departed = 0
    let scatter = 0
    for (let seed = 1; seed <= 40; seed++) {
      const result = compareToModel(estimateOf(seed), build(2, 0.1), { to: 20 })
      if (result.verdict === 'departs') departed++
      scatter += result.scatter / 40
    }
    expect(departed).toBeLessThanOrEqual(6)
    expect(scatter).toBeCloseTo(1, 1)
  })

  it('says where a system departs, and by how much', () => {
    const result = compareToModel(estimateOf(1), build(2.3, 0.1), { to: 20 })
    expect(result.verdict).toBe('departs')
    const worst = result.departures.reduce((most, entry) => (entry.deviation > most.deviation ? entry : most))
    // between the measured peak at 2 Hz and the predicted one at 2.3 Hz
    expect(worst.from).toBeLessThan(2)
    expect(worst.to).toBeGreaterThan(2.3)
    expect(worst.deviation).toBeGreaterThan(10 * result.limit)
    expect(result.deviations.length).toBe(result.frequency.length)
    expect(Math.max(...result.deviations)).toBe(worst.deviation)
  })

  it('finds a second path that shows only at high frequencies', () => {
    const direct = viscous(2, 0.1)
    const leaking = inventedRecords((f) => [direct(f)[0] + 0.02 * Math.min(1, (f / 20) ** 4), direct(f)[1]], {
      count: 32_768,
      sampleRate: 100,
      seed: 3,
      outputNoise: 0.02,
    })
    const estimate = transferEstimate({ ...leaking, segmentLength: 1024 })
    const result = compareToModel(estimate, build(2, 0.1))
    expect(result.verdict).toBe('departs')
    expect(Math.min(...result.departures.map((entry) => entry.worst))).toBeGreaterThan(5)
    expect(compareToModel(estimate, build(2, 0.1), { to: 3 }).verdict).toBe('agrees')
  })

  it('cannot decide where the noise hides what there is to see', () => {
    // noise of the size of the floor above 10 Hz, where T is below 0.06
    const result = compareToModel(estimateOf(1, 1), build(2, 0.1), { from: 10 })
    expect([result.verdict, result.departures]).toEqual(['undecided', []])
    expect(result.provableShare).toBeLessThan(0.5)
  })

  it('finds a wrong calibration however high the coherence', () => {
    const input = Array.from({ length: 4096 }, (_, n) => Math.sin(n * n * 0.7))
    const estimate = transferEstimate({
      input,
      output: input.map((value) => 0.86 * value),
      sampleRate: 100,
      segmentLength: 256,
    })
    const { frequency } = estimate
    const prediction = {
      kind: 'ComplexSeries',
      frequency,
      re: frequency.map(() => 1),
      im: frequency.map(() => 0),
    } as const
    const { verdict, departures } = compareToModel(estimate, prediction)
    expect(verdict).toBe('departs')
    expect(departures).toHaveLength(1)
    expect(departures[0]?.measured).toBeCloseTo(0.86, 6)
    expect(estimate.coherence[30]).toBeCloseTo(1, 9)
  })

  const estimate = estimateOf(1)
  it.each([
    [
      'a response on other frequencies',
      { kind: 'ComplexSeries', frequency: new Float64Array(3), re: new Float64Array(3), im: new Float64Array(3) },
      {},
      'dimension-mismatch',
      'model.frequency',
    ],
    ['something that is no model', {}, {}, 'invalid-option', 'model'],
    ['nothing', null, {}, 'invalid-option', 'model'],
    ['a range without lines', build(2, 0.1), { from: 70 }, 'out-of-range', 'from'],
    ['certainty', build(2, 0.1), { confidence: 1 }, 'out-of-range', 'confidence'],
    ['an unknown option', build(2, 0.1), { sigma: 3 }, 'invalid-option', 'sigma'],
  ])('refuses %s', (_, model, options, code, path) => {
    const error = refusal(() => compareToModel(estimate, model as never, options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
