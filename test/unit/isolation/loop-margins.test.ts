import { describe, expect, it } from 'vitest'
import { activelyDampedIsolation, loopMargins, passiveIsolation } from '../../../src/isolation/index.js'
import { margins, openLoop, poles, stability, transferFunction } from '../../../src/systems/index.js'

const radians = (hertz: number | undefined) => 2 * Math.PI * (hertz ?? Number.NaN)

describe('margins of textbook loops', () => {
  // K. J. Åström, R. M. Murray, Feedback Systems (from memory), digits computed from the closed forms.
  it('1/(s(s + 1))', () => {
    const found = margins(transferFunction({ numerator: [1], denominator: [1, 1, 0] }))
    expect(radians(found.gainCrossovers[0]?.frequency)).toBeCloseTo(0.78615138, 8)
    expect(found.phaseMarginDegrees).toBeCloseTo(51.827292, 6)
    expect(1 / found.modulusMargin).toBeCloseTo(1.467889825, 9)
    expect(found.modulusMargin).toBeCloseTo(0.68125004, 8)
    expect(found.gainMargin).toBeNull()
    expect(found.closedLoop).toBe('stable')
  })

  it('1/(s(s + 1)²)', () => {
    const found = margins(transferFunction({ numerator: [1], denominator: [1, 2, 1, 0] }))
    expect(found.gainMargin).toBeCloseTo(2, 10)
    expect(radians(found.phaseCrossovers[0]?.frequency)).toBeCloseTo(1, 10)
    expect(radians(found.gainCrossovers[0]?.frequency)).toBeCloseTo(0.6823278, 8)
    expect(found.phaseMarginDegrees).toBeCloseTo(21.38639, 6)
    expect(1 / found.modulusMargin).toBeCloseTo(3.36713042, 8)
    expect(radians(found.modulusMarginFrequency)).toBeCloseTo(0.76661, 5)
  })

  it('(0.5s + 1.3)/(s³ + 1.2s² + 1.6s)', () => {
    const loop = transferFunction({ numerator: [0.5, 1.3], denominator: [1, 1.2, 1.6, 0] })
    const found = margins(loop)
    expect(found.gainMargin).toBeCloseTo(2.74285714, 8)
    expect(radians(found.phaseCrossovers[0]?.frequency)).toBeCloseTo(1.72378321, 8)
    expect(found.phaseMarginDegrees).toBeCloseTo(44.652, 3)
    expect(radians(found.gainCrossovers[0]?.frequency)).toBeCloseTo(1.03642, 5)
    expect(1 / found.modulusMargin).toBeCloseTo(2.29282532, 8)
    const closed = poles(transferFunction({ numerator: [1], denominator: [1, 1.2, 2.1, 1.3] }))
    expect(closed.find(({ im }) => im > 0)?.re).toBeCloseTo(-0.23053518, 8)
    expect(closed.find(({ im }) => im > 0)?.im).toBeCloseTo(1.30619868, 8)
    expect(closed.find(({ im }) => im === 0)?.re).toBeCloseTo(-0.73892965, 8)
  })

  it('(0.5s + 1.3)/(s³ + 1.2s² + 1.6s) has a gain margin of 8.764 dB', () => {
    // As above.
    const { gainMargin } = margins(transferFunction({ numerator: [0.5, 1.3], denominator: [1, 1.2, 1.6, 0] }))
    expect(20 * Math.log10(gainMargin as number)).toBeCloseTo(8.764, 3)
  })

  // K. J. Åström, R. M. Murray (from memory): a peak Ms of 1/(1 + L) leaves at least the gain margin Ms/(Ms − 1) and the
  // phase margin 2·asin(1/(2Ms)). Two loops that have just that much and no more: derived, g((1 − s)/(1 + s))² with
  // g = 1 − 1/Ms runs on a circle about 0; S of (bs + 2)/(s² + bs − 1) peaks at 1 rad/s, where |L| = 1, b = 2/√(4Ms² − 1).
  it.each([
    [1.2, 6, 15.563, 49.249, 0.916698497],
    [1.4, 3.5, 10.881, 41.85, 0.764719113],
    [1.6, 2.6667, 8.519, 36.42, 0.657951695],
    [2, 2, 6.021, 28.955, 0.51639778],
  ])('a peak of %d leaves a gain margin of %d, %d dB, or %d° at the least', (Ms, gain, decibels, degrees, b) => {
    const g = 1 - 1 / Ms
    const turned = margins(transferFunction({ numerator: [g, -2 * g, g], denominator: [1, 2, 1] }))
    expect(1 / turned.modulusMargin).toBeCloseTo(Ms, 9)
    expect(turned.gainMargin).toBeCloseTo(gain, 4)
    expect(20 * Math.log10(turned.gainMargin as number)).toBeCloseTo(decibels, 3)
    const late = margins(transferFunction({ numerator: [b, 2], denominator: [1, b, -1] }))
    expect(1 / late.modulusMargin).toBeCloseTo(Ms, 8)
    expect(late.closedLoop).toBe('stable')
    expect(late.phaseMarginDegrees).toBeCloseTo(degrees, 3)
  })

  // K. J. Åström, R. M. Murray (from memory): GM ≥ Ms/(Ms − 1), PM ≥ 2·asin(1/(2Ms)).
  it.each([
    [transferFunction({ numerator: [1], denominator: [1, 2, 1, 0] })],
    [transferFunction({ numerator: [0.5, 1.3], denominator: [1, 1.2, 1.6, 0] })],
  ])('bound gain and phase margin by the modulus margin', (loop) => {
    const { gainMargin, phaseMarginDegrees, modulusMargin } = margins(loop)
    expect(gainMargin).toBeGreaterThanOrEqual(1 / (1 - modulusMargin))
    expect(phaseMarginDegrees).toBeGreaterThanOrEqual((2 * Math.asin(modulusMargin / 2) * 180) / Math.PI)
  })
})

describe('loopMargins', () => {
  const options = { payload: { mass: 100 }, mount: { stiffness: 1e4, damping: 20 } }

  it('is empty for a model without loops', () => {
    expect(loopMargins(passiveIsolation(options))).toEqual([])
  })

  it('opens each loop at its port', () => {
    const model = activelyDampedIsolation({ ...options, damping: { gain: 2000, delay: 0.002 } })
    const [loop, ...others] = loopMargins(model)
    expect(others).toEqual([])
    expect(loop).toEqual({
      name: 'damping',
      port: 'actuator.force',
      margins: margins(openLoop(model.diagram, 'actuator.force')),
    })
  })

  it('tells of an unstable loop by its modulus margin and its crossovers', () => {
    const model = activelyDampedIsolation({ ...options, damping: { gain: 2000, delay: 0.2 } })
    expect(stability(model.closed).verdict).toBe('unstable')
    const found = loopMargins(model)[0]?.margins
    expect(found).toMatchObject({
      closedLoop: 'unstable',
      gainMargin: null,
      phaseMarginDegrees: null,
      delayMargin: null,
    })
    expect(found?.modulusMargin).toBeGreaterThan(0)
    expect(found?.gainCrossovers.length).toBe(2)
  })
})
