import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  convertSpectrum,
  newHighNoiseModel,
  newLowNoiseModel,
  oneThirdOctaveBands,
  rms,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

// J. Peterson, Observations and modeling of seismic background noise, USGS Open-File Report 93-322, 1993, tables 3 and 4;
// values computed from the coefficients there: frequency, low model [dB], high model [dB re 1 (m/s²)²/Hz]
const levels = [
  [10, -168, -91.5],
  [5, -166.7, -96.687],
  [2, -167.501, -115.124],
  [1, -166.4, -116.85],
  [0.5, -152.802, -107.064],
  [0.2, -141.096, -97.691],
  [0.1, -163.75, -115.79],
  [0.01, -185.07, -131.5],
] as const

/** Fine enough for the corners of the model to fall between points without being felt at 1e-5. */
const dense = Array.from({ length: 20001 }, (_, k) => 10 ** (-1 + k / 10000))
const low = newLowNoiseModel(dense)
const high = newHighNoiseModel(dense)

describe('noise models', () => {
  it.each(levels)('have the published level at %f Hz', (frequency, quiet, noisy) => {
    const decibels = (density: Float64Array) => 10 * Math.log10(density[0] as number)
    // Printed with three digits after the point.
    expect(decibels(newLowNoiseModel([frequency]).density)).toBeCloseTo(quiet, 3)
    expect(decibels(newHighNoiseModel([frequency]).density)).toBeCloseTo(noisy, 3)
  })

  it('have the published amplitude densities as acceleration, velocity and displacement at 1 Hz', () => {
    const at = (model: typeof newLowNoiseModel, to: 'acceleration' | 'velocity' | 'displacement') =>
      Math.sqrt(convertSpectrum(model([1]), { to }).density[0] as number)
    expect(at(newLowNoiseModel, 'acceleration') / 4.7863e-9).toBeCloseTo(1, 5)
    expect(at(newLowNoiseModel, 'velocity') / 7.61763e-10).toBeCloseTo(1, 5)
    expect(at(newLowNoiseModel, 'displacement') / 1.21238e-10).toBeCloseTo(1, 5)
    expect(at(newHighNoiseModel, 'acceleration') / 1.43714e-6).toBeCloseTo(1, 5)
    expect(at(newHighNoiseModel, 'velocity') / 2.28728e-7).toBeCloseTo(1, 5)
    expect(at(newHighNoiseModel, 'displacement') / 3.64033e-8).toBeCloseTo(1, 5)
  })

  // Integrated from the same coefficients: band velocity [µm/s] of the low and the high model.
  it.each([
    [1, 3.71654e-4, 0.111951],
    [2, 2.27741e-4, 0.0947109],
    [4, 1.77177e-4, 0.319351],
    [5, 1.57909e-4, 0.499922],
    [6.3, 1.38e-4, 0.544351],
    [8, 1.15425e-4, 0.591601],
  ])('have the band velocity of %f Hz', (nominal, quiet, noisy) => {
    const level = (model: typeof low) =>
      (oneThirdOctaveBands(convertSpectrum(model, { to: 'velocity' }), { from: nominal, to: nominal }).bands[0]
        ?.rms as number) * 1e6
    expect(level(low) / quiet).toBeCloseTo(1, 4)
    expect(level(high) / noisy).toBeCloseTo(1, 4)
  })

  it('have the broadband levels from 0.1 to 10 Hz', () => {
    // Integrated from the same coefficients, µm/s and µm.
    const level = (model: typeof low, to: 'velocity' | 'displacement') => rms(convertSpectrum(model, { to })) * 1e6
    expect(level(low, 'velocity') / 0.0215239).toBeCloseTo(1, 4)
    expect(level(high, 'velocity') / 3.96554).toBeCloseTo(1, 4)
    expect(level(low, 'displacement') / 0.015682).toBeCloseTo(1, 4)
    expect(level(high, 'displacement') / 2.89385).toBeCloseTo(1, 4)
  })

  it('lie below VC-G from 1 to 8 Hz, even the high one', () => {
    const bands = oneThirdOctaveBands(convertSpectrum(high, { to: 'velocity' }), { from: 1, to: 8 })
    expect(bestCriterion(bands)).toBe('VC-G')
  })

  it('are points of acceleration over the whole range of validity', () => {
    const { quantity, support, frequency } = newLowNoiseModel([1e-5, 1e-3, 10])
    expect([quantity, support, frequency.length]).toEqual(['acceleration', 'points', 3])
  })

  it('refuse to be used outside of it', () => {
    for (const [model, grid, path] of [
      [newLowNoiseModel, [1, 10.1], 'frequencies[1]'],
      [newHighNoiseModel, [9.9e-6, 1], 'frequencies[0]'],
      [newHighNoiseModel, [0], 'frequencies[0]'],
    ] as const) {
      const error = refusal(() => model([...grid]))
      expect([error.code, error.details.path]).toEqual(['out-of-range', path])
    }
    expect(refusal(() => newLowNoiseModel([2, 1])).code).toBe('invalid-option')
  })
})
