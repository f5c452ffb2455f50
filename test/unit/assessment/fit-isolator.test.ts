import { describe, expect, it } from 'vitest'
import { fitIsolator } from '../../../src/assessment/index.js'
import { parallelActiveIsolation, transmissibility } from '../../../src/isolation/index.js'
import { frequencyResponse } from '../../../src/systems/index.js'
import { type TransferEstimate, transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { inventedRecords, type Response, viscous } from './invented-records.js'

const estimateOf = (response: Response, seed: number, outputNoise = 0.1, segmentLength = 1024): TransferEstimate =>
  transferEstimate({
    ...inventedRecords(response, { count: 32_768, sampleRate: 100, seed, outputNoise }),
    segmentLength,
  })

/** K/(K − r²), K = 1 + 2jζNr/(N + 2jζr): elastically supported damper, Harris' Shock and Vibration Handbook. */
const relaxation =
  (naturalFrequency: number, dampingRatio: number, ratio: number): Response =>
  (frequency) => {
    const r = frequency / naturalFrequency
    const x = 2 * dampingRatio * r
    const size = ratio * ratio + x * x
    const [re, im] = [1 + (ratio * x * x) / size, (ratio * ratio * x) / size]
    const down = (re - r * r) ** 2 + im * im
    return [(re * (re - r * r) + im * im) / down, (im * (re - r * r) - re * im) / down]
  }

describe('fitIsolator', () => {
  it('finds an isolator again, exactly where there is no noise', () => {
    // A periodic record of whole segments without window: lines are exact, and nothing is smeared
    const estimate = estimateOf(viscous(2.1, 0.08), 1, 0, 4096)
    const fit = fitIsolator(estimate, { to: 20 })
    expect([fit.kind, fit.model]).toEqual(['IsolatorFit', 'viscous'])
    expect(fit.naturalFrequency).toBeCloseTo(2.1, 2)
    expect(fit.dampingRatio).toBeCloseTo(0.08, 2)
    expect([fit.stiffnessRatio, fit.activeDampingRatio]).toEqual([null, null])
  })

  it('states intervals that hold the truth as often as they say', () => {
    // 40 seeded records; of 40 independent 95 % intervals fewer than 34 hold the truth once in a thousand times (binomial)
    const truth = { naturalFrequency: 2, dampingRatio: 0.2 }
    const hits = { naturalFrequency: 0, dampingRatio: 0 }
    const errors: number[] = []
    for (let seed = 1; seed <= 40; seed++) {
      const { confidence, scatter } = fitIsolator(estimateOf(viscous(2, 0.2), seed), { to: 10 })
      for (const name of ['naturalFrequency', 'dampingRatio'] as const) {
        const { from, to } = confidence[name] ?? { from: 0, to: 0 }
        if (from <= truth[name] && truth[name] <= to) hits[name]++
      }
      errors.push(
        Math.log((confidence.dampingRatio?.value ?? 0) / truth.dampingRatio) /
          (confidence.dampingRatio?.relativeError ?? 0),
      )
      expect(scatter).toBeGreaterThan(0.8)
      expect(scatter).toBeLessThan(1.25)
    }
    expect(hits.naturalFrequency).toBeGreaterThanOrEqual(34)
    expect(hits.dampingRatio).toBeGreaterThanOrEqual(34)
    // and are no wider than need be: errors in units of the stated one scatter by about 1 (chi-squared of 40: 0.7 to 1.3)
    const spread = Math.sqrt(errors.reduce((sum, value) => sum + value * value, 0) / errors.length)
    expect(spread).toBeGreaterThan(0.6)
    expect(spread).toBeLessThan(1.35)
  })

  it('is not misled by lines as wide as the resonance', () => {
    // B_r = 2·0.05·2 = 0.2 Hz, lines 0.195 Hz apart: the peak reads half, a fit to it would find about 0.1
    const fit = fitIsolator(estimateOf(viscous(2, 0.05), 3, 0.1, 512), { to: 10 })
    const { from, to } = fit.confidence.dampingRatio ?? { from: 0, to: 0 }
    expect(from).toBeLessThan(0.05)
    expect(to).toBeGreaterThan(0.05)
    expect(to / from).toBeLessThan(1.2)
  })

  it('finds a relaxing mount, and shows by its scatter that no dashpot would do', () => {
    const estimate = estimateOf(relaxation(1.08, 0.593, 3), 5, 0.01)
    const fit = fitIsolator(estimate, { model: 'relaxation', to: 10 })
    const truth = { naturalFrequency: 1.08, dampingRatio: 0.593, stiffnessRatio: 3 }
    for (const [name, value] of Object.entries(truth)) {
      const { from, to } = fit.confidence[name] ?? { from: 0, to: 0 }
      // 99.9 % interval from the 95 % one: 3.29/1.96 times as wide
      const slack = (to / from) ** 0.34
      expect(from / slack, name).toBeLessThan(value)
      expect(to * slack, name).toBeGreaterThan(value)
      expect(to / from, name).toBeLessThan(1.2)
    }
    expect(fit.scatter).toBeLessThan(1.2)
    expect(fitIsolator(estimate, { to: 10 }).scatter).toBeGreaterThan(3)
  })

  it('finds active damping apart from the dashpot', () => {
    const r = (frequency: number) => frequency / 2
    const active: Response = (frequency) => {
      // (1 + 2jζr)/(1 − r² + 2j(ζ + ζ_a)r), ζ = 0.05, ζ_a = 0.5
      const [up, down, real] = [0.1 * r(frequency), 1.1 * r(frequency), 1 - r(frequency) ** 2]
      const size = real * real + down * down
      return [(real + up * down) / size, (up * real - down) / size]
    }
    const fit = fitIsolator(estimateOf(active, 7, 0.01), { model: 'activelyDamped', to: 15 })
    expect(fit.activeDampingRatio).toBeCloseTo(0.5, 1)
    expect(fit.dampingRatio).toBeCloseTo(0.05, 1)
    expect(fit.confidence.activeDampingRatio?.to).toBeGreaterThan(0.49)
    expect(fit.confidence.activeDampingRatio?.from).toBeLessThan(0.51)
  })

  it('fits gain and delay of the loop of any model given as a function', () => {
    const build = ({ gain = 0, delay = 0 }) =>
      parallelActiveIsolation({
        payload: { mass: 200 },
        mount: { stiffness: 8e4, damping: 200 },
        feedback: { velocityGain: gain, delay },
      })
    const { closed } = build({ gain: 3000, delay: 4e-3 })
    const response: Response = (frequency) => {
      const { re, im } = frequencyResponse(closed, [frequency], {
        inputs: ['floorVelocity'],
        outputs: ['payloadVelocity'],
      })
      return [re[0] as number, im[0] as number]
    }
    const record = inventedRecords(response, { count: 4096, sampleRate: 50, seed: 11, outputNoise: 0.02 })
    const estimate = transferEstimate({ ...record, segmentLength: 256 })
    const fit = fitIsolator(estimate, { model: build, start: { gain: 1000, delay: 1e-3 }, from: 0.5, to: 12 })
    expect([fit.model, fit.naturalFrequency]).toEqual(['custom', null])
    const { gain, delay } = fit.confidence
    expect(Math.abs(Math.log((gain?.value ?? 0) / 3000))).toBeLessThan(4 * (gain?.relativeError ?? 0))
    expect(Math.abs(Math.log((delay?.value ?? 0) / 4e-3))).toBeLessThan(4 * (delay?.relativeError ?? 0))
    expect(gain?.relativeError).toBeLessThan(0.05)
    expect(transmissibility(build({ gain: gain?.value ?? 0, delay: delay?.value ?? 0 }), [3]).re[0]).toBeDefined()
  })

  it('is biased by noise in the floor sensor, which H1 is too', () => {
    const record = inventedRecords(viscous(2, 0.2), { count: 32_768, sampleRate: 100, seed: 1, inputNoise: 0.5 })
    const fit = fitIsolator(transferEstimate({ ...record, segmentLength: 1024 }), { to: 10 })
    // noise of a quarter of the floor's power lowers H1 by 1/1.25, which the form cannot follow
    expect(fit.scatter).toBeGreaterThan(1.5)
  })

  const estimate = estimateOf(viscous(2, 0.2), 1)
  it.each([
    ['another record', { kind: 'Spectrum' }, {}, 'invalid-option', 'estimate'],
    ['an unknown form', estimate, { model: 'stacked' }, 'invalid-option', 'model'],
    ['a function without start', estimate, { model: () => null }, 'invalid-option', 'start'],
    [
      'a start with a parameter too many',
      estimate,
      { start: { naturalFrequency: 2, dampingRatio: 0.1, mass: 3 } },
      'invalid-option',
      'start.mass',
    ],
    [
      'a start without a parameter',
      estimate,
      { start: { naturalFrequency: 2 } },
      'invalid-option',
      'start.dampingRatio',
    ],
    [
      'a start that is not positive',
      estimate,
      { start: { naturalFrequency: 2, dampingRatio: 0 } },
      'out-of-range',
      'start.dampingRatio',
    ],
    ['fewer lines than parameters', estimate, { from: 2, to: 2.1 }, 'out-of-range', 'from'],
    ['a range without lines', estimate, { from: 60 }, 'out-of-range', 'from'],
    ['a range upside down', estimate, { from: 3, to: 2 }, 'out-of-range', 'to'],
    ['certainty', estimate, { confidence: 1 }, 'out-of-range', 'confidence'],
  ])('refuses %s', (_, given, options, code, path) => {
    const error = refusal(() => fitIsolator(given as never, options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a parameter that does not matter', () => {
    const model = ({ gain = 0 }) =>
      parallelActiveIsolation({
        payload: { mass: 200 },
        mount: { stiffness: 8e4, damping: 200 },
        feedback: { velocityGain: gain },
      })
    const options = { model, start: { gain: 100, colour: 1 }, to: 5 }
    expect(refusal(() => fitIsolator(estimate, options)).code).toBe('no-convergence')
  })
})
