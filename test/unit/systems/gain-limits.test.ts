import { describe, expect, it } from 'vitest'
import { delay, discretize, gain, gainLimits, series, transferFunction } from '../../../src/systems/index.js'

describe('gainLimits', () => {
  it('of 1/(s(s + 1)²) is 2 at 1 rad/s', () => {
    // Source: K. J. Åström, R. M. Murray, Feedback Systems, 2008, section 9.3, by the Routh condition.
    const found = gainLimits(transferFunction({ numerator: [1], denominator: [1, 2, 1, 0] }))
    expect(found.closedLoop).toBe('stable')
    expect(found.stable.length).toBe(1)
    expect(found.stable[0]?.from).toBe(0)
    expect(found.stable[0]?.fromFrequency).toBeNull()
    expect(found.stable[0]?.to).toBeCloseTo(2, 10)
    expect(2 * Math.PI * (found.stable[0]?.toFrequency as number)).toBeCloseTo(1, 10)
    expect(found.diagnosis).toBe('stable up to 2 times the gain, at 0.1592 Hz')
  })

  it('of a conditionally stable loop are two ranges with an unstable one between', () => {
    // Computed from the Routh condition of s³(…)… : L = k (s + 1)²/s³ is stable above k = 1/2 only, at ω² = 1.
    const found = gainLimits(transferFunction({ numerator: [0.1, 0.2, 0.1], denominator: [1, 0, 0, 0] }))
    expect(found.closedLoop).toBe('unstable')
    expect(found.stable.length).toBe(1)
    expect(found.stable[0]?.from).toBeCloseTo(5, 8)
    expect(2 * Math.PI * (found.stable[0]?.fromFrequency as number)).toBeCloseTo(1, 8)
    expect(found.stable[0]?.to).toBe(Number.POSITIVE_INFINITY)
    expect(found.stable[0]?.toFrequency).toBeNull()
    expect(found.diagnosis).toBe('unstable; stable above 5 times the gain, at 0.1592 Hz')
  })

  it('of a loop that is unstable in between are those on either side', () => {
    // By hand: (s + 1)³ + k (s + 10)² is stable for (3 + k)(3 + 20k) > 1 + 100k (Routh), 20k² − 37k + 8 > 0: below 0.25 and above
    // 1.6, at ω² = 3 + 20k = 8 and 35
    const loop = (k: number) => transferFunction({ numerator: [k, 20 * k, 100 * k], denominator: [1, 3, 3, 1] })
    const { closedLoop, stable, diagnosis } = gainLimits(loop(1))
    expect(closedLoop).toBe('unstable')
    expect(stable).toEqual([
      { from: 0, to: expect.closeTo(0.25, 9), fromFrequency: null, toFrequency: expect.closeTo(0.45015815807855, 9) },
      { from: expect.closeTo(1.6, 9), to: Infinity, fromFrequency: expect.closeTo(0.9415733412, 9), toFrequency: null },
    ])
    expect(diagnosis).toBe(
      'unstable; stable below 0.25 times the gain, at 0.4502 Hz, or above 1.6 times the gain, at 0.9416 Hz',
    )
    expect(gainLimits(loop(0.2)).diagnosis).toBe('stable up to 1.25 times the gain, at 0.4502 Hz')
    expect(gainLimits(loop(2)).diagnosis).toBe('stable from 0.8 times the gain, at 0.9416 Hz, up to any gain')
    expect([gainLimits(loop(2)).stable.length, gainLimits(loop(2)).closedLoop]).toEqual([2, 'stable'])
  })

  it('at the ends of the axis are found too', () => {
    // Computed from 1 + k L: L(0) = −1/2 for −1/(s + 2), and −2 at Infinity for −2 s/(s + 1).
    const low = gainLimits(transferFunction({ numerator: [-1], denominator: [1, 2] }))
    expect(low.stable).toEqual([{ from: 0, to: 2, fromFrequency: null, toFrequency: 0 }])
    const high = gainLimits(transferFunction({ numerator: [-2, 0], denominator: [1, 1] }))
    expect(high.stable[0]?.to).toBeCloseTo(0.5, 12)
    expect(high.stable[0]?.toFrequency).toBe(Number.POSITIVE_INFINITY)
  })

  it('of an integrator with delay is π/2 over the delay', () => {
    // Computed from the closed form: phase −90° − ωτ = −180° at ω = π/(2τ), |L| = 1/ω.
    const integrator = transferFunction({ numerator: [1], denominator: [1, 0], input: 'u', output: 'y' })
    const found = gainLimits(series(integrator, delay({ seconds: 0.1 })))
    expect(found.stable[0]?.to).toBeCloseTo(5 * Math.PI, 8)
    expect(found.stable[0]?.toFrequency).toBeCloseTo(2.5, 9)
  })

  it('of a discrete integrator is 2 over the sample time', () => {
    // Computed from the closed form: z − 1 + k T = 0 leaves the unit circle at k T = 2.
    const integrator = transferFunction({ numerator: [1], denominator: [1, 0] })
    const found = gainLimits(discretize(integrator, { sampleTime: 0.5, method: 'zero-order-hold' }))
    expect(found.stable[0]?.to).toBeCloseTo(4, 9)
    expect(found.stable[0]?.toFrequency).toBeCloseTo(1, 9)
  })

  it('are none for a loop that no positive gain makes stable', () => {
    const found = gainLimits(transferFunction({ numerator: [1], denominator: [1, 0, 0] }))
    expect(found.stable).toEqual([])
    expect(found.diagnosis).toBe('marginal; no positive gain is stable')
  })

  it('of a loop that is stable at any gain have no upper end', () => {
    expect(gainLimits(gain(3)).stable).toEqual([
      { from: 0, to: Number.POSITIVE_INFINITY, fromFrequency: null, toFrequency: null },
    ])
  })
})
