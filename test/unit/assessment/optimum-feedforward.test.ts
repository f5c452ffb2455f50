import { describe, expect, it } from 'vitest'
import { optimumFeedforward } from '../../../src/assessment/index.js'
import { feedforwardBound, type Quantity, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const at = (density: number, quantity: Quantity = 'velocity', frequency = [1, 2, 4]) =>
  spectrum({ quantity, frequency, density: frequency.map(() => density), support: 'points' })

describe('optimumFeedforward', () => {
  it('of a floor a hundred times the noise leaves −20.04 dB', () => {
    // Source: J. C. Driggers et al., arXiv 1112.2224 (2012) for the method; computed from the closed form
    // M = S_x/(S_x + S_n) = 0.990099, residual √(S_n/(S_x + S_n)) = 0.0995037.
    const found = optimumFeedforward({ floor: at(1e-12), sensorNoise: at(1e-14) })
    expect(Array.from(found.frequency)).toEqual([1, 2, 4])
    expect(found.match[1]).toBeCloseTo(0.990099, 6)
    expect(found.residual[1]).toBeCloseTo(0.0995037, 7)
    expect(20 * Math.log10(found.residual[1] as number)).toBeCloseTo(-20.04, 2)
  })

  it('leaves less than any other real match', () => {
    const [signal, noise] = [3e-12, 1e-12]
    const { match, residual } = optimumFeedforward({ floor: at(signal), sensorNoise: at(noise) })
    for (const other of [0, 0.5, 0.7, 0.8, 1]) {
      const power = (1 - other) ** 2 * signal + other ** 2 * noise
      expect(power).toBeGreaterThan((residual[0] as number) ** 2 * signal)
    }
    expect(match[0]).toBeCloseTo(0.75, 12)
  })

  it('is bounded by coherence', () => {
    const { coherence, residual, frequency } = optimumFeedforward({ floor: at(3e-12), sensorNoise: at(1e-12) })
    expect(feedforwardBound({ frequency, coherence })[0]).toBeCloseTo(residual[0] as number, 12)
  })

  it('takes the noise in its own quantity and on its own grid', () => {
    // 1e-14·(2π f)² as acceleration is 1e-14 as velocity, at every frequency.
    const frequency = [0.5, 1, 3, 8]
    const density = frequency.map((f) => 1e-14 * (2 * Math.PI * f) ** 2)
    const noise = spectrum({ quantity: 'acceleration', frequency, density, support: 'points' })
    const found = optimumFeedforward({ floor: at(1e-12), sensorNoise: noise })
    expect(found.match[1]).toBeCloseTo(0.990099, 6)
  })

  it('gives no gain where the floor is still, and full gain to a noiseless sensor', () => {
    expect(optimumFeedforward({ floor: at(0), sensorNoise: at(1) }).match[0]).toBe(0)
    const perfect = optimumFeedforward({ floor: at(1), sensorNoise: at(0) })
    expect([perfect.match[0], perfect.residual[0]]).toEqual([1, 0])
  })

  it('keeps to where both are known, and refuses what has nothing in common', () => {
    const found = optimumFeedforward({ floor: at(1), sensorNoise: at(1, 'velocity', [1.5, 3]) })
    expect(Array.from(found.frequency)).toEqual([2])
    const call = () => optimumFeedforward({ floor: at(1), sensorNoise: at(1, 'velocity', [10, 20]) })
    expect(refusal(call).code).toBe('out-of-range')
    const force = () => optimumFeedforward({ floor: at(1, 'force'), sensorNoise: at(1) })
    expect(refusal(force).details.path).toBe('floor.quantity')
  })
})

describe('feedforwardBound', () => {
  // Computed from the closed form √(1 − γ²): −10, −20, −30 and −40 dB.
  it.each([
    [0.9, -10],
    [0.99, -20],
    [0.999, -30],
    [0.9999, -40],
  ])('of coherence %d is %d dB', (coherence, decibels) => {
    expect(20 * Math.log10(feedforwardBound({ frequency: [1], coherence: [coherence] })[0] as number)).toBeCloseTo(
      decibels,
      9,
    )
  })

  it('refuses a coherence above 1 and lists of different lengths', () => {
    expect(refusal(() => feedforwardBound({ frequency: [1], coherence: [1.1] })).code).toBe('out-of-range')
    expect(refusal(() => feedforwardBound({ frequency: [1, 2], coherence: [1] })).code).toBe('dimension-mismatch')
    expect(refusal(() => feedforwardBound(undefined as never)).code).toBe('invalid-option')
  })
})
