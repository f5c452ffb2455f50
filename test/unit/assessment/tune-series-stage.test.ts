import { describe, expect, it } from 'vitest'
import { overOnePlus, sampledPlant } from '../../../src/assessment/controlled-plant.js'
import { noiseBudget, tuneSeriesStage } from '../../../src/assessment/index.js'
import { controllerAt, controllerOf } from '../../../src/assessment/series-stage-search.js'
import { geophone } from '../../../src/elements/index.js'
import { scopeOf } from '../../../src/internal/check.js'
import { activeBand, loopMargins, seriesActiveIsolation, transmissibility } from '../../../src/isolation/index.js'
import { complexTimes } from '../../../src/linear/complex.js'
import { leadLag, series, transferFunction } from '../../../src/systems/index.js'
import { rms, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

describe('tuneSeriesStage', () => {
  const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
  const activeStage = { mass: 60, actuator, sensor: { naturalFrequency: 0.3, dampingRatio: 0.7 }, delay: 1e-4 }
  const design = { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4, activeStage }
  const built = (parameters: Readonly<Record<string, number>>, mass = 1100) => {
    const { gain, highPass, lowPass, leadCorner, lagCorner } = parameters as Record<string, number> as {
      [name in 'gain' | 'highPass' | 'lowPass' | 'leadCorner' | 'lagCorner']: number
    }
    const [high, low] = [2 * Math.PI * highPass, 2 * Math.PI * lowPass]
    const base = transferFunction({ numerator: [gain * low], denominator: [1, high + low, high * low] })
    const controller = series(base, leadLag({ leadCorner, lagCorner }))
    const stage = { ...activeStage, sensorLocation: 'activeStage' as const, controller }
    return seriesActiveIsolation({ ...design, payload: { mass }, activeStage: stage })
  }
  const found = tuneSeriesStage(design)

  it('states a controller that keeps the margin, exactly', () => {
    const [loop] = loopMargins(built(found.parameters as Record<string, number>))
    expect(loop?.margins.closedLoop).toBe('stable')
    expect(loop?.margins.modulusMargin).toBeCloseTo(0.5, 7)
    expect(found.outcome?.modulusMargin).toBeCloseTo(0.5, 7)
    expect(found.limitedBy).toBe('modulusMargin')
  })

  it('has the active band that it states', () => {
    const bands = activeBand(built(found.parameters as Record<string, number>), { improvement: 2 })
    const widest = bands.reduce((a, b) => (b[1] / b[0] > a[1] / a[0] ? b : a))
    expect(widest[0] / (found.outcome?.activeFrom as number)).toBeCloseTo(1, 9)
    expect(widest[1] / (found.outcome?.activeTo as number)).toBeCloseTo(1, 9)
  })

  it('is wider than a design by hand', () => {
    // Gain 3, corners 0.02 and 60 Hz, modulus margin 0.56: the case series-activeStage of the stored concepts.
    const hand = built({ gain: 3, highPass: 0.02, lowPass: 60, leadCorner: 100, lagCorner: 100 })
    const [from, to] = activeBand(hand, { improvement: 2 }).reduce((a, b) => (b[1] / b[0] > a[1] / a[0] ? b : a))
    const octaves = Math.log2(to / Math.max(from, 0.3))
    const { activeFrom, activeTo } = found.outcome as Record<string, number>
    expect(Math.log2((activeTo as number) / Math.max(activeFrom as number, 0.3))).toBeGreaterThan(octaves)
  })

  it('keeps the margin at every corner of a tolerance, at a lower gain', () => {
    const tolerant = tuneSeriesStage(design, { tolerance: 0.1 })
    const { gain } = tolerant.parameters as Record<string, number>
    expect(gain as number).toBeLessThan(tolerant.outcome?.nominalGain as number)
    expect(tolerant.outcome?.worstModulusMargin as number).toBeGreaterThan(0.5 - 1e-7)
    for (const mass of [990, 1210]) {
      const [loop] = loopMargins(built(tolerant.parameters as Record<string, number>, mass))
      expect(loop?.margins.modulusMargin as number).toBeGreaterThan(0.5)
    }
  })

  it('trades band for margin', () => {
    const careful = tuneSeriesStage(design, { modulusMargin: 0.7 })
    expect(careful.outcome?.activeTo as number).toBeLessThan(found.outcome?.activeTo as number)
  })

  it('refuses a controller, which it is to find, and a band that is none', () => {
    const given = { ...design, activeStage: { ...activeStage, sensorLocation: 'floor' } }
    expect(refusal(() => tuneSeriesStage(given as never)).details.path).toBe('activeStage')
    expect(refusal(() => tuneSeriesStage(design, { band: [3, 1] })).details.path).toBe('band[1]')
  })

  it('reads every controller off one sampling of the stage', () => {
    const corners = { highPass: 0.05, lowPass: 100, leadCorner: 30, lagCorner: 200 }
    const stage = { ...activeStage, sensorLocation: 'activeStage' as const, controller: controllerOf(corners, 2.5) }
    const model = seriesActiveIsolation({ ...design, activeStage: stage })
    const points = sampledPlant(scopeOf('test'), model, {
      controller: 'controller',
      inputs: ['floorVelocity'],
      output: 'payloadVelocity',
      places: [20, 200],
      like: (omega) => controllerAt(corners, omega),
    }).filter(({ omega }) => omega > 0.1 && omega < 1e4)
    const exact = transmissibility(
      model,
      Float64Array.from(points, ({ omega }) => omega / (2 * Math.PI)),
    )
    points.forEach(({ omega, loop, commanded, direct, measured }, k) => {
      const control = controllerAt(corners, omega)
      const returned = complexTimes({ re: 2.5, im: 0 }, complexTimes(control, loop))
      const by = complexTimes(
        { re: 2.5, im: 0 },
        complexTimes(overOnePlus(complexTimes(control, commanded), returned), measured[0] ?? control),
      )
      const [re, im] = [(direct[0]?.re ?? 0) + by.re, (direct[0]?.im ?? 0) + by.im]
      // Rounding of the differences of two nearly equal numbers, against the passive response.
      const scale = Math.hypot(direct[0]?.re ?? 0, direct[0]?.im ?? 0)
      expect(Math.hypot(re - (exact.re[k] ?? 0), im - (exact.im[k] ?? 0))).toBeLessThan(1e-9 * scale)
    })
    expect(points.length).toBeGreaterThan(100)
  })
})

describe('tuneSeriesStage with the noise of its sensor', () => {
  const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
  const floor = spectrum({
    quantity: 'velocity',
    frequency: [0.5, 2, 100],
    amplitudeDensity: [2e-8, 1e-7, 1e-7],
    support: 'points',
  })
  const noisy = (level: number) => {
    const noise = { frequency: [0.1, 200], amplitudeDensity: [level, level] }
    const sensor = geophone({ naturalFrequency: 0.3, dampingRatio: 0.7, noise })
    const activeStage = { mass: 60, actuator, sensor, delay: 1e-4 }
    return { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4, activeStage }
  }
  type Design = ReturnType<typeof noisy>
  const rmsOf = (design: Design, parameters: Readonly<Record<string, number>>, factor = 1) => {
    const corners = parameters as unknown as Parameters<typeof controllerOf>[0]
    const controller = controllerOf(corners, factor * (parameters.gain as number))
    const activeStage = { ...design.activeStage, sensorLocation: 'activeStage' as const, controller }
    return rms(noiseBudget(seriesActiveIsolation({ ...design, activeStage }), { floor }).total)
  }

  it('states the rms of the payload under floor and noise', () => {
    const found = tuneSeriesStage(noisy(3e-8), { floor })
    expect(rmsOf(noisy(3e-8), found.parameters as Record<string, number>) / (found.outcome?.rms as number)).toBeCloseTo(
      1,
      9,
    )
    expect(
      rmsOf(noisy(3e-8), { ...found.parameters, gain: 0 }) / (found.outcome?.uncontrolledRms as number),
    ).toBeCloseTo(1, 9)
    expect(found.limitedBy).toBe('modulusMargin')
  })

  it('takes less gain than the margin allows where noise costs more than the floor', () => {
    const design = noisy(5e-7)
    const found = tuneSeriesStage(design, { floor, objective: 'rms' })
    const least = found.outcome?.rms as number
    expect(found.limitedBy).toBeNull()
    expect(found.outcome?.modulusMargin as number).toBeGreaterThan(0.5)
    expect(least).toBeLessThan(found.outcome?.uncontrolledRms as number)
    expect(least).toBeLessThan(tuneSeriesStage(design, { floor }).outcome?.rms as number)
    // Neither a fifth more nor a fifth less gain is better; a finest step of the search is a twentieth.
    for (const factor of [0.8, 1.2])
      expect(rmsOf(design, found.parameters as Record<string, number>, factor)).toBeGreaterThan(least)
  })

  it('takes it all where the sensor is quiet', () => {
    const found = tuneSeriesStage(noisy(1e-12), { floor, objective: 'rms' })
    expect(found.limitedBy).toBe('modulusMargin')
    expect(found.outcome?.modulusMargin).toBeCloseTo(0.5, 6)
  })

  it('keeps a bound on the rms, or says that it cannot', () => {
    const design = noisy(1e-7)
    const free = tuneSeriesStage(design, { floor })
    const maxRms = 0.9 * (free.outcome?.rms as number)
    const bound = tuneSeriesStage(design, { floor, maxRms })
    expect(bound.outcome?.rms as number).toBeLessThanOrEqual(maxRms)
    const octaves = ({ outcome }: typeof free) =>
      Math.log2((outcome?.activeTo as number) / (outcome?.activeFrom as number))
    expect(octaves(bound)).toBeLessThan(octaves(free))
    // Whether it gave away gain or moved the corners, the bound is what it stopped at.
    expect(bound.limitedBy).toBe('maxRms')
    expect(tuneSeriesStage(design, { floor, maxRms: 10 * maxRms }).limitedBy).toBe('modulusMargin')
    const none = tuneSeriesStage(design, { floor, maxRms: 1e-12 })
    expect([none.parameters, none.limitedBy]).toEqual([null, 'maxRms'])
    expect(none.tried.every(({ feasible }) => !feasible)).toBe(true)
  })

  it('needs the floor for it', () => {
    expect(refusal(() => tuneSeriesStage(noisy(0), { objective: 'rms' })).details.path).toBe('floor')
    expect(refusal(() => tuneSeriesStage(noisy(0), { maxRms: 1 })).details.path).toBe('floor')
    expect(refusal(() => tuneSeriesStage(noisy(0), { floor, objective: 'peak' as never })).details.path).toBe(
      'objective',
    )
  })
})
