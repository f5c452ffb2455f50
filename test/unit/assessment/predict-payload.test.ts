import { describe, expect, it } from 'vitest'
import { predictPayload } from '../../../src/assessment/index.js'
import { relaxationMount, springMount } from '../../../src/elements/index.js'
import { activelyDampedIsolation, passiveIsolation, stackedIsolation } from '../../../src/isolation/index.js'
import {
  type Bands,
  convertSpectrum,
  oneThirdOctaveBands,
  rms,
  type Spectrum,
  spectrum,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

// Points are placed so that log-log lines between them hold to 1e-4 of the density, thus to 5e-5 of an rms.
const interpolated = 5e-5
const whole = ({ frequency, ...rest }: Spectrum) =>
  rms({ frequency, ...rest }, { from: frequency[0] as number, to: frequency.at(-1) as number })
const level = (bands: Bands, nominal: number) => bands.bands.find((band) => band.nominal === nominal)?.rms ?? Number.NaN
const expectRatio = (found: number, expected: number, tolerance: number) =>
  expect(Math.abs(found / expected - 1), `${found} against ${expected}`).toBeLessThan(tolerance)

describe('a floor whose density falls to the smallest number there is', () => {
  it('is followed in some thousand points, though its last digits cannot be interpolated', () => {
    const mount = springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0.1 })
    const floor = spectrum({ quantity: 'velocity', frequency: [1, 10, 100], density: [1e-12, 5e-324, 1e-12] })
    const { frequency } = predictPayload(passiveIsolation({ payload: { mass: 100 }, mount }), { floor })
    expect(frequency.length).toBeLessThan(5000)
  })
})

describe('a flat floor of 1 µm/s/√Hz through f₀ = 2.5 Hz, ζ = 0.1', () => {
  // Bands after IEC 61260-1:2014; levels computed by quadrature of |T|² over each band, nine digits.
  it.each([
    [2.5, 3.33207753e-6],
    [5, 0.38843904e-6],
    [10, 0.13046593e-6],
    [31.5, 0.0462728e-6],
    [80, 0.02731441e-6],
  ])('leaves in the %d Hz band %d m/s', (nominal, expected) => {
    const payload = predictPayload(voigt(2.5, 0.1), { floor: flatFloor(1e-12, 0.5, 100) })
    expectRatio(level(oneThirdOctaveBands(payload, { from: 1, to: 80 }), nominal), expected, interpolated)
  })

  it('is 0.76135523 µm/s in the 2.5 Hz band beforehand', () => {
    // Same source.
    const bands = oneThirdOctaveBands(flatFloor(1e-12, 0.5, 100), { from: 2.5, to: 2.5 })
    expectRatio(level(bands, 2.5), 0.76135523e-6, 1e-8)
  })
})

describe('a floated table worse than the floor at 2 Hz', () => {
  // Computed from the closed form of T, f₀ = 2.1 Hz, ζ = 0.08, floor flat inside each band: 1.2 µm/s at 2 Hz, 0.9 at 20 Hz.
  const through = (nominal: number, velocity: number) => {
    const table = voigt(2.1, 0.08)
    const unit = level(oneThirdOctaveBands(flatFloor(1, 1, 100), { from: nominal, to: nominal }), nominal)
    const payload = predictPayload(table, { floor: flatFloor((velocity / unit) ** 2, 1, 100) })
    return level(oneThirdOctaveBands(payload, { from: nominal, to: nominal }), nominal)
  }

  it('has 6.23 µm/s in the 2 Hz band, 5.19 times the floor, not |T| at the centre', () => {
    expect(through(2, 1.2e-6) * 1e6).toBeCloseTo(6.23, 2)
    expect(through(2, 1.2e-6) / 1.2e-6).toBeCloseTo(5.19, 2)
  })

  it('has 0.0183954 µm/s in the 20 Hz band', () => {
    // Computed by quadrature over the band; |T| at its centre gives 0.0183.
    expectRatio(through(20, 0.9e-6), 0.0183954165e-6, interpolated)
  })
})

