import { describe, expect, it } from 'vitest'
import {
  optimumFeedforward,
  rigidBodyMotion,
  sideBySideNoise,
  smallestTransmissibility,
} from '../../../src/assessment/index.js'
import { type Spectrum, spectrum, transferEstimate } from '../../../src/vibration/index.js'
import { gaussian } from './invented-records.js'

const points = (frequency: number[], density: number[], more: Partial<Spectrum> = {}) =>
  spectrum({ quantity: 'velocity', frequency, density, support: 'points', ...more })
const flat = (density: number, from = 1, to = 100) => points([from, to], [density, density])

describe('the noise of two sensors side by side, line by line', () => {
  const next = gaussian(4)
  const motion = Array.from({ length: 2048 }, () => next())
  const [first, second] = [0.3, 0.4].map((noise) => motion.map((value) => value + noise * next()))
  const segments = { sampleRate: 100, segmentLength: 128, window: 'hann', overlap: 0.5, detrend: 'linear' } as const
  const noise = () => sideBySideNoise({ first, second, quantity: 'acceleration', ...segments })
  const estimate = transferEstimate({ input: first, output: second, ...segments })
  const { effectiveAverages: n } = estimate

  it('is S (1 − γ), with γ² less what unrelated records show, (n γ² − 1)/(n − 1)', () => {
    const found = noise()
    for (const k of [3, 20, 50]) {
      const coherence = (n * estimate.coherence[k] - 1) / (n - 1)
      expect(found.coherence[k]).toBeCloseTo(coherence, 12)
      expect(found.first.density[k]).toBeCloseTo(estimate.inputDensity[k] * (1 - Math.sqrt(coherence)), 15)
      expect(found.second.density[k]).toBeCloseTo(estimate.outputDensity[k] * (1 - Math.sqrt(coherence)), 15)
      expect(found.relativeError[k]).toBeCloseTo(Math.sqrt((3 - coherence) / (2 * n)), 12)
      expect(found.ratio[k]).toBeCloseTo(Math.sqrt(estimate.outputDensity[k] / estimate.inputDensity[k]), 12)
    }
  })

  it('carries how it was averaged, and its quantity', () => {
    const found = noise()
    const { frequency, noiseBandwidth, averages, overlap } = estimate
    for (const each of [found.first, found.second])
      expect(each).toMatchObject({
        kind: 'Spectrum',
        quantity: 'acceleration',
        support: 'lines',
        frequency,
        ...{
          segmentLength: 128,
          window: 'hann',
          detrend: 'linear',
          overlap,
          averages,
          effectiveAverages: n,
          noiseBandwidth,
        },
      })
    expect(found.kind).toBe('SideBySideNoise')
    expect(sideBySideNoise({ first, second, ...segments }).first.quantity).toBe('unspecified')
  })
})

describe('the smallest transmissibility', () => {
  const test = { floor: flat(1e-12), payloadSensorNoise: flat(1e-16), averages: 100 }
  const T = (more: object) => smallestTransmissibility({ ...test, ...more })

  it('is √(γ₀² (S + N_f) N_p/(S (S − γ₀² (S + N_f)))), γ₀² = 1 − (1 − confidence)^(1/(n − 1))', () => {
    // n = 3 and 0.75: 1 − √0.25 = 1/2; S = 4, N_f = 2, N_p = 8: T² = 0.5·6·8/(4·(4 − 3)) = 6, by hand
    const found = T({
      floor: flat(4),
      payloadSensorNoise: flat(8),
      floorSensorNoise: flat(2),
      averages: 3,
      confidence: 0.75,
    })
    expect([found.kind, found.significantCoherence]).toEqual(['SmallestTransmissibility', expect.closeTo(0.5, 12)])
    expect(found.transmissibility[0]).toBeCloseTo(Math.sqrt(6), 12)
    // At N_f = S nothing is left: S − 0.5·2 S = 0
    const none = T({
      floor: flat(4),
      payloadSensorNoise: flat(8),
      floorSensorNoise: flat(4),
      averages: 3,
      confidence: 0.75,
    })
    expect(none.transmissibility[0]).toBe(Infinity)
  })

  it('is stated above 0 Hz, where all are known, their ends included', () => {
    const floor = points([0, 1, 2, 5, 10], [1, 1, 1, 1, 1])
    expect(Array.from(T({ floor, payloadSensorNoise: flat(1, 1, 5) }).frequency)).toEqual([1, 2, 5])
    expect(Array.from(T({ floor, floorSensorNoise: flat(1e-3, 2, 10) }).frequency)).toEqual([2, 5, 10])
    // Half a line to either side of 0.5 and 2.5 Hz: from below 0 Hz on
    const lines = spectrum({ quantity: 'velocity', frequency: [0.5, 2.5], density: [1, 1], support: 'lines' })
    expect(Array.from(T({ floor, payloadSensorNoise: lines }).frequency)).toEqual([1, 2])
    expect(Array.from(T({ floor, floorSensorNoise: flat(1e-3, 1, 5) }).frequency)).toEqual([1, 2, 5])
    expect(
      Array.from(T({ floor: points([0, 1, 2], [1, 1, 1]), payloadSensorNoise: points([0, 2], [1, 1]) }).frequency),
    ).toEqual([2])
  })

  it('takes the noise at the frequency of the floor', () => {
    const floor = points([1, 10], [1, 1])
    // Noise that falls as 1/f²: 1 and a tenth
    const { transmissibility } = T({ floor, payloadSensorNoise: points([1, 10], [1, 0.01]) })
    expect(transmissibility[0] / transmissibility[1]).toBeCloseTo(10, 9)
  })
})

