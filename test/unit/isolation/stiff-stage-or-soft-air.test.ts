import { describe, expect, it } from 'vitest'
import { springMount } from '../../../src/elements/index.js'
import { compliance, loopMargins, passiveIsolation, seriesActiveIsolation } from '../../../src/isolation/index.js'
import { series, transferFunction } from '../../../src/systems/index.js'
import { modulusAt } from './read-off.js'

// Source: C. Collette, S. Janssens, K. Artoos, Recent Patents on Mechanical Engineering 4 (2011) 212 (isolation against
// robustness to direct forces), as told in public notes on that review; numbers computed from the closed forms
// T = (k + c s)/(m s² + c s + k) and T/(1 + L), L = 10 (s/ω_a)/(1 + s/ω_a)/(1 + s/ω_b)².
const mass = 900
const payload = { mass }
const air = passiveIsolation({ payload, mount: springMount({ mass, naturalFrequency: 1.6, dampingRatio: 0.08 }) })
const [a, b] = [2 * Math.PI * 0.8, 2 * Math.PI * 25]
// C = L/s: from measured velocity to expansion.
const first = transferFunction({ numerator: [10 / a], denominator: [1 / a, 1] })
const second = transferFunction({ numerator: [1], denominator: [1 / b ** 2, 2 / b, 1] })
const stiff = seriesActiveIsolation({
  payload,
  mount: springMount({ mass, naturalFrequency: 18, dampingRatio: 0.12 }),
  activeStage: {
    // So stiff and light that stage and expansion move as one, to 1e-5.
    mass: 0.1,
    actuator: { stiffness: 1e13, stroke: 1e-4 },
    sensorLocation: 'activeStage',
    controller: series(first, second),
  },
})

describe('a stiff active stage beside soft air legs', () => {
  it('gives way 8.69 µm under 100 N, air 1099 µm, 126.6 times as much', () => {
    expect(100e6 * (compliance(air, [0]).re[0] as number)).toBeCloseTo(1099, 0)
    expect(100e6 * (compliance(stiff, [0]).re[0] as number)).toBeCloseTo(8.69, 2)
    const [soft, hard] = [compliance(air, [0]).re[0] as number, compliance(stiff, [0]).re[0] as number]
    expect(soft / hard).toBeCloseTo(126.6, 1)
  })

  it.each([
    [0.3, 1.04, 0.25],
    [2, 1.71, 0.0992],
    [5, 0.127, 0.103],
    [10, 0.0371, 0.153],
    [50, 0.00523, 0.109],
  ])('at %d Hz passes %d on air and %d on the stage', (frequency, soft, active) => {
    // Three digits are stated.
    expect(Math.abs(modulusAt(air, frequency) / soft - 1)).toBeLessThan(5e-3)
    expect(Math.abs(modulusAt(stiff, frequency) / active - 1)).toBeLessThan(5e-3)
  })

  it('pays with a loop that amplifies 1.85 times at 90.6 Hz', () => {
    const found = loopMargins(stiff)[0]?.margins
    expect(1 / (found?.modulusMargin as number)).toBeCloseTo(1.85, 2)
    expect(found?.modulusMarginFrequency).toBeCloseTo(90.6, 1)
  })
})