describe('the whole variance under white floors', () => {
  // Miles' equation in its exact form: payload acceleration variance π·f₀·(1 + 4ζ²)/(4ζ)·S₀ under white floor acceleration,
  // velocity variance S·ω₀·(1 + 4ζ²)/(8ζ) under white floor velocity; computed from these closed forms. Cut at 1e-4 and 1e4 Hz: the tail loses (2ζf₀)²/1e4 Hz and 1e-4 Hz, at most 2e-4 of the variance.
  const tail = 2e-4

  it.each([
    [0.1, 4.04181665e-6],
    [0.001, 3.96333522e-5],
  ])('of acceleration, f₀ = 2 Hz, ζ = %d: %d m/s²', (dampingRatio, expected) => {
    const floor = spectrum({ quantity: 'acceleration', frequency: [1e-4, 1e4], density: [1e-12, 1e-12] })
    const payload = predictPayload(voigt(2, dampingRatio), { floor })
    expect(payload.quantity).toBe('velocity')
    expectRatio(whole(convertSpectrum(payload, { to: 'acceleration' })), expected, interpolated + tail)
  })

  it.each([
    [0.1, 4.0418e-6],
    [0.5, 2.5066e-6],
  ])('of velocity, f₀ = 2 Hz, ζ = %d: %d m/s', (dampingRatio, expected) => {
    const payload = predictPayload(voigt(2, dampingRatio), { floor: flatFloor(1e-12, 1e-4, 1e4) })
    expectRatio(whole(payload), expected, interpolated + tail)
  })

  it('of acceleration, f₀ = 200 Hz, Q = 20: Miles keeps 7.92665460 g of 7.93655673 g rms', () => {
    // Computed from the closed forms: Miles' √(π/2·f₀·Q·S₀), S₀ = 0.01 g²/Hz; the exact one has
    // 1 + 4ζ² more, which is 0.125 % of the rms
    const g = 9.80665
    const density = 0.01 * g * g
    const floor = spectrum({ quantity: 'acceleration', frequency: [1e-2, 1e6], density: [density, density] })
    const payload = whole(convertSpectrum(predictPayload(voigt(200, 1 / 40), { floor }), { to: 'acceleration' })) / g
    expectRatio(payload, 7.93655673, interpolated + tail)
    expect(payload / 7.9266546).toBeCloseTo(1.00125, 4)
  })

  it('damped at 0.7 in space: 1.498 µm/s', () => {
    // Computed from the closed form S·ω₀/(8ζ_s).
    const mount = springMount({ mass: 1, naturalFrequency: 2, dampingRatio: 0 })
    const model = activelyDampedIsolation({ payload: { mass: 1 }, mount, damping: { dampingRatio: 0.7 } })
    expectRatio(whole(predictPayload(model, { floor: flatFloor(1e-12, 1e-4, 1e4) })), 1.498e-6, interpolated + tail)
  })

  it('on an elastically supported damper: ∫|T|² df = 9.27228238 Hz', () => {
    // Computed from the Lyapunov equation, stiffness ratio 3 at its optimum, f₀ = 2 Hz.
    const stiffness = (4 * Math.PI) ** 2
    const mount = relaxationMount({ stiffness, stiffnessRatio: 3, damping: 'optimal', mass: 1 })
    const model = passiveIsolation({ payload: { mass: 1 }, mount })
    const payload = predictPayload(model, { floor: flatFloor(1, 1e-4, 1e4) })
    expectRatio(whole(payload) ** 2, 9.27228238, 2 * interpolated + tail)
  })
})

