import { describe, expect, it } from 'vitest'
import { relaxationMount, springMount, standardGravity } from '../../../src/elements/index.js'
import { compliance, isolationSummary, passiveIsolation, transmissibility } from '../../../src/isolation/index.js'
import { magnitude, poles } from '../../../src/systems/index.js'
import { channelAt, degreesAt, gainAt, modulusAt } from './read-off.js'

// With mass 1 kg and stiffness (2π)² N/m the natural frequency is 1 Hz, so that frequency ratios are frequencies in hertz.
const stiffness = (2 * Math.PI) ** 2
const payload = { mass: 1 }
const viscous = (dampingRatio: number) =>
  passiveIsolation({ payload, mount: springMount({ mass: 1, naturalFrequency: 1, dampingRatio }) })

describe('a payload on spring and dashpot', () => {
  // Harris' Shock and Vibration Handbook, chapter "Theory of vibration isolation"; K. Ogata, System Dynamics, 4th edition,
  // equation 9-14. Columns: damping ratio, frequency ratio, modulus, phase in degrees; printed to 6 and 3 decimals.
  it.each([
    [0.01, 0.5, 1.333281, -0.191],
    [0.01, 1, 50.009999, -88.854],
    [0.01, Math.SQRT2, 1, -176.76],
    [0.01, 2, 0.33357, -176.945],
    [0.01, 5, 0.041874, -174.051],
    [0.01, 10, 0.010301, -168.574],
    [0.01, 100, 0.000224, -116.554],
    [0.05, 0.5, 1.332042, -0.952],
    [0.05, 1, 10.049876, -84.289],
    [0.05, Math.SQRT2, 1, -163.901],
    [0.05, 2, 0.339182, -164.876],
    [0.05, 5, 0.046575, -152.241],
    [0.05, 10, 0.014284, -134.421],
    [0.05, 100, 0.001005, -95.653],
    [0.1, 0.5, 1.328229, -1.884],
    [0.1, 1, 5.09902, -78.69],
    [0.1, Math.SQRT2, 1, -148.414],
    [0.1, 2, 0.355862, -150.604],
    [0.1, 5, 0.058874, -132.614],
    [0.1, 10, 0.022582, -115.408],
    [0.1, 100, 0.002003, -92.748],
    [0.2, 0.5, 1.313827, -3.621],
    [0.2, 1, 2.692582, -68.199],
    [0.2, Math.SQRT2, 1, -121.008],
    [0.2, 2, 0.412461, -126.409],
    [0.2, 5, 0.092848, -111.801],
    [0.2, 10, 0.041614, -101.723],
    [0.2, 100, 0.004002, -91.203],
    [0.5, 0.5, 1.240347, -7.125],
    [0.5, 1, Math.SQRT2, -45],
    [0.5, Math.SQRT2, 1, -70.529],
    [0.5, 2, 0.620174, -82.875],
    [0.5, 5, 0.207993, -89.542],
    [0.5, 10, 0.101, -89.943],
    [0.5, 100, 0.010001, -90],
    [1, 0.5, 1.131371, -8.13],
    [1, 1, 1.118034, -26.565],
    [1, Math.SQRT2, 1, -38.942],
    [1, 2, 0.824621, -50.906],
    [1, 5, 0.386534, -73.091],
    [1, 10, 0.198267, -81.441],
    [1, 100, 0.019998, -89.141],
  ])('with damping ratio %d at %d f₀ has |T| %d, phase %d°', (dampingRatio, ratio, modulus, degrees) => {
    expect(modulusAt(viscous(dampingRatio), ratio)).toBeCloseTo(modulus, 6)
    expect(degreesAt(viscous(dampingRatio), ratio)).toBeCloseTo(degrees, 3)
  })

  // Same source; printed to 7 decimals, the frequency of a flat maximum as the summary promises it, to 1e-9.
  it.each([
    [0.05, 0.9975216, 10.0622137],
    [0.1, 0.9903343, 5.1227736],
    [0.5, 0.8555997, 1.4678898],
    [1, Math.SQRT1_2, 1.1547005],
  ])('with damping ratio %d peaks at %d f₀ with %d', (dampingRatio, ratio, peak) => {
    const summary = isolationSummary(viscous(dampingRatio))
    expect(summary.peakFrequency).toBeCloseTo(ratio, 7)
    expect(summary.peak).toBeCloseTo(peak, 7)
    expect(summary.resonances).toEqual([{ frequency: summary.peakFrequency, amplification: summary.peak }])
    // |T| = 1 at √2 f₀ whatever the damping: exact; found to rounding.
    expect(summary.isolationFrom).toBeCloseTo(Math.SQRT2, 12)
    expect(summary.isolatedIntervals).toEqual([[summary.isolationFrom, Number.POSITIVE_INFINITY]])
  })

  it('without damping has an infinite peak and is still described', () => {
    const summary = isolationSummary(passiveIsolation({ payload, mount: { stiffness } }))
    expect(summary.peak).toBe(Number.POSITIVE_INFINITY)
    expect(summary.peakFrequency).toBeCloseTo(1, 9)
    expect(summary.isolationFrom).toBeCloseTo(Math.SQRT2, 12)
  })

  it('stretches by |x − u|/|u| = 1.0407636 at 5 f₀ with damping ratio 0.1', () => {
    // Harris' Shock and Vibration Handbook, chapter "Theory of vibration isolation", relative transmissibility.
    // `stretch` is a length per floor velocity: times ω it is per floor displacement.
    expect(gainAt(viscous(0.1), 'floorVelocity', 'stretch', 5) * 2 * Math.PI * 5).toBeCloseTo(1.0407636, 7)
  })

  it('gives way to a force on the payload', () => {
    // Harris, same chapter: compliance times stiffness, damping ratio 0.1, printed to 7 decimals.
    const values = magnitude(compliance(viscous(0.1), [0.5, 1, 2, 10])).map((value) => value * stiffness)
    expect(values[0]).toBeCloseTo(1.3216372, 7)
    expect(values[1]).toBeCloseTo(5, 12)
    expect(values[2]).toBeCloseTo(0.3304093, 7)
    expect(values[3]).toBeCloseTo(0.01009895, 8)
  })

  it('has the static deflection under a force as compliance at 0 Hz', () => {
    // Computed from the closed form 1/K(0) with K(0) = 39.4784176 N/m.
    const { re, im } = compliance(viscous(0.1), [0])
    expect(re[0]).toBeCloseTo(0.0253303, 8)
    expect(im[0]).toBe(0)
  })

  it('passes a force on the payload to the floor as it passes floor motion to the payload', () => {
    // Harris, same chapter: force and motion transmissibility are one function; values of the table at ratio 2 and 5.
    const model = viscous(0.2)
    expect(gainAt(model, 'payloadForce', 'floorForce', 2)).toBeCloseTo(0.412461, 6)
    expect(gainAt(model, 'payloadForce', 'floorForce', 5)).toBeCloseTo(0.092848, 6)
    expect(gainAt(model, 'reactionForce', 'floorForce', 5)).toBeCloseTo(0.092848, 6)
  })

  it('pushes the floor down under a steady force down on the payload', () => {
    // Common practice, no source: positive is up, a force port is the force on the body it names.
    expect(channelAt(viscous(0.2), 'payloadForce', 'floorForce', 0).re).toBeCloseTo(1, 12)
    expect(channelAt(viscous(0.2), 'payloadForce', 'stretch', 0).re * stiffness).toBeCloseTo(1, 12)
  })

  it('counts mounts in parallel', () => {
    const quarter = { stiffness: stiffness / 4, damping: (2 * 0.1 * 2 * Math.PI) / 4 }
    const model = passiveIsolation({ payload, mount: quarter, count: 4 })
    // Table above, damping ratio 0.1 at 5 f₀.
    expect(modulusAt(model, 5)).toBeCloseTo(0.058874, 6)
  })

  it('has no loops, noise or bounds', () => {
    const model = viscous(0.1)
    expect(model).toMatchObject({ kind: 'IsolationModel', concept: 'passive', loops: [], noiseSources: [], limits: [] })
    expect(model.closed.inputs).toEqual(['floorVelocity', 'payloadForce', 'reactionForce'])
    expect(model.closed.outputs).toEqual(['payloadVelocity', 'stretch', 'floorForce'])
  })
})

