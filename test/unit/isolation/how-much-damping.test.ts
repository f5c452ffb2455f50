import { describe, expect, it } from 'vitest'
import { springMount } from '../../../src/elements/index.js'
import { activelyDampedIsolation, isolationSummary, passiveIsolation } from '../../../src/isolation/index.js'
import { h2Norm, stateSpace } from '../../../src/systems/index.js'
import { modulusAt } from './read-off.js'

// Source: F. C. Nelson, Vibration isolation: a review, I, Shock and Vibration 1(5), 1994, for the question; numbers computed
// from the closed forms T = (1 + 2jζr)/(1 − r² + 2jζr) and 1/(1 − r² + 2jζr), r = f/f₀, f₀ = 3 Hz.
const mass = 700
const payload = { mass }
const dashpot = (dampingRatio: number) =>
  passiveIsolation({ payload, mount: springMount({ mass, naturalFrequency: 3, dampingRatio }) })
const inSpace = (dampingRatio: number) =>
  activelyDampedIsolation({
    payload,
    mount: springMount({ mass, naturalFrequency: 3, dampingRatio: 0 }),
    damping: { dampingRatio },
  })

describe('damping of a mount of 3 Hz', () => {
  it.each([
    [0.05, 10.1, 0.019, 0.0146],
    [0.2, 2.73, 0.0508, 0.0146],
    [0.5, 1.47, 0.122, 0.0145],
  ])(
    'of ratio %d peaks at %d and passes %d at 25 Hz by a dashpot, %d by the same damping in space',
    (ratio, peak, passed, active) => {
      // Three digits are stated.
      expect(isolationSummary(dashpot(ratio)).peak / peak).toBeCloseTo(1, 2)
      expect(modulusAt(dashpot(ratio), 25) / passed).toBeCloseTo(1, 2)
      expect(modulusAt(inSpace(ratio), 25) / active).toBeCloseTo(1, 2)
    },
  )

  it('lets least of white floor acceleration through at a ratio of 0.5: as 2.25 to 1.20 to 1.00', () => {
    // Computed from the closed form √((1 + 4ζ²)/(4ζ)) of the rms acceleration, whose least value is at 0.5.
    const rms = (ratio: number) => {
      const { A, B, C, inputs, outputs } = dashpot(ratio).closed
      const [from, to] = [inputs.indexOf('floorVelocity'), outputs.indexOf('payloadVelocity')]
      // Acceleration over acceleration is velocity over velocity.
      return h2Norm(stateSpace({ A, B: B.map((row) => [row[from] as number]), C: [C[to] as number[]] }))
    }
    expect(rms(0.05) / rms(0.5)).toBeCloseTo(2.25, 2)
    expect(rms(0.2) / rms(0.5)).toBeCloseTo(1.2, 2)
    for (const other of [0.4, 0.45, 0.55, 0.6]) expect(rms(other)).toBeGreaterThan(rms(0.5))
  })
})

describe('a seismic attenuation stage', () => {
  // Common figures of published one-tonne attenuation systems: a factor of about 400 at 4 Hz horizontally and at 9 Hz
  // vertically, which (f/f₀)² gives for 0.2 and 0.45 Hz; computed from that closed form.
  it.each([
    [0.2, 4],
    [0.45, 9],
  ])('of %d Hz attenuates 400 times at %d Hz', (naturalFrequency, frequency) => {
    const mount = springMount({ mass: 1000, naturalFrequency, dampingRatio: 0 })
    const model = passiveIsolation({ payload: { mass: 1000 }, mount })
    expect(1 / modulusAt(model, frequency)).toBeCloseTo(399, 6)
  })
})