describe('a resonance between two lines of a coarse floor table', () => {
  // Computed from the closed form π·f₀·(1 + 4ζ²)/(4ζ)·S₀ with f₀ = 2.13 Hz, ζ = 0.002, S₀ = 1e-12: all but a part of the
  // variance is in a resonance 17 mHz wide. Outside 0.125..99.875 Hz and below resonance (T = 1) lies less than 1e-3 of it.
  const expected = 2.89217e-5
  const outside = 1e-3
  const model = voigt(2.13, 0.002)
  const lines = Array.from({ length: 400 }, (_, k) => 0.25 * (k + 1))

  it('is resolved within lines of 0.25 Hz', () => {
    const floor = spectrum({ quantity: 'acceleration', frequency: lines, density: lines.map(() => 1e-12) })
    expect(floor.support).toBe('lines')
    const payload = predictPayload(model, { floor })
    // Lines of acceleration turn into lines of velocity with one ω per line: within a line the density is level instead of
    // falling, an error of 2·(distance to the centre)/f, here 0.13/2.13·2.
    expectRatio(whole(convertSpectrum(payload, { to: 'acceleration' })), expected, 0.13 / 2.13 + outside)
  })

  it('is resolved between two points far apart', () => {
    const floor = spectrum({ quantity: 'acceleration', frequency: [0.1, 100], density: [1e-12, 1e-12] })
    const payload = predictPayload(model, { floor })
    expectRatio(whole(convertSpectrum(payload, { to: 'acceleration' })), expected, interpolated + outside)
    // The peak itself, |T| = 250.002 = √(1 + 4ζ²)/(2ζ), stands among the points.
    const highest = Math.max(...payload.density.map((value, k) => value * (payload.frequency[k] as number) ** 2))
    expect(Math.sqrt(highest / 1e-12) * 2 * Math.PI).toBeCloseTo(250, 1)
  })

  it('loses no energy of a velocity floor in lines', () => {
    // Computed from the closed form S·ω₀·(1 + 4ζ²)/(8ζ), S = 1e-12 (m/s)²/Hz: 2.89217e-5 m/s.
    const floor = spectrum({ quantity: 'velocity', frequency: lines, density: lines.map(() => 1e-12) })
    expectRatio(whole(predictPayload(model, { floor })), 2.89217e-5, interpolated + outside)
  })
})

describe('the support of the floor', () => {
  it('does not matter where the floor is flat', () => {
    const frequency = Array.from({ length: 401 }, (_, k) => 0.25 * k)
    const density = frequency.map(() => 4e-12)
    const lines = spectrum({ quantity: 'velocity', frequency, density, support: 'lines' })
    const points = spectrum({ quantity: 'velocity', frequency: [0.1, 100.125], density: [4e-12, 4e-12] })
    const bands = [lines, points].map((floor) =>
      oneThirdOctaveBands(predictPayload(voigt(3, 0.05), { floor }), { from: 1, to: 80 }),
    )
    bands[0]?.bands.forEach((band, k) => {
      expectRatio(band.rms, bands[1]?.bands[k]?.rms ?? 0, 2 * interpolated)
    })
  })

  it('makes steps of lines, and a line weighs what it covers', () => {
    // One line of 1e-10 among zeros, far below resonance where T = 1 to (0.4)²%: 1e-10 · 1 Hz.
    const frequency = Array.from({ length: 20 }, (_, k) => k + 1)
    const density = frequency.map((f) => (f === 4 ? 1e-10 : 0))
    const payload = predictPayload(voigt(4000, 0.1), { floor: spectrum({ quantity: 'velocity', frequency, density }) })
    expectRatio(whole(payload), 1e-5, interpolated + 1e-6)
  })

  it('may touch zero: a triangle keeps its area', () => {
    // Derived: pieces that touch zero density are straight in linear scale; 1e-12 · (1/2)(3 − 1) Hz² far below resonance.
    const floor = spectrum({ quantity: 'velocity', frequency: [1, 2, 3], density: [0, 1e-12, 0], support: 'points' })
    expectRatio(whole(predictPayload(voigt(4000, 0.1), { floor })) ** 2, 1e-12, 2 * interpolated)
    // With the resonance on one flank: computed by quadrature of |T|² times the triangle, f₀ = 1.5 Hz, ζ = 0.02.
    expectRatio(whole(predictPayload(voigt(1.5, 0.02), { floor })) ** 2, 2.84377456e-11, 2 * interpolated)
  })

  it('leaves out the line at 0 Hz', () => {
    const frequency = [0, 1, 2, 3, 4]
    const payload = predictPayload(voigt(40, 0.1), {
      floor: { quantity: 'velocity', frequency, density: [1, 1e-12, 1e-12, 1e-12, 1e-12] },
    })
    expect(payload.frequency[0]).toBeCloseTo(0.5, 9)
    expect(payload.frequency.at(-1)).toBeCloseTo(4.5, 9)
    expect(payload.support).toBe('points')
  })
})

