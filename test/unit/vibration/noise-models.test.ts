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

// The same tables: a period inside of each row [s], level [dB]
const lowRows = [
  [0.13, -167.3574],
  [0.26, -166.7],
  [0.57, -167.9738],
  [1, -166.4],
  [1.7, -156.506],
  [3.2, -144.9215],
  [4.6, -141.1],
  [5.5, -145.226],
  [7.7, -156.2028],
  [11, -165.0568],
  [14, -163.826],
  [18, -168.6126],
  [26, -181.0152],
  [38, -186.2989],
  [56, -187.5],
  [84, -186.2588],
  [120, -185],
  [220, -186.1658],
  [440, -185.9729],
  [2400, -168.3664],
  [32000, -127.2539],
] as const
const highRows = [
  [0.15, -94.5341],
  [0.27, -104.5648],
  [0.51, -115.3297],
  [1.7, -109.3581],
  [4.2, -97.2117],
  [5.4, -98.7924],
  [7.1, -107.603],
  [11, -116.718],
  [18, -131.0443],
  [84, -132.258],
  [6000, -87.1571],
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

  // frequency; low model as acceleration [m/s²/√Hz], velocity [m/s/√Hz] and displacement [m/√Hz]; high model likewise
  it.each([
    [10, 3.98107e-9, 6.33607e-11, 1.00842e-12, 2.66073e-5, 4.23468e-7, 6.7397e-9],
    [5, 4.62381e-9, 1.4718e-10, 4.6849e-12, 1.46441e-5, 4.66136e-7, 1.48376e-8],
    [2, 4.21626e-9, 3.35519e-10, 2.66998e-11, 1.75299e-6, 1.39498e-7, 1.11009e-8],
    [1, 4.7863e-9, 7.61763e-10, 1.21238e-10, 1.43714e-6, 2.28728e-7, 3.64033e-8],
    [0.5, 2.29035e-8, 7.29042e-9, 2.32061e-9, 4.43429e-6, 1.41148e-6, 4.49288e-7],
    [0.2, 8.81431e-8, 7.0142e-8, 5.58172e-8, 1.30451e-5, 1.03809e-5, 8.2609e-6],
    [0.1, 6.49382e-9, 1.03352e-8, 1.6449e-8, 1.62368e-6, 2.58416e-6, 4.11283e-6],
    [0.01, 5.57828e-10, 8.8781e-9, 1.41299e-7, 2.66073e-7, 4.23468e-6, 6.7397e-5],
  ])('have the amplitude densities of the published levels at %f Hz', (frequency, ...expected) => {
    const found = [newLowNoiseModel, newHighNoiseModel].flatMap((model) =>
      (['acceleration', 'velocity', 'displacement'] as const).map((to) =>
        Math.sqrt(convertSpectrum(model([frequency]), { to }).density[0] as number),
      ),
    )
    // Printed with six digits.
    found.forEach((value, k) => {
      expect(value / (expected[k] as number)).toBeCloseTo(1, 5)
    })
  })

  // Period [s] inside of each row of the published tables and A + B·log10(T) of that row [dB]
  it.each([
    ['low', newLowNoiseModel, lowRows],
    ['high', newHighNoiseModel, highRows],
  ] as const)('the %s one has the level of every row of its table', (_, model, rows) => {
    for (const [period, level] of rows) {
      expect(10 * Math.log10(model([1 / period]).density[0] as number), `${period} s`).toBeCloseTo(level, 4)
    }
  })

  it.each([
    [
      'low',
      newLowNoiseModel,
      0.013,
      [0.17, 0.4, 0.8, 1.24, 2.4, 4.3, 5, 6, 10, 12, 15.6, 21.9, 31.6, 45, 70, 101, 154],
    ],
    ['high', newHighNoiseModel, 0.0094, [0.22, 0.32, 0.8, 3.8, 4.6, 6.3, 7.9, 15.4, 20, 354.8]],
  ] as const)('the rows of the %s one join within a hundredth of a decibel', (_, model, most, periods) => {
    // 0.013 and 0.009 dB, computed from the coefficients; rounding of 1/T moves the level by far less
    for (const period of periods) {
      const [below, above] = model([(1 - 1e-9) / period, (1 + 1e-9) / period]).density
      expect(Math.abs(10 * Math.log10((below as number) / (above as number))), `${period} s`).toBeLessThan(most)
    }
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