describe('a payload on springs under its own weight', () => {
  // Computed from the closed form f₀ = √(g/d)/(2π), six to seven digits; deflections in mm.
  it.each([
    [993.621, 0.5],
    [248.4053, 1],
    [62.1013, 2],
    [9.93621, 5],
    [2.484053, 10],
    [0.397449, 25],
  ])('that deflect by %d mm resonates at %d Hz', (millimetres, frequency) => {
    const mount = { stiffness: (80 * standardGravity) / (millimetres * 1e-3) }
    const [pole] = poles(passiveIsolation({ payload: { mass: 80 }, mount }).closed)
    // Half of the relative error of a deflection printed to six digits.
    expect(Math.abs((pole?.naturalFrequency ?? 0) / frequency - 1)).toBeLessThan(1e-6)
  })
})

describe('a payload on an elastically supported damper', () => {
  const optimal = (stiffnessRatio: number) =>
    passiveIsolation({
      payload,
      mount: relaxationMount({ stiffness, stiffnessRatio, damping: 'optimal', mass: 1 }),
    })

  // J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958 (from memory), confirmed by a
  // numerical min-max search; Harris' Shock and Vibration Handbook, "elastically connected viscous damper" (from memory).
  // Columns: stiffness ratio N, fixed point, peak 1 + 2/N.
  it.each([
    [0.5, 1.09544512, 5],
    [1, 1.15470054, 3],
    [2, 1.22474487, 2],
    [3, 1.26491106, 1.66666667],
    [4, 1.29099445, 1.5],
    [5, 1.30930734, 1.4],
    [10, 1.3540064, 1.2],
  ])('of ratio %d peaks at %d f₀ with %d, no lower damping does better', (ratio, fixed, peak) => {
    const summary = isolationSummary(optimal(ratio))
    // The slope of |T| is zero at the fixed point: an error of 1e-8 in the optimum moves the maximum by as much and its
    // height by its square. A maximum itself is found to the root of rounding, some 1e-8.
    expect(summary.peakFrequency).toBeCloseTo(fixed, 7)
    expect(summary.peak).toBeCloseTo(peak, 8)
  })

  // Computed from the closed form of |T| with N = 3 at the optimum; printed to 8 and 4 decimals.
  it.each([
    [0.5, 1.20895502, -6.3315],
    [1, 1.57762128, -32.3115],
    [Math.SQRT2, 1.63299316, -65.9052],
    [2, 1.1055416, -107.5484],
    [5, 0.16620721, -157.1707],
    [10, 0.04039776, -168.997],
    [20, 0.01002497, -174.5481],
  ])('of ratio 3 at %d f₀ has |T| %d, phase %d°', (ratio, modulus, degrees) => {
    expect(modulusAt(optimal(3), ratio)).toBeCloseTo(modulus, 8)
    expect(degreesAt(optimal(3), ratio)).toBeCloseTo(degrees, 4)
  })

  // Computed from the closed forms of |T| = 1 and of the characteristic polynomial 2ζs³ + Ns² + 2ζ(1 + N)s + N.
  it.each([
    [1, 1.752246, 0.020203, [-0.247951, 1.172448, -1.137091]],
    [2, 1.960186, 0.030303, [-0.496364, 1.277982, -1.128593]],
    [3, 2.113306, 0.040398, [-0.749662, 1.375848, -1.030499]],
    [5, 2.339444, 0.06056, [-1.212893, 1.622808, -0.781348]],
    [10, 2.708013, 0.11066, [-1.996163, 2.241771, -0.498405]],
  ])('of ratio %d isolates from %d f₀ on, with |T(10 f₀)| %d', (ratio, from, atTen, [re, im, real]) => {
    const model = optimal(ratio)
    expect(isolationSummary(model).isolationFrom).toBeCloseTo(from, 6)
    expect(modulusAt(model, 10)).toBeCloseTo(atTen, 6)
    const found = poles(model.closed).map((pole) => ({ re: pole.re / (2 * Math.PI), im: pole.im / (2 * Math.PI) }))
    const pair = found.find((pole) => pole.im > 1e-3)
    expect(pair?.re).toBeCloseTo(re as number, 6)
    expect(pair?.im).toBeCloseTo(im as number, 6)
    expect(found.find((pole) => Math.abs(pole.im) < 1e-9)?.re).toBeCloseTo(real as number, 6)
  })

  // Computed from the closed form by a search over r, stiffness ratio 3; printed to 5 decimals.
  it.each([
    [0.05, 10.08976],
    [0.1, 5.17661],
    [0.3, 2.13476],
    [1, 2.04655],
  ])('of ratio 3 with damping %d off the optimum peaks with %d', (dampingRatio, peak) => {
    const mount = relaxationMount({ stiffness, stiffnessRatio: 3, damping: 4 * Math.PI * dampingRatio })
    const model = passiveIsolation({ payload, mount })
    expect(isolationSummary(model).peak).toBeCloseTo(peak, 5)
    // Every curve passes through the fixed point (1.26491106, 5/3): Ruzicka and Cavanaugh, 1958 (from memory).
    expect(modulusAt(model, Math.sqrt(1.6))).toBeCloseTo(1.66666667, 8)
  })

  it('falls with the second power of frequency far above resonance', () => {
    // Computed from the asymptote (N + 1)/r² for N = 3: 4e-6 at 1000 f₀; the next term is of relative order 4/r².
    expect(modulusAt(optimal(3), 1000) / 4e-6).toBeCloseTo(1, 4)
  })
})

describe('transmissibility', () => {
  it('is a series over the grid asked for, 1 at 0 Hz', () => {
    const series = transmissibility(viscous(0.1), Float64Array.of(0, 1, 2))
    expect(Array.from(series.frequency)).toEqual([0, 1, 2])
    expect(series.re[0]).toBeCloseTo(1, 15)
    expect(series.im[0]).toBeCloseTo(0, 15)
  })

  it('is refused on an undamped resonance and next to it is not', () => {
    const model = passiveIsolation({ payload: { mass: 1 }, mount: { stiffness } })
    expect(() => transmissibility(model, [1])).toThrow(expect.objectContaining({ code: 'singular' }))
    expect(modulusAt(model, 1.001)).toBeGreaterThan(100)
  })
})
