import { describe, expect, it } from 'vitest'
import { apparentAcceleration, convertSpectrum, spectrum, tiltCrossover } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const tiltOf = (frequency: number[], density: number) =>
  spectrum({ quantity: 'rotation', frequency, amplitudeDensity: frequency.map(() => density), support: 'points' })
const displacementOf = (frequency: number, density: number) =>
  Math.sqrt(
    convertSpectrum(apparentAcceleration(tiltOf([frequency], density)), { to: 'displacement' }).density[0] as number,
  )

describe('apparentAcceleration', () => {
  // E. Wielandt, Seismic Sensors and their Calibration, NMSOP chapter 5, section 5.3.3; g/ω² [m/rad] computed from it.
  it.each([
    [0.01, 2484.05],
    [0.03, 276.006],
    [0.1, 24.84053],
    [0.3, 2.760059],
    [1, 0.248405],
    [3, 0.0276006],
  ])('at %d Hz reads one radian as %d m', (frequency, metres) => {
    // As many digits as listed: six.
    expect(displacementOf(frequency, 1) / metres).toBeCloseTo(1, 5)
  })

  it('reads a nanoradian at 0.1 Hz as 24.84 nm', () => {
    // Same source.
    expect(displacementOf(0.1, 1e-9) * 1e9).toBeCloseTo(24.84, 2)
  })

  it('reads tilt noise of 2e-8 rad/√Hz as 0.497 µm/√Hz at 0.1 Hz and 4.97 nm/√Hz at 1 Hz', () => {
    // Bulletin of the Seismological Society of America 106(3), 987 (sensors cannot tell tilt from translation); computed
    // from the closed form g·θ/ω².
    expect(displacementOf(0.1, 2e-8) * 1e6).toBeCloseTo(0.497, 3)
    expect(displacementOf(1, 2e-8) * 1e9).toBeCloseTo(4.97, 2)
  })

  // LIGO seismic-isolation group, open function SEI_sensor_noise: noise of a ground rotation sensor [rad/√Hz]; times g/ω².
  it.each([
    [0.01, 1e-8, 2.48405e-5],
    [0.06, 2e-10, 1.38003e-8],
    [0.1, 1.5e-10, 3.72608e-9],
    [10, 1.5e-10, 3.72608e-13],
  ])('lets a sensor of rotation correct at %d Hz, with %d rad/√Hz, down to %d m/√Hz', (frequency, noise, left) => {
    expect(displacementOf(frequency, noise) / left).toBeCloseTo(1, 5)
  })

  it('keeps grid and support', () => {
    const tilt = tiltOf([1, 2, 3], 1e-9)
    const read = apparentAcceleration(tilt)
    expect(read).toMatchObject({ quantity: 'acceleration', frequency: tilt.frequency, support: 'points' })
  })

  it('refuses what is no rotation', () => {
    const floor = { quantity: 'velocity', frequency: [1, 2], density: [1, 1] } as const
    expect(refusal(() => apparentAcceleration(floor))).toMatchObject({
      code: 'unsupported',
      details: { path: 'tilt.quantity' },
    })
  })
})

describe('tiltCrossover', () => {
  it('of 0.05 rad/m is 0.1114 Hz: the share of tilt is 4.97 at 0.05 Hz and 0.0497 at 0.5 Hz', () => {
    // Bulletin of the Seismological Society of America 106(3), 987; computed from the closed form √(g·α)/2π.
    const crossover = tiltCrossover({ rotationPerDisplacement: 0.05 })
    expect(crossover).toBeCloseTo(0.1114, 4)
    expect((crossover / 0.05) ** 2).toBeCloseTo(4.97, 2)
    expect((crossover / 0.5) ** 2).toBeCloseTo(0.0497, 4)
    expect(tiltCrossover({ rotationPerDisplacement: -0.05 })).toBe(crossover)
  })

  it.each([
    [0, 'out-of-range'],
    [Number.NaN, 'not-finite'],
    ['0.05', 'invalid-option'],
  ])('refuses %o as %s', (rotationPerDisplacement, code) => {
    expect(refusal(() => tiltCrossover({ rotationPerDisplacement } as never))).toMatchObject({
      code,
      details: { path: 'rotationPerDisplacement' },
    })
  })
})