describe('the best match of a floor feedforward', () => {
  it('takes both as velocity, at the frequencies of the floor where the noise is known, its ends included', () => {
    const floor = points([1, 2, 4, 8], [1, 1, 1, 1], { quantity: 'displacement' })
    const found = optimumFeedforward({ floor, sensorNoise: flat(16 * Math.PI ** 2, 2, 4) })
    expect([found.kind, Array.from(found.frequency)]).toEqual(['OptimumFeedforward', [2, 4]])
    // S_v = (2πf)²: 16π² and 64π² against 16π²; by hand
    expect(Array.from(found.match)).toEqual([0.5, 0.8].map((value) => expect.closeTo(value, 12)))
    expect(Array.from(found.residual)).toEqual([Math.SQRT1_2, Math.sqrt(0.2)].map((value) => expect.closeTo(value, 12)))
    expect(found.coherence).toEqual(found.match)
    expect(found.coherence).not.toBe(found.match)
  })

  it('takes lines to their outer edges', () => {
    const lines = spectrum({ quantity: 'velocity', frequency: [2, 4, 6], density: [1, 1, 1], support: 'lines' })
    const { frequency } = optimumFeedforward({
      floor: points([0.9, 1, 3, 7, 7.1], [1, 1, 1, 1, 1]),
      sensorNoise: lines,
    })
    expect(Array.from(frequency)).toEqual([1, 3, 7])
  })
})

describe('the motion of a rigid body', () => {
  const sensor = (position: [number, number, number], direction: [number, number, number], samples: number[]) => ({
    position,
    direction,
    samples,
  })

  it.each([
    // d·(v + ω × r) of a unit rotation about x, y and z at r = (1, 2, 3), by hand
    ['rotationX', [0, 1, 0], -3],
    ['rotationX', [0, 0, 1], 2],
    ['rotationY', [1, 0, 0], 3],
    ['rotationY', [0, 0, 1], -1],
    ['rotationZ', [1, 0, 0], -2],
    ['rotationZ', [0, 1, 0], 1],
  ] as const)('about %s is read along %o as %d', (axis, direction, expected) => {
    const { motion, noiseGain, misfit } = rigidBodyMotion({
      sensors: [sensor([1, 2, 3], direction as never, [expected, 2 * expected])],
      axes: [axis],
    })
    expect(Array.from(motion[axis] ?? [])).toEqual([1, 2].map((value) => expect.closeTo(value, 12)))
    expect(noiseGain[axis]).toBeCloseTo(1 / Math.abs(expected), 12)
    expect(misfit).toEqual([0])
  })

  it('of three sensors for one axis is their mean, and a misfit what is beyond it', () => {
    const at = (samples: number[]) => sensor([0, 0, 0], [0, 0, 5], samples)
    const { motion, noiseGain, misfit } = rigidBodyMotion({
      sensors: [at([3, 0]), at([3, 0]), at([0, 3])],
      axes: ['z'],
    })
    // Means 2 and 1; √((1 + 1)/9), twice, and √((4 + 4)/9), by hand
    expect(Array.from(motion.z ?? [])).toEqual([2, 1].map((value) => expect.closeTo(value, 12)))
    expect(noiseGain.z).toBeCloseTo(1 / Math.sqrt(3), 12)
    expect(misfit).toEqual([Math.SQRT2 / 3, Math.SQRT2 / 3, Math.sqrt(8) / 3].map((value) => expect.closeTo(value, 12)))
  })
})