describe('a force on the payload', () => {
  it('adds its power to that of the floor', () => {
    // Computed from the closed form ∫|V/F|² df = 1/(8ζ·m²·ω₀) for S = 1 N²/Hz, m = 1 kg, f₀ = 2 Hz,
    // ζ = 0.1: 0.0994718394.
    const model = voigt(2, 0.1)
    const payloadForce = spectrum({ quantity: 'force', frequency: [1e-4, 1e4], density: [1, 1] })
    const quiet = predictPayload(model, { floor: flatFloor(0, 1e-4, 1e4), payloadForce })
    expectRatio(whole(quiet) ** 2, 0.0994718394, 2 * interpolated + 2e-4)
    const floor = flatFloor(1e-2, 1e-4, 1e4)
    const both = whole(predictPayload(model, { floor, payloadForce })) ** 2
    const alone = whole(predictPayload(model, { floor })) ** 2
    expectRatio(both, alone + whole(quiet) ** 2, 4 * interpolated)
  })

  it('limits the range to what both cover', () => {
    const payloadForce = spectrum({ quantity: 'force', frequency: [2, 50], density: [1e-6, 1e-6] })
    const payload = predictPayload(voigt(2, 0.1), { floor: flatFloor(1e-12, 0.5, 20), payloadForce })
    expect([payload.frequency[0], payload.frequency.at(-1)]).toEqual([2, 20])
    const apart = { floor: flatFloor(1e-12, 0.5, 1), payloadForce }
    expect(refusal(() => predictPayload(voigt(2, 0.1), apart)).code).toBe('out-of-range')
  })
})

describe('predictPayload refuses', () => {
  const floor = flatFloor(1e-12, 0.5, 100)

  it('an unstable and a marginal model', () => {
    const mount = springMount({ mass: 1, naturalFrequency: 2, dampingRatio: 0.01 })
    const unstable = activelyDampedIsolation({ payload: { mass: 1 }, mount, damping: { gain: -10 } })
    expect(refusal(() => predictPayload(unstable, { floor })).code).toBe('unstable')
    const marginal = refusal(() => predictPayload(voigt(2, 0), { floor }))
    expect(marginal.code).toBe('unstable')
    expect(marginal.message).toContain('undamped')
    const storey = { concept: 'passive' as const, payload: { mass: 1 }, mount: { stiffness: 100 } }
    expect(refusal(() => predictPayload(stackedIsolation({ lower: storey, upper: storey }), { floor })).code).toBe(
      'unstable',
    )
  })

  it.each([
    [{ floor: { ...floor, quantity: 'force' } }, 'invalid-option', 'floor.quantity'],
    [{ floor: { ...floor, quantity: 'unspecified' } }, 'invalid-option', 'floor.quantity'],
    [{ floor, payloadForce: floor }, 'invalid-option', 'payloadForce.quantity'],
    [{ floor, band: [1, 2] }, 'invalid-option', 'band'],
    [{}, 'invalid-option', 'floor'],
    [{ floor: { ...floor, density: [1e-12] } }, 'dimension-mismatch', 'floor.density'],
    [{ floor: { ...floor, density: [1e-12, Number.NaN] } }, 'not-finite', 'floor.density[1]'],
    [{ floor: { ...floor, density: [-1, 1] } }, 'out-of-range', 'floor.density[0]'],
    [undefined, 'invalid-option', ''],
  ])('%o as %s at "%s"', (options, code, path) => {
    const error = refusal(() => predictPayload(voigt(2, 0.1), options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'predictPayload'])
  })

  it('and changes no floor', () => {
    const before = structuredClone(floor)
    predictPayload(voigt(2, 0.1), { floor })
    expect(floor).toEqual(before)
  })
})
