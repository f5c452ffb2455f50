import { describe, expect, it } from 'vitest'
import { assess, type Site } from '../../../src/assessment/index.js'
import { airSpring, springMount, standardGravity } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  passiveIsolation,
  pneumaticIsolation,
  seriesActiveIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { criterion, customCriterion, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

/** 1 µm/s/√Hz from 0.5 to 100 Hz: 1.5 µm/s in the 10 Hz band. */
const floor = flatFloor(1e-12, 0.5, 100)
const site: Site = { floor, criterion: 'VC-E' }

describe('assess of a mount at 2.5 Hz, ζ = 0.1, on 1 µm/s/√Hz against VC-E', () => {
  const found = () => assess(voigt(2.5, 0.1), site)

  it('judges the payload band by band', () => {
    const result = found()
    // Levels computed by quadrature of |T|² over each band; VC-E is 3.125 µm/s: H. Amick, M. Gendreau, T. Busch, C. Gordon,
    // Proc. SPIE 5933 (2005).
    expect(result.verdict).toBe('fail')
    expect(result.payload?.worst.nominal).toBe(2.5)
    expect((result.payload?.worst.rms ?? 0) * 1e6).toBeCloseTo(3.332, 3)
    expect(result.payload?.worst.limit).toBeCloseTo(3.125e-6, 12)
    expect(result.payload?.worst.ratio).toBeCloseTo(1.0663, 3)
    expect(result.payload?.judged).toEqual([1, 80])
    expect(result.payload?.missing).toEqual([])
    expect(result.reasons[0]).toBe('worst band of the payload: 3.33 µm/s in the 2.5 Hz band, 1.07 of VC-E')
  })

  it('shows the floor beside it', () => {
    const result = found()
    // S_v·Δf with Δf = 0.23076752·f_m: IEC 61260-1:2014; 4.2820 µm/s in the 80 Hz band.
    expect(result.floor.verdict).toBe('fail')
    expect(result.floor.worst.nominal).toBe(80)
    expect((result.floor.worst.rms ?? 0) * 1e6).toBeCloseTo(4.282, 2)
    expect(result.floorBands.bands.map(({ nominal }) => nominal)).toEqual(
      result.bands?.bands.map(({ nominal }) => nominal),
    )
  })

  it('carries what the verdict rests on', () => {
    const result = found()
    expect(result).toMatchObject({
      kind: 'Assessment',
      concept: 'passive',
      stability: { verdict: 'stable' },
      loops: [],
      effort: [],
      settling: [],
      otherAxes: [],
      allLoops: null,
      tolerance: null,
    })
    // Harris' Shock and Vibration Handbook: peak 5.1227736 at ζ = 0.1; static compliance 1/(m·ω₀²) = 4.05285e-3 m/N.
    expect(result.transmissibility.peak).toBeCloseTo(5.1227736, 6)
    expect(result.staticCompliance).toBeCloseTo(4.05285e-3, 8)
    // Computed from the closed form 1/(m·ω₀²·2ζ√(1 − ζ²)) at f₀√(1 − 2ζ²)
    expect(result.peakCompliance?.value).toBeCloseTo(0.0203663242, 9)
    expect(result.peakCompliance?.frequency).toBeCloseTo(2.474874, 5)
    expect(result.cautions.length).toBeGreaterThan(1)
  })

  it('passes with more damping', () => {
    const damped = assess(voigt(2.5, 0.2), site)
    expect(damped.verdict).toBe('pass')
    expect(damped.reasons.length).toBeGreaterThan(0)
  })
})

describe('the criterion', () => {
  it('by name and as a record is the same', () => {
    const model = voigt(2.5, 0.1)
    expect(assess(model, { floor, criterion: criterion('VC-D') })).toEqual(assess(model, { floor, criterion: 'VC-D' }))
  })

  it('may be a curve of one’s own, of which only its bands are judged', () => {
    // Band level at 10 Hz through 2.5 Hz, ζ = 0.1: 0.13046593 µm/s, computed by quadrature.
    const limits = (velocity: number) => customCriterion({ frequency: [8, 12.5], velocity: [velocity, velocity] })
    const pass = assess(voigt(2.5, 0.1), { floor, criterion: limits(0.18e-6) })
    expect(pass.verdict).toBe('pass')
    expect(pass.payload?.ratios.map(({ nominal }) => nominal)).toEqual([8, 10, 12.5])
    expect((pass.payload?.ratios[1]?.rms ?? 0) * 1e6).toBeCloseTo(0.13046593, 4)
    expect(assess(voigt(2.5, 0.1), { floor, criterion: limits(0.13e-6) }).verdict).toBe('fail')
  })

  it('in its form of 1991 begins at 4 Hz', () => {
    const old = assess(voigt(2.5, 0.1), { floor, criterion: criterion('VC-E', { edition: '1991' }) })
    expect(old.payload?.judged).toEqual([4, 80])
    expect(old.verdict).toBe('pass')
  })
})

describe('a floor record that does not cover every band', () => {
  it('leaves those bands out by name', () => {
    // Bands of IEC 61260-1:2014: 2 Hz begins at 1.778 Hz, 20 Hz ends at 22.387 Hz.
    const part = assess(voigt(2.5, 0.1), { floor: flatFloor(1e-12, 1.7, 23), criterion: 'VC-E' })
    expect(part.payload?.judged).toEqual([2, 20])
    expect(part.payload?.missing).toEqual([1, 1.25, 1.6, 25, 31.5, 40, 50, 63, 80])
    expect(part.reasons.join('\n')).toContain('1, 1.25, 1.6, 25, 31.5, 40, 50, 63, 80 Hz')
    expect(part.verdict).toBe('fail')
  })

  it('is refused where it covers none', () => {
    const error = refusal(() => assess(voigt(2.5, 0.1), { floor: flatFloor(1e-12, 2.3, 2.6), criterion: 'VC-E' }))
    expect([error.code, error.details.path, error.details.function]).toEqual(['out-of-range', 'floor', 'assess'])
  })

  it('in lines covers half a line beyond the outer ones', () => {
    const frequency = Array.from({ length: 100 }, (_, k) => 0.9 + k)
    const lines = spectrum({ quantity: 'velocity', frequency, density: frequency.map(() => 1e-12) })
    // 0.4 to 100.4 Hz: all bands from 1 to 80 Hz.
    expect(assess(voigt(2.5, 0.1), { floor: lines, criterion: 'VC-E' }).payload?.missing).toEqual([])
  })
})

describe('a model without a steady state', () => {
  const mount = springMount({ mass: 1, naturalFrequency: 2, dampingRatio: 0.01 })

  it('fails where it is unstable, with the reason first', () => {
    const model = activelyDampedIsolation({ payload: { mass: 1 }, mount, damping: { gain: -10 } })
    const result = assess(model, { floor: flatFloor(1e-20, 0.5, 100), criterion: 'VC-A' })
    expect(result).toMatchObject({ verdict: 'fail', bands: null, payload: null, staticCompliance: null, effort: [] })
    expect(result.stability).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
    expect(result.reasons[0]).toContain('unstable: 2 poles')
    // The floor alone would pass.
    expect(result.floor.verdict).toBe('pass')
    expect(result.loops[0]?.margins.closedLoop).toBe('unstable')
  })

  it('fails where it is marginal', () => {
    const result = assess(voigt(2, 0), { floor: flatFloor(1e-20, 0.5, 100), criterion: 'VC-A' })
    expect(result).toMatchObject({ verdict: 'fail', bands: null, payload: null, staticCompliance: null })
    expect(result.stability.verdict).toBe('marginal')
    expect(result.reasons[0]).toContain('undamped')
    expect(result.transmissibility.peak).toBe(Number.POSITIVE_INFINITY)
  })

  it('fails in a levelled air spring beyond its limit', () => {
    const air = airSpring({ area: 0.02, volume: 4e-3, load: 500 * standardGravity, diaphragmDamping: 300 })
    // Limit κ = c/m = 0.6 1/s.
    const at = (rate: number) =>
      pneumaticIsolation({ payload: { mass: 500 }, mount: air, levelling: { flowGain: rate * 0.02 } })
    const easy: Site = { floor: flatFloor(1e-18, 0.5, 100), criterion: 'VC-A' }
    expect(assess(at(0.61), easy).verdict).toBe('fail')
    expect(assess(at(0.2), easy).verdict).toBe('pass')
  })
})

describe('a loop', () => {
  // The modulus margin of this loop is 0.893419: computed from the closed form, f₀ = 2 Hz undamped, ζ_s = 1, 5 ms.
  const mount = springMount({ mass: 1, naturalFrequency: 2, dampingRatio: 0 })
  const model = activelyDampedIsolation({ payload: { mass: 1 }, mount, damping: { dampingRatio: 1, delay: 5e-3 } })
  const easy: Site = { floor: flatFloor(1e-18, 0.5, 100), criterion: 'VC-A' }

  it('must keep the least modulus margin, by default 0.5', () => {
    expect(assess(model, easy).verdict).toBe('pass')
    expect(assess(model, { ...easy, minimumModulusMargin: 0.89 }).verdict).toBe('pass')
    const result = assess(model, { ...easy, minimumModulusMargin: 0.9 })
    expect(result.verdict).toBe('fail')
    expect(result.reasons[0]).toMatch(/^loop damping: modulus margin 0\.893 at 25\.1 Hz, below 0\.9$/)
    const late = activelyDampedIsolation({ payload: { mass: 1 }, mount, damping: { dampingRatio: 1, delay: 45e-3 } })
    expect(assess(late, easy).verdict).toBe('fail')
  })
})

describe('effort of an active stage against its stroke', () => {
  // A floor of 1e-18 m²/Hz in displacement from 1 to 10 Hz is 3e-9 m rms. With the sensor on the floor the expansion is
  // −0.95 times the floor displacement: 2.85e-9 m rms, 8.55e-9 m at three rms; a stroke counts half either way. Computed
  // from the closed form; high-pass and low-pass of the controller change it by less than 1e-3.
  const model = (stroke: number) =>
    seriesActiveIsolation({
      payload: { mass: 500 },
      mount: springMount({ mass: 500, naturalFrequency: 15, dampingRatio: 0.1 }),
      activeStage: {
        mass: 30,
        actuator: { stiffness: 1.2e8, damping: 1e4, stroke },
        sensorLocation: 'floor',
        controller: { gain: 0.95, highPass: 1e-3, lowPass: 1e5 },
      },
    })
  const band = spectrum({ quantity: 'displacement', frequency: [1, 10], density: [1e-18, 1e-18] })
  const quiet: Site = { floor: band, criterion: 'VC-A' }

  it('is three times the rms', () => {
    const [effort, ...others] = assess(model(2e-8), quiet).effort
    expect(others).toEqual([])
    expect(effort).toMatchObject({ name: 'actuatorExpansion', unit: 'm', limit: 1e-8 })
    expect(Math.abs((effort?.rms ?? 0) / 2.85e-9 - 1)).toBeLessThan(1e-3)
    expect(Math.abs((effort?.peak ?? 0) / 8.55e-9 - 1)).toBeLessThan(1e-3)
  })

  it('fails a stroke that is too short', () => {
    expect(assess(model(1.72e-8), quiet).verdict).toBe('pass')
    const short = assess(model(1.7e-8), quiet)
    expect(short.verdict).toBe('fail')
    expect(short.reasons[0]).toBe('actuatorExpansion: needs 8.55e-9 m (3 rms) of 8.5e-9 m')
  })
})

describe('cautions', () => {
  const text = (model: Parameters<typeof assess>[0]) => assess(model, { floor, criterion: 'VC-A' }).cautions.join(' ')

  it('name what the hardware can do to people', () => {
    // Common practice, no source.
    const passive = text(voigt(2.5, 0.1))
    expect(passive).toContain('tip')
    expect(passive).not.toContain('pressure')
    expect(passive).not.toContain('voltage')
    const air = airSpring({ area: 0.02, volume: 4e-3, load: 500 * standardGravity, diaphragmDamping: 900 })
    expect(text(pneumaticIsolation({ payload: { mass: 500 }, mount: air }))).toContain('pressure')
    expect(text(passiveIsolation({ payload: { mass: 500 }, mount: air }))).toContain('pressure')
    const storey = { concept: 'passive' as const, payload: { mass: 100 }, mount: { stiffness: 1e6, damping: 2e3 } }
    const lower = { concept: 'pneumatic' as const, payload: { mass: 400 }, mount: air }
    expect(text(stackedIsolation({ lower, upper: storey }))).toContain('pressure')
  })
})

describe('assess refuses', () => {
  it.each([
    [{ criterion: 'VC-A' }, 'invalid-option', 'floor'],
    [{ floor }, 'invalid-option', 'criterion'],
    [{ floor, criterion: 'VC-Z' }, 'invalid-option', 'criterion'],
    [{ floor, criterion: { kind: 'Criterion' } }, 'invalid-option', 'criterion.name'],
    [{ floor, criterion: 'VC-A', minimumModulusMargin: 1.5 }, 'out-of-range', 'minimumModulusMargin'],
    [{ floor, criterion: 'VC-A', minimumModulusMargin: Number.NaN }, 'not-finite', 'minimumModulusMargin'],
    [{ floor, criterion: 'VC-A', limit: 1 }, 'invalid-option', 'limit'],
    [{ floor: { ...floor, quantity: 'force' }, criterion: 'VC-A' }, 'invalid-option', 'floor.quantity'],
    [null, 'invalid-option', ''],
  ])('%o as %s at "%s"', (options, code, path) => {
    const error = refusal(() => assess(voigt(2, 0.1), options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'assess'])
  })

  it('what is no model', () => {
    for (const value of [null, {}, voigt(2, 0.1).closed]) {
      expect(refusal(() => assess(value as never, site)).details.function).toBe('assess')
    }
  })
})
