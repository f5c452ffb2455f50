import { describe, expect, it } from 'vitest'
import { pressureFromLevels, rms, soundPressureForce, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const panel = { area: 0.96, faces: 'one-face' } as const

describe('pressureFromLevels', () => {
  // Computed from the closed form 20 µPa·10^(L/20).
  it.each([
    [31.5, 62, 0.02517850824],
    [10, 70, 0.0632455532],
    [5, 75, 0.112468265],
    [1000, 94, 1.0023744672],
  ])('at %d Hz turns %d dB into %d Pa', (nominal, level, pressure) => {
    const { quantity, ...rest } = pressureFromLevels({ nominal: [nominal], level: [level] })
    expect(quantity).toBe('pressure')
    // The ends stand 1e-12 inside of the edges.
    expect(rms({ quantity, ...rest }) / pressure).toBeCloseTo(1, 9)
  })

  it('keeps the energy of every band, with a step between them', () => {
    const room = pressureFromLevels({ nominal: [8, 10, 12.5], level: [60, 80, 40] })
    // Edges 10^((2n ± 1)/20) of IEC 61260-1:2014, set inwards so far that they lie within the bands.
    const [a, b, c, d] = [7.0794578438, 8.9125093813, 11.220184543, 14.1253754462]
    const levelOf = (from: number, to: number) => 20 * Math.log10(rms(room, { from, to }) / 20e-6)
    expect(levelOf(a * (1 + 1e-9), b)).toBeCloseTo(60, 6)
    expect(levelOf(b, c)).toBeCloseTo(80, 6)
    expect(levelOf(c * (1 + 1e-9), d * (1 - 1e-9))).toBeCloseTo(40, 6)
  })

  it.each([
    [{ nominal: [5, 10], level: [75, 70] }, 'invalid-option', 'nominal[1]'],
    [{ nominal: [9], level: [75] }, 'invalid-option', 'nominal[0]'],
    [{ nominal: [10, 8], level: [75, 70] }, 'invalid-option', 'nominal[1]'],
    [{ nominal: [8, 10], level: [75] }, 'dimension-mismatch', 'level'],
    [{ nominal: [10], level: [300] }, 'out-of-range', 'level[0]'],
    [{ nominal: [10], level: [70], weighting: 'A' }, 'invalid-option', 'weighting'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    expect(refusal(() => pressureFromLevels(options as never))).toMatchObject({ code, details: { path } })
  })
})

describe('soundPressureForce', () => {
  it('on one face is pressure times area', () => {
    const flat = spectrum({ quantity: 'pressure', frequency: [1, 100], density: [4e-6, 4e-6] })
    const force = soundPressureForce(flat, { area: 0.5, faces: 'one-face' })
    expect(force.quantity).toBe('force')
    expect([...force.density]).toEqual([1e-6, 1e-6])
  })

  it('on both faces has the factor k·d, which is 0.055 at 10 Hz for 0.3 m, and at most 2', () => {
    // Computed from the closed form 2π·10·0.3/343 = 0.054955; 2 is the sum of two opposite pressures.
    const room = { quantity: 'pressure', frequency: [10, 1000], density: [1, 1] } as const
    const force = soundPressureForce(room, { area: 1, faces: 'both-faces', depth: 0.3 })
    expect(Math.sqrt(force.density[0] as number)).toBeCloseTo(0.054955, 6)
    expect(force.density[1]).toBe(4)
  })

  it('on both faces depends on the medium', () => {
    const room = { quantity: 'pressure', frequency: [10], density: [1] } as const
    const options = { area: 1, faces: 'both-faces', depth: 0.3 } as const
    const [air, helium] = [343, 1007].map((speedOfSound) =>
      Math.sqrt(soundPressureForce(room, { ...options, speedOfSound }).density[0] as number),
    )
    // Common practice, no source: 1007/343.
    expect((air as number) / (helium as number)).toBeCloseTo(2.93586, 6)
  })

  it.each([
    [{ ...panel, area: 0 }, 'out-of-range', 'area'],
    [{ ...panel, depth: 0.3 }, 'invalid-option', 'depth'],
    [{ ...panel, faces: 'both-faces' }, 'invalid-option', 'depth'],
    [{ ...panel, faces: 'two' }, 'invalid-option', 'faces'],
    [{ ...panel, speedOfSound: 0 }, 'out-of-range', 'speedOfSound'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    const room = pressureFromLevels({ nominal: [10], level: [70] })
    expect(refusal(() => soundPressureForce(room, options as never))).toMatchObject({ code, details: { path } })
  })

  it('refuses what is no pressure', () => {
    const floor = { quantity: 'velocity', frequency: [1, 2], density: [1, 1] } as const
    expect(refusal(() => soundPressureForce(floor, panel))).toMatchObject({
      code: 'unsupported',
      details: { path: 'pressure.quantity' },
    })
  })

  it('refuses a force beyond the range of numbers', () => {
    const room = { quantity: 'pressure', frequency: [1], density: [1e200] } as const
    expect(refusal(() => soundPressureForce(room, { ...panel, area: 1e100 })).code).toBe('out-of-range')
  })
})
