import { describe, expect, it } from 'vitest'
import { type SeriesStageDesign, tuneSeriesStage } from '../../../src/assessment/index.js'
import { airSpring, geophone, standardGravity } from '../../../src/elements/index.js'
import { spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
const floor = spectrum({
  quantity: 'velocity',
  frequency: [0.5, 2, 100],
  amplitudeDensity: [2e-8, 1e-7, 1e-7],
  support: 'points',
})
const noisy = (level: number): SeriesStageDesign => {
  const noise = { frequency: [0.1, 200], amplitudeDensity: [level, level] }
  const sensor = geophone({ naturalFrequency: 0.3, dampingRatio: 0.7, noise })
  const activeStage = { mass: 60, actuator, sensor, delay: 1e-4 }
  return { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4, activeStage }
}

describe('tuneSeriesStage at the edge of what is asked', () => {
  it('holds the rms of the payload under a tolerance against its worst corner', () => {
    const { outcome } = tuneSeriesStage(noisy(3e-8), { floor, tolerance: 0.1 })
    const { rms, worstRms, uncontrolledRms } = outcome as Record<string, number>
    // A heavier or lighter payload on stiffer or softer mounts is moved more by some of the eight corners, never by less than as designed.
    expect(worstRms).toBeGreaterThan(rms)
    expect(worstRms).toBeLessThan(1.5 * rms)
    expect(rms).toBeLessThan(uncontrolledRms)
  })

  it('gives gain away where the noise of the sensor would take the payload beyond its bound', () => {
    const design = noisy(2e-6)
    const least = tuneSeriesStage(design, { floor, objective: 'rms' }).outcome?.rms as number
    const maxRms = 1.05 * least
    const found = tuneSeriesStage(design, { floor, maxRms })
    expect([found.limitedBy, found.reason]).toEqual(['maxRms', 'the rms of the payload allows no wider band'])
    expect(found.outcome?.rms as number).toBeLessThanOrEqual(maxRms)
    expect(found.outcome?.modulusMargin as number).toBeGreaterThan(0.5)
  })

  it('does not search for a minute where the delay is seconds long', () => {
    const late = (delay: number) => {
      const { activeStage, ...rest } = noisy(0)
      return { ...rest, activeStage: { ...activeStage, delay } }
    }
    const { code, message } = refusal(() => tuneSeriesStage(late(2.4)))
    expect(code).toBe('no-convergence')
    expect(message).toBe(
      'tuneSeriesStage: needs more than 200000 samples of the loop for every controller tried; its delay turns it too often',
    )
    expect(tuneSeriesStage(late(2e-3)).limitedBy).toBe('modulusMargin')
  })

  it('counts a band that goes on beyond the one asked for up to its end only', () => {
    const within = (to: number) => tuneSeriesStage(noisy(0), { band: [0.3, to] })
    const [narrow, wide] = [within(3), within(1000)]
    // From wherever it begins the band reaches 3 Hz: no design can do better than the whole of it.
    const octaves = Math.min(...narrow.tried.map(({ objective }) => objective as number))
    expect(-octaves).toBeLessThanOrEqual(Math.log2(3 / 0.3) + 1e-9)
    expect(narrow.outcome?.activeTo as number).toBeGreaterThan(3)
    expect(wide.outcome?.activeTo as number).toBeGreaterThan(narrow.outcome?.activeTo as number)
  })

  it('refuses a tolerance of air springs at once, and a design without a stage', () => {
    const mount = airSpring({
      area: 0.02,
      volume: 5e-3,
      load: (1100 * standardGravity) / 4,
      diaphragmDamping: 900,
    })
    const error = refusal(() => tuneSeriesStage({ ...noisy(0), mount }, { tolerance: 0.1 }))
    expect([error.code, error.details.path]).toEqual(['unsupported', 'tolerance'])
    const { activeStage: _, ...none } = noisy(0)
    expect(refusal(() => tuneSeriesStage(none as never)).details.path).toBe('design.activeStage')
  })
})
