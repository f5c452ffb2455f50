import { describe, expect, it } from 'vitest'
import { springMount } from '../../../src/elements/index.js'
import {
  isolationSummary,
  loopMargins,
  type ParallelActiveIsolationOptions,
  parallelActiveIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { frequencyResponse, gainLimits, openLoop, poles, transferFunction } from '../../../src/systems/index.js'
import { channelAt, degreesAt, gainAt, modulusAt } from './read-off.js'

const mass = 1000
const omega = 2 * Math.PI * 2
const options = {
  payload: { mass },
  mount: springMount({ mass, naturalFrequency: 2, dampingRatio: 0.03 }),
}
/** Damping ratio 0.7 by a geophone of 0.5 Hz, ideal motor. */
const feedback = { velocityGain: 2 * 0.7 * mass * omega, sensor: { naturalFrequency: 0.5, dampingRatio: 0.7 } }
const passive = parallelActiveIsolation({ ...options, feedback: { velocityGain: 0 } })
const caseC = parallelActiveIsolation({ ...options, feedback })
/** The same with a motor of 300 Hz and a delay of 1 ms. */
const caseB = parallelActiveIsolation({
  ...options,
  feedback: { ...feedback, actuator: { bandwidth: 300 }, delay: 1e-3 },
})

describe('golden case C: velocity feedback by a geophone', () => {
  // Computed from the closed form T = (c s + k)(s² + 2ζ_gω_g s + ω_g²)/(…) of fourth order; printed to 8 and 4 decimals.
  it.each([
    [0.2, 1.02275202, 1.074],
    [0.5, 1.45436296, -0.3905],
    [1, 1.66614506, -60.0064],
    [2, 0.68834218, -106.2125],
    [5, 0.1490509, -139.2601],
    [10, 0.04086213, -146.7387],
  ])('at %d Hz has |T| %d, phase %d°', (frequency, modulus, degrees) => {
    expect(modulusAt(caseC, frequency)).toBeCloseTo(modulus, 8)
    expect(degreesAt(caseC, frequency)).toBeCloseTo(degrees, 4)
  })

  it('is the rational function of fourth order, and without feedback 16.6966 at 2 Hz', () => {
    // Same source: numerator and denominator in falling powers of s, nine digits.
    const closedForm = transferFunction({
      numerator: [0.753982237, 161.229857, 701.982104, 1558.54546],
      denominator: [1, 22.7451308, 171.099462, 701.982104, 1558.54546],
    })
    const grid = [0.1, 0.5, 0.9, 2, 7, 60]
    const written = frequencyResponse(closedForm, grid)
    const found = transmissibility(caseC, grid)
    grid.forEach((_, k) => {
      const [re, im] = [written.re[k] as number, written.im[k] as number]
      const off = Math.hypot((found.re[k] as number) - re, (found.im[k] as number) - im) / Math.hypot(re, im)
      // Ten roundings to nine digits.
      expect(off).toBeLessThan(1e-8)
    })
    expect(modulusAt(passive, 2)).toBeCloseTo(16.6966, 4)
  })

  it('has the tabulated peak and poles', () => {
    // Same source.
    const { peak, peakFrequency } = isolationSummary(caseC)
    expect(peak).toBeCloseTo(1.92654045, 8)
    expect(peakFrequency).toBeCloseTo(0.762812, 6)
    const found = poles(caseC.closed).map(({ re, im }) => [re / (2 * Math.PI), im / (2 * Math.PI)])
    found.sort(([a = 0], [b = 0]) => a - b)
    expect(found.length).toBe(4)
    expect(found[0]?.[0]).toBeCloseTo(-2.07859674, 8)
    expect(found[1]?.[0]).toBeCloseTo(-0.87843715, 8)
    expect(found[2]?.[0]).toBeCloseTo(-0.33148306, 8)
    expect(Math.abs(found[2]?.[1] ?? 0)).toBeCloseTo(0.66165635, 8)
  })
})

describe('golden case B: the same with motor lag and delay', () => {
  // Computed from the closed form of the loop and T; printed to 8 decimals.
  it.each([
    [1, 1.64909691],
    [2, 0.68817819],
    [5, 0.15197362],
    [10, 0.04191322],
    [20, 0.01191481],
    [50, 0.00295843],
  ])('at %d Hz has |T| %d', (frequency, modulus) => {
    expect(modulusAt(caseB, frequency)).toBeCloseTo(modulus, 8)
  })

  it('has the tabulated margins on both sides', () => {
    // Same source.
    const [loop] = loopMargins(caseB)
    expect(loop?.name).toBe('feedback')
    const margins = loop?.margins
    expect(margins?.closedLoop).toBe('stable')
    expect(margins?.modulusMargin).toBeCloseTo(0.60361433, 8)
    expect(margins?.modulusMarginFrequency).toBeCloseTo(0.7114, 4)
    expect(margins?.gainMargin).toBeCloseTo(3.867662, 6)
    expect(margins?.phaseCrossovers[0]?.frequency).toBeCloseTo(0.492882, 6)
    expect(margins?.phaseCrossovers[1]?.gainMargin).toBeCloseTo(69.30978, 5)
    expect(margins?.phaseCrossovers[1]?.frequency).toBeCloseTo(169.08685, 5)
    expect(margins?.gainCrossovers.map(({ frequency }) => Number(frequency.toFixed(6)))).toEqual([1.054051, 3.839538])
    expect(margins?.gainReductionMargin).toBeNull()
    expect(1 / (margins?.modulusMargin as number)).toBeCloseTo(1.65668697, 7)
  })

  it('is a little worse than the passive mount at 50 Hz, 0.00295843 against 0.00288906', () => {
    // Same source.
    expect(modulusAt(passive, 50)).toBeCloseTo(0.00288906, 8)
    expect(modulusAt(caseB, 50) / modulusAt(passive, 50)).toBeCloseTo(0.00295843 / 0.00288906, 5)
  })

  it('bears 3.75 times its gain without lag, delay and damping of the mount', () => {
    // Computed from the Routh condition ζ_g(f₀/f_g − f_g/f₀)/ζ_s = 2.625/0.7.
    const mount = springMount({ mass, naturalFrequency: 2, dampingRatio: 0 })
    const model = parallelActiveIsolation({ payload: { mass }, mount, feedback })
    const { stable } = gainLimits(openLoop(model.diagram, 'actuator.force'))
    expect(stable[0]?.to).toBeCloseTo(3.75, 9)
    expect(stable[0]?.toFrequency).toBeCloseTo(0.5, 9)
  })
})

describe('a virtual mass', () => {
  const elastic = { payload: { mass }, mount: { stiffness: 4e4 } }
  // C. Collette, S. Janssens, K. Artoos, review, 2011, doi 10.2174/2212797611104030212: acceleration feedback is a virtual
  // mass. Columns: added share of the mass, ratio of natural frequencies, attenuation far above [dB].
  it.each([
    [1, Math.SQRT1_2, -6.02],
    [4, 0.44721, -13.98],
    [9, 0.31623, -20],
    [99, 0.1, -40],
  ])('of %d times the payload lowers f₀ to %d and T by %d dB', (share, ratio, decibels) => {
    const model = parallelActiveIsolation({
      ...elastic,
      feedback: { velocityGain: 0, accelerationGain: share * mass },
    })
    const [mode] = poles(model.closed).filter(({ im }) => im > 0)
    const plain = Math.sqrt(40) / (2 * Math.PI)
    expect((mode?.naturalFrequency ?? 0) / plain).toBeCloseTo(ratio, 5)
    const still = parallelActiveIsolation({ ...elastic, feedback: { velocityGain: 0 } })
    const change = 20 * Math.log10(modulusAt(model, 500) / modulusAt(still, 500))
    expect(change).toBeCloseTo(decibels, 2)
  })

  it('comes out the same through an actuator that rolls off far above', () => {
    // Derived: a lag of 1 MHz at 5 Hz turns the force by 5e-6.
    const ideal = parallelActiveIsolation({ ...options, feedback: { velocityGain: 5e3, accelerationGain: 800 } })
    const real = parallelActiveIsolation({
      ...options,
      feedback: { velocityGain: 5e3, accelerationGain: 800, actuator: { bandwidth: 1e6 } },
    })
    for (const frequency of [0.5, 2, 5]) {
      expect(modulusAt(real, frequency) / modulusAt(ideal, frequency)).toBeCloseTo(1, 5)
    }
    expect(ideal.closed.inputs).not.toContain('sensorNoise')
    expect(real.closed.inputs).toContain('sensorNoise')
  })

  it('sensed by a geophone is proper without an actuator that rolls off', () => {
    // Computed from the closed form T = K/(m s² + K + s(g_v + s g_a)S), m = 1000 kg, f₀ = 2 Hz, ζ = 0.03, g_v = 5000 N·s/m,
    // g_a = 800 kg, S a geophone of 0.5 Hz and 0.7: |T| at 0.5, 2 and 10 Hz.
    const sensed = { velocityGain: 5e3, accelerationGain: 800, sensor: { naturalFrequency: 0.5, dampingRatio: 0.7 } }
    const model = parallelActiveIsolation({ ...options, feedback: sensed })
    expect(modulusAt(model, 0.5)).toBeCloseTo(1.15393655, 8)
    expect(modulusAt(model, 2)).toBeCloseTo(1.11177876, 8)
    expect(modulusAt(model, 10)).toBeCloseTo(0.02367416, 8)
    expect(model.closed.inputs).not.toContain('sensorNoise')
  })

  it('that cancels the payload is an algebraic loop', () => {
    expect(() =>
      parallelActiveIsolation({ ...options, feedback: { velocityGain: 0, accelerationGain: -mass } }),
    ).toThrow(expect.objectContaining({ code: 'algebraic-loop' }))
  })
})

describe('feedforward of a reaction force', () => {
  const quiet = { ...options, feedback: { velocityGain: 0 } }
  const residual = (feedforward: ParallelActiveIsolationOptions['feedforward'], frequency: number) => {
    const model = parallelActiveIsolation({ ...quiet, ...(feedforward === undefined ? {} : { feedforward }) })
    return (
      gainAt(model, 'reactionForce', 'payloadVelocity', frequency) /
      gainAt(model, 'payloadForce', 'payloadVelocity', frequency)
    )
  }

  // Computed from the closed form |1 − M|² = e² + 4(1 + e)·sin²(φ/2), M = (1 + e)·e^(−jφ): gain error e, phase φ in
  // degrees, made by a delay at 10 Hz.
  it.each([
    [0.01, 0, 0.01],
    [0.05, 0, 0.05],
    [0.1, 0, 0.1],
    [0, 1, 0.01745307],
    [0, 5, 0.08723877],
    [0, 10, 0.17431149],
    [0.01, 1, 0.02019049],
    [0.05, 5, 0.10242624],
    [0.1, 10, 0.20838173],
    [0, 60, 1],
  ])('with gain error %d and %d° leaves %d', (error, degrees, left) => {
    const frequency = 10
    const feedforward = { gain: 1 + error, ...(degrees > 0 ? { delay: degrees / 360 / frequency } : {}) }
    expect(residual(feedforward, frequency)).toBeCloseTo(left, 8)
  })

  it('late by 1 ms does nothing at 166.67 Hz', () => {
    // Computed from the closed form 2·sin(πfτ) = 1 at f = 1/(6τ).
    expect(residual({ gain: 1, delay: 1e-3 }, 1000 / 6)).toBeCloseTo(1, 9)
  })

  it('through a motor that lags leaves (f/f_c)/√(1 + (f/f_c)²)', () => {
    // Computed from that closed form at f/f_c = 0.1: 0.1/√1.01.
    expect(residual({ gain: 1, actuator: { bandwidth: 100 } }, 10)).toBeCloseTo(0.09950372, 8)
  })

  // Computed from |1 − 1.03·e^(−jωτ)|, gain error 3 %, delay 1.5 ms.
  it.each([
    [1.8, 0.0346],
    [30, 0.288],
    [100, 0.922],
  ])('of gain 1.03, late by 1.5 ms, at %d Hz leaves %d', (frequency, left) => {
    expect(Math.abs(residual({ gain: 1.03, delay: 1.5e-3 }, frequency) / left - 1)).toBeLessThan(2e-3)
  })

  it('does not touch floor motion, other forces or the loop', () => {
    const fed = parallelActiveIsolation({ ...options, feedback, feedforward: { gain: 0.98 } })
    for (const frequency of [0.7, 2, 20]) {
      expect(modulusAt(fed, frequency)).toBe(modulusAt(caseC, frequency))
      const force = gainAt(fed, 'payloadForce', 'payloadVelocity', frequency)
      expect(force).toBe(gainAt(caseC, 'payloadForce', 'payloadVelocity', frequency))
    }
    expect(fed.loops).toEqual(caseC.loops)
  })

  it('takes its force from the floor', () => {
    // Derived: forces on a payload held by nothing but motor and mount sum to zero at rest: the floor carries what the
    // reaction leaves plus what the motor takes, in total the reaction itself.
    const model = parallelActiveIsolation({ ...quiet, feedforward: { gain: 1 } })
    expect(channelAt(model, 'reactionForce', 'actuatorForce', 0).re).toBeCloseTo(-1, 12)
    expect(channelAt(model, 'reactionForce', 'floorForce', 0).re).toBeCloseTo(1, 12)
    expect(channelAt(model, 'reactionForce', 'stretch', 0).re).toBeCloseTo(0, 15)
  })
})
