import { describe, expect, it } from 'vitest'
import { geophone } from '../../../src/elements/index.js'
import {
  type FeedforwardResidualOptions,
  feedforwardResidual,
  parallelActiveIsolation,
  passiveIsolation,
  seriesActiveIsolation,
} from '../../../src/isolation/index.js'
import { highPass, magnitude, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { channelAt } from './read-off.js'

const left = (options: FeedforwardResidualOptions, frequency: number) =>
  magnitude(feedforwardResidual(options, [frequency]))[0] as number

describe('what an imperfect match leaves', () => {
  // Computed from the closed form |1 − M|² = e² + 4(1 + e)·sin²(φ/2): gain error, phase in degrees, residual, decibels.
  it.each([
    [0.01, 0, 0.01, -40],
    [0.05, 0, 0.05, -26.021],
    [0.1, 0, 0.1, -20],
    [0, 0.573, 0.01000069, -39.999],
    [0, 1, 0.01745307, -35.163],
    [0, 5, 0.08723877, -21.186],
    [0, 10, 0.17431149, -15.173],
    [0.01, 1, 0.02019049, -33.897],
    [0.05, 5, 0.10242624, -19.792],
    [0.1, 10, 0.20838172, -13.623],
    [0, 60, 1, 0],
  ])('gain error %d and %d° leave %d, %d dB', (error, degrees, residual, decibels) => {
    const value = left({ gain: 1 + error, delay: degrees / 360 / 10 }, 10)
    // Eight digits are stated.
    expect(value).toBeCloseTo(residual, 7)
    expect(20 * Math.log10(value)).toBeCloseTo(decibels, 3)
  })

  it('a pure delay does nothing at 1/(6 τ): 166.67 Hz for 1 ms', () => {
    // Computed from the closed form 2 sin(π f τ).
    expect(left({ gain: 1, delay: 1e-3 }, 1000 / 6)).toBeCloseTo(1, 12)
    expect(20 * Math.log10(left({ gain: 1, delay: 1e-4 }, 10))).toBeCloseTo(-44.04, 2)
    expect(20 * Math.log10(left({ gain: 1, delay: 1e-4 }, 100))).toBeCloseTo(-24.04, 2)
  })

  it('a first-order lag leaves (f/f_c)/√(1 + (f/f_c)²)', () => {
    // Computed from that closed form at a tenth of the corner: 0.1/√1.01.
    expect(left({ gain: 1, actuator: { bandwidth: 100 } }, 10)).toBeCloseTo(0.09950372, 8)
  })

  it('preview makes up for a delay, also for more of it than there is', () => {
    expect(left({ gain: 1, delay: 1e-3, preview: 1e-3 }, 70)).toBeCloseTo(0, 15)
    expect(left({ gain: 1, preview: 1e-3 }, 1000 / 6)).toBeCloseTo(1, 12)
  })
})

describe('feedforward of a stage force with 3 % of gain error, late by 1.5 ms', () => {
  // Source: the question of a public research-graph entry, "Feedforward signal prediction for accurate motion systems using
  // digital filters" (even a small delay gives a large error at high frequency); computed from |1 − 1.03 e^(−jωτ)|.
  const options = { gain: 1.03, delay: 1.5e-3 }
  it.each([
    [1.8, 0.0346],
    [10, 0.1],
    [30, 0.288],
    [100, 0.922],
  ])('leaves at %d Hz %d', (frequency, residual) => {
    expect(left(options, frequency) / residual).toBeCloseTo(1, 2)
  })

  it('gains nothing from 109.3 Hz on, returns from 557.4 to 775.9 Hz', () => {
    for (const edge of [109.3, 557.4, 775.9]) expect(left(options, edge)).toBeCloseTo(1, 2)
    expect(left(options, 300)).toBeGreaterThan(1)
    expect(left(options, 650)).toBeLessThan(1)
    expect(left(options, 900)).toBeGreaterThan(1)
  })

  it('announced 1.5 ms ahead leaves the gain error', () => {
    for (const frequency of [1.8, 30, 300])
      expect(left({ ...options, preview: 1.5e-3 }, frequency)).toBeCloseTo(0.03, 12)
  })
})

describe('a sensor with a corner in the path', () => {
  // Computed from the closed forms 1/√(1 + (f/f₁)²) and |1 + 2jζr|/|1 − r² + 2jζr|, r = f/f_g.
  it.each([
    [1, Math.SQRT1_2],
    [2, 0.44721],
    [5, 0.19612],
    [10, 0.0995037],
    [100, 0.0099995],
  ])('of first order leaves at %d f₁ %d', (ratio, residual) => {
    const dynamics = highPass({ cutoff: 2, order: 1, input: 'motion', output: 'signal' })
    const sensor = { ...geophone({ naturalFrequency: 2, dampingRatio: 0.7 }), dynamics }
    expect(left({ gain: 1, sensor }, 2 * ratio)).toBeCloseTo(residual, 5)
  })

  it.each([
    [0.786, 1.27202],
    [5, 0.28543],
    [10, 0.14177],
    [100, 0.01414],
  ])('of second order leaves at %d f_g %d, as a mount of its damping lets through', (ratio, residual) => {
    const sensor = { naturalFrequency: 2, dampingRatio: Math.SQRT1_2 }
    expect(left({ gain: 1, sensor }, 2 * ratio)).toBeCloseTo(residual, 4)
    const mount = { stiffness: (4 * Math.PI) ** 2, damping: 2 * Math.SQRT1_2 * 4 * Math.PI }
    const { re, im } = channelAt(
      passiveIsolation({ payload: { mass: 1 }, mount }),
      'floorVelocity',
      'payloadVelocity',
      2 * ratio,
    )
    expect(left({ gain: 1, sensor }, 2 * ratio)).toBeCloseTo(Math.hypot(re, im), 12)
  })
})

describe('a ground sensor against what a position loop injects', () => {
  // Source: commissioning notes of an underground interferometer, log entries 10376 and 23220 (peaks caused by seismic motion
  // through the relative-sensor loop); 0.5 µm rms at 0.2 Hz, complementary sensitivity 0.95, gain error 4 %.
  it.each([
    [0, 19],
    [0.05, 35.9],
    [0.1, 63.7],
  ])('late by %d s leaves %d nm of 475', (delay, nanometres) => {
    expect(475 * left({ gain: 1.04, delay }, 0.2)).toBeCloseTo(nanometres, 1)
  })

  it('leaves 10 nm with 2.1 % of gain error or 0.0168 s of delay', () => {
    expect(475 * left({ gain: 1.021 }, 0.2)).toBeCloseTo(10, 0)
    expect(475 * left({ gain: 1, delay: 0.0168 }, 0.2)).toBeCloseTo(10, 1)
  })
})

describe('the residual as closed form and as model', () => {
  const payload = { mass: 1000 }
  const mount = { stiffness: 1.6e5, damping: 800 }

  it('is the same for a reaction force, with gain, delay, lag and preview', () => {
    const match = { gain: 0.97, delay: 2e-3, preview: 5e-4, actuator: { bandwidth: 150 } }
    const model = parallelActiveIsolation({ payload, mount, feedback: { velocityGain: 2e4 }, feedforward: match })
    const { re, im } = feedforwardResidual(match, [0.5, 5, 50])
    ;[0.5, 5, 50].forEach((frequency, k) => {
      const fed = channelAt(model, 'reactionForce', 'payloadVelocity', frequency)
      const force = channelAt(model, 'payloadForce', 'payloadVelocity', frequency)
      const [a, b] = [re[k] as number, im[k] as number]
      expect(a * force.re - b * force.im).toBeCloseTo(fed.re, 14)
      expect(a * force.im + b * force.re).toBeCloseTo(fed.im, 14)
    })
  })

  it('is the same for floor motion through a series stage with an undamped actuator', () => {
    const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
    const stage = (gain: number) =>
      seriesActiveIsolation({
        payload,
        mount: { stiffness: 8.9e6, damping: 1.9e4 },
        activeStage: {
          mass: 30,
          actuator: { stiffness: 1.2e8, stroke: 1e-5 },
          sensor,
          sensorLocation: 'floor',
          // A match needs an ideal integrator from velocity to expansion.
          controller: transferFunction({ numerator: [gain], denominator: [1, 0] }),
          delay: 1e-3,
        },
      })
    const { re, im } = feedforwardResidual({ gain: 0.95, delay: 1e-3, sensor }, [1, 15, 50])
    ;[1, 15, 50].forEach((frequency, k) => {
      const fed = channelAt(stage(0.95), 'floorVelocity', 'payloadVelocity', frequency)
      const mechanical = channelAt(stage(0), 'floorVelocity', 'payloadVelocity', frequency)
      const [a, b] = [re[k] as number, im[k] as number]
      expect(a * mechanical.re - b * mechanical.im).toBeCloseTo(fed.re, 10)
      expect(a * mechanical.im + b * mechanical.re).toBeCloseTo(fed.im, 10)
    })
  })
})

describe('feedforward that cannot be', () => {
  it('is refused in the model where the preview exceeds the delay', () => {
    const build = () =>
      parallelActiveIsolation({
        payload: { mass: 1 },
        mount: { stiffness: 1 },
        feedback: { velocityGain: 0 },
        feedforward: { gain: 1, delay: 1e-3, preview: 2e-3 },
      })
    expect([refusal(build).code, refusal(build).details.path]).toEqual(['out-of-range', 'feedforward.preview'])
  })

  it('is refused with a negative delay or an unknown key', () => {
    expect(refusal(() => feedforwardResidual({ gain: 1, delay: -1 }, [1])).details.path).toBe('delay')
    expect(refusal(() => feedforwardResidual({ gain: 1, lag: 1 } as never, [1])).code).toBe('invalid-option')
  })
})
