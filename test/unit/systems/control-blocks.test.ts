import { describe, expect, it } from 'vitest'
import {
  complementaryFilters,
  frequencyResponse,
  leakyIntegrator,
  motionFeedback,
  type StateSpace,
  sensorCorrection,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

/** Responses [re, im] of the only output to every input at one frequency. */
function at(system: StateSpace, frequency: number): [number, number][] {
  const { re, im } = frequencyResponse(system, [frequency])
  return system.inputs.map((_, i) => [re[i] as number, im[i] as number])
}

const modulus = ([re, im]: [number, number]) => Math.hypot(re, im)

describe('leakyIntegrator', () => {
  it('integrates above its corner and forgets below', () => {
    // Computed from the closed form 1/(s + ω): 1/ω = 1.5915494 at 0 Hz, half of it squared at the corner of 0.1 Hz.
    const block = leakyIntegrator({ corner: 0.1, input: 'velocity', output: 'position' })
    expect(at(block, 0)[0]?.[0]).toBeCloseTo(1.5915494, 7)
    expect(at(block, 0.1)[0]?.[0]).toBeCloseTo(0.7957747, 7)
    expect(at(block, 0.1)[0]?.[1]).toBeCloseTo(-0.7957747, 7)
    expect(block.outputs).toEqual(['position'])
    expect(refusal(() => leakyIntegrator({ corner: 0 })).details.path).toBe('corner')
  })
})

describe('complementaryFilters', () => {
  it.each([1, 2, 3, 4])('of order %i pass what both inputs agree on', (order) => {
    for (const frequency of [0, 0.01, 0.3, 1, 40]) {
      const [low, high] = at(complementaryFilters({ blend: 0.3, order }), frequency) as [
        [number, number],
        [number, number],
      ]
      // Rounding of coefficients up to 84.
      expect(Math.abs(low[0] + high[0] - 1)).toBeLessThan(1e-13)
      expect(Math.abs(low[1] + high[1])).toBeLessThan(1e-13)
    }
  })

  it.each([
    // Computed from the closed forms at ten times the blend frequency, r = 10: 1/√101; |3jr + 1|/101^1.5;
    // |−10·r² + 5jr + 1|/101^2.5; |−35j·r³ − 21r² + 7jr + 1|/101^3.5.
    [1, 0.0995037],
    [2, 0.029572],
    [3, 0.00975675],
    [4, 0.00337953],
  ])('of order %i fall alike on both sides', (order, expected) => {
    const block = complementaryFilters({ blend: 0.5, order })
    const [low] = at(block, 5) as [[number, number]]
    const [, high] = at(block, 0.05) as [[number, number], [number, number]]
    expect(Math.abs(modulus(low) / expected - 1)).toBeLessThan(1e-5)
    expect(Math.abs(modulus(high) / expected - 1)).toBeLessThan(1e-5)
  })

  it('refuse an order that is none', () => {
    expect(refusal(() => complementaryFilters({ blend: 1, order: 5 })).details.path).toBe('order')
    expect(refusal(() => complementaryFilters({ blend: 1, order: 1.5 })).details.path).toBe('order')
    expect(refusal(() => complementaryFilters({ blend: -1 })).details.path).toBe('blend')
  })
})

describe('sensorCorrection', () => {
  it('takes the floor out of a relative sensor above its corner', () => {
    // Computed from the closed form |1 − H| = |(1 + 2jζr)/(1 − r² + 2jζr)| at r = 10, ζ = 0.7071: 0.141767.
    const [relative, floor] = at(sensorCorrection({ corner: 0.1, floor: 'displacement' }), 1) as [
      [number, number],
      [number, number],
    ]
    expect(relative).toEqual([1, 0])
    expect(modulus([1 - floor[0], -floor[1]])).toBeCloseTo(0.141767, 6)
  })

  it('integrates the velocity of the floor', () => {
    const [, displacement] = at(sensorCorrection({ corner: 0.1, floor: 'displacement', gain: 0.98 }), 0.3)
    const [, velocity] = at(sensorCorrection({ corner: 0.1, gain: 0.98 }), 0.3)
    // Displacement = jω · (response to velocity), ω = 1.8849556 rad/s.
    expect(-1.8849556 * (velocity?.[1] as number)).toBeCloseTo(displacement?.[0] as number, 7)
    expect(1.8849556 * (velocity?.[0] as number)).toBeCloseTo(displacement?.[1] as number, 7)
    expect(at(sensorCorrection({ corner: 0.1 }), 0)[1]?.map(Math.abs)).toEqual([0, 0])
  })

  it('refuses what it does not know', () => {
    expect(refusal(() => sensorCorrection({ corner: 0.1, floor: 'force' as never })).details.path).toBe('floor')
    expect(refusal(() => sensorCorrection({ corner: 0.1, dampingRatio: 0 })).details.path).toBe('dampingRatio')
  })
})

describe('motionFeedback', () => {
  it('is the sum of its three laws', () => {
    // Computed from the closed form g_v + g_a·s·ω_d/(s + ω_d) + g_p/(s + ω_i) at 1 Hz with 100 Hz and 0.1 Hz.
    const block = motionFeedback({
      velocityGain: 2000,
      accelerationGain: 50,
      derivativeCorner: 100,
      positionGain: 1e4,
      integratorCorner: 0.1,
    })
    const [value] = at(block, 1) as [[number, number]]
    expect(value[0]).toBeCloseTo(2160.72043, 5)
    expect(value[1]).toBeCloseTo(-1261.663663, 6)
    expect(block.role).toBe('controller')
    expect(motionFeedback({ velocityGain: 3 })).toMatchObject({ A: [], D: [[3]] })
  })

  it.each([
    [{ accelerationGain: 5 }, 'derivativeCorner'],
    [{ positionGain: 5 }, 'integratorCorner'],
    [{ velocityGain: 5, integratorCorner: 1 }, 'integratorCorner'],
    [{ velocityGain: NaN }, 'velocityGain'],
    [{ gain: 1 }, 'gain'],
  ])('refuses %o at %s', (options, path) => {
    expect(refusal(() => motionFeedback(options as never)).details.path).toBe(path)
  })
})
