import { describe, expect, it } from 'vitest'
import { convertSpectrum, oneThirdOctaveBands, spectrum, welch } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const flat = (density: number) =>
  spectrum({ quantity: 'velocity', frequency: [0.01, 1000], density: [density, density] })

describe('oneThirdOctaveBands', () => {
  // IEC 61260-1:2014, equations 2, 4 and 5 and annex E: label, lower edge, exact centre, upper edge
  it.each([
    [0.8, 0.707946, 0.794328, 0.891251],
    [1, 0.891251, 1, 1.122018],
    [1.25, 1.122018, 1.258925, 1.412538],
    [1.6, 1.412538, 1.584893, 1.778279],
    [2, 1.778279, 1.995262, 2.238721],
    [2.5, 2.238721, 2.511886, 2.818383],
    [3.15, 2.818383, 3.162278, 3.548134],
    [4, 3.548134, 3.981072, 4.466836],
    [5, 4.466836, 5.011872, 5.623413],
    [6.3, 5.623413, 6.309573, 7.079458],
    [8, 7.079458, 7.943282, 8.912509],
    [10, 8.912509, 10, 11.220185],
    [12.5, 11.220185, 12.589254, 14.125375],
    [16, 14.125375, 15.848932, 17.782794],
    [20, 17.782794, 19.952623, 22.387211],
    [25, 22.387211, 25.118864, 28.183829],
    [31.5, 28.183829, 31.622777, 35.481339],
    [40, 35.481339, 39.810717, 44.668359],
    [50, 44.668359, 50.118723, 56.234133],
    [63, 56.234133, 63.095734, 70.794578],
    [80, 70.794578, 79.432823, 89.125094],
    [100, 89.125094, 100, 112.201845],
    [125, 112.201845, 125.892541, 141.253754],
    [160, 141.253754, 158.489319, 177.827941],
    [200, 177.827941, 199.526231, 223.872114],
  ])('has the band %f Hz of the standard', (nominal, lower, centre, upper) => {
    const [band] = oneThirdOctaveBands(flat(1), { from: nominal, to: nominal }).bands
    expect(band?.nominal).toBe(nominal)
    // Printed with six digits after the point.
    expect(band?.lower).toBeCloseTo(lower, 6)
    expect(band?.centre).toBeCloseTo(centre, 6)
    expect(band?.upper).toBeCloseTo(upper, 6)
  })

  it('picks the labels in from..to, both included', () => {
    const labels = (from: number, to: number) => oneThirdOctaveBands(flat(1), { from, to }).bands.map((b) => b.nominal)
    expect(labels(0.3, 1.25)).toEqual([0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25])
    expect(labels(1, 80)).toEqual([
      1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80,
    ])
  })

  it('is 0.23077 of its centre wide: base ten, not the 0.23156 of base two', () => {
    // IEC 61260-1:2014; computed from the closed form G^(1/6) − G^(−1/6), G = 10^(3/10)
    for (const { centre, lower, upper } of oneThirdOctaveBands(flat(1), { from: 0.1, to: 500 }).bands) {
      expect((upper - lower) / centre).toBeCloseTo(0.23076752, 8)
    }
  })

  it('covers 7.0795 to 89.125 Hz by the bands of 8 to 80 Hz, from 0.89125 Hz by those of 1 to 80 Hz', () => {
    // IEC 61260-1:2014, equations 4 and 5
    const edges = (from: number) => {
      const { bands } = oneThirdOctaveBands(flat(1), { from, to: 80 })
      return [bands[0]?.lower, bands.at(-1)?.upper]
    }
    expect(edges(8)).toEqual([expect.closeTo(7.0795, 4), expect.closeTo(89.125, 3)])
    expect(edges(1)).toEqual([expect.closeTo(0.89125, 5), expect.closeTo(89.125, 3)])
  })

  it('reads a tone as its amplitude over √2, in one band only', () => {
    // 3 µm/s peak at 10 Hz, a flat-top window that keeps it within the band: 2.121320 µm/s (closed form a/√2)
    const samples = Array.from({ length: 16384 }, (_, n) => 3e-6 * Math.sin((2 * Math.PI * n) / 20))
    const density = welch({ samples, sampleRate: 200, segmentLength: 4096, window: 'hft95', quantity: 'velocity' })
    for (const { nominal, rms } of oneThirdOctaveBands(density, { from: 1, to: 80 }).bands) {
      if (nominal === 10) expect(rms).toBeCloseTo(2.12132e-6, 10)
      else expect(rms).toBeLessThan(1e-9)
    }
  })

  it('gives √(S·bandwidth) for a flat density', () => {
    // computed from the closed form, S = 1e-12 (m/s)²/Hz: 0.480383, 1.519103, 4.803827 µm/s in the 1, 10, 100 Hz bands
    const level = (nominal: number) =>
      oneThirdOctaveBands(flat(1e-12), { from: nominal, to: nominal }).bands[0]?.rms as number
    expect(level(1)).toBeCloseTo(0.480383e-6, 12)
    expect(level(10)).toBeCloseTo(1.519103e-6, 12)
    expect(level(100)).toBeCloseTo(4.803827e-6, 12)
    // 8.2285 (µm/s)/√Hz lies exactly on VC-C, 12.5 µm/s, in the 10 Hz band
    const onCurve = oneThirdOctaveBands(flat(8.228538e-6 ** 2), { from: 10, to: 10 }).bands[0]?.rms
    expect(onCurve).toBeCloseTo(12.5e-6, 11)
  })

  it('gives 0.0024177 µm/s in the 10 Hz band for an accelerometer of 1e-7 m/s²/√Hz', () => {
    // Computed from the closed form (a/2π)·√(1/f₁ − 1/f₂) with the edges of the band.
    const amplitudeDensity = [1e-7, 1e-7]
    const noise = spectrum({ quantity: 'acceleration', frequency: [1, 100], amplitudeDensity, support: 'points' })
    const { bands } = oneThirdOctaveBands(convertSpectrum(noise, { to: 'velocity' }), { from: 10, to: 10 })
    expect(1e6 * (bands[0]?.rms as number)).toBeCloseTo(0.0024177, 7)
  })

  it('integrates a resonance within a band: a floor through a 2.5 Hz mount', () => {
    // 1 (µm/s)/√Hz through a mass on a spring and dashpot, 2.5 Hz, damping ratio 0.1 (computed from the closed form
    // |T|² = (1 + 4ζ²r²)/((1 − r²)² + 4ζ²r²), integrated over each band); the chords of this table
    // lie within 1e-7 of the curve at its peak
    const frequency = Array.from({ length: 80001 }, (_, k) => 10 ** (k / 40000))
    const density = frequency.map((f) => {
      const r2 = (f / 2.5) ** 2
      return (1e-12 * (1 + 0.04 * r2)) / ((1 - r2) ** 2 + 0.04 * r2)
    })
    const { bands } = oneThirdOctaveBands({ quantity: 'velocity', frequency, density }, { from: 2, to: 80 })
    const level = (nominal: number) => (bands.find((band) => band.nominal === nominal)?.rms as number) * 1e6
    expect(level(2.5)).toBeCloseTo(3.33207753, 6)
    expect(level(5)).toBeCloseTo(0.38843904, 7)
    expect(level(10)).toBeCloseTo(0.13046593, 7)
    expect(level(31.5)).toBeCloseTo(0.0462728, 7)
    expect(level(80)).toBeCloseTo(0.02731441, 7)
  })

  it('keeps the quantity and says how many lines a band holds', () => {
    const frequency = Array.from({ length: 200 }, (_, k) => k / 8)
    const lines = spectrum({ quantity: 'acceleration', frequency, density: frequency.map(() => 1) })
    const { quantity, bands } = oneThirdOctaveBands(lines, { from: 1, to: 1 })
    expect(quantity).toBe('acceleration')
    // computed from the closed form: (1.122018 − 0.891251)·8 lines of 1/8 Hz
    expect(bands[0]?.lines).toBeCloseTo(1.84614, 4)
    // 17.3 s make four lines of the 0.231 Hz of that band, 45 s make ten (computed from the closed form bandwidth·length)
    const held = (seconds: number) => {
      const grid = Array.from({ length: 2000 }, (_, k) => k / seconds)
      const floor = spectrum({ quantity: 'velocity', frequency: grid, density: grid.map(() => 1) })
      const [band] = oneThirdOctaveBands(floor, { from: 1, to: 1 }).bands
      return [(band?.upper as number) - (band?.lower as number), band?.lines]
    }
    expect(held(17.3)).toEqual([expect.closeTo(0.231, 3), expect.closeTo(4, 1)])
    expect(held(45)).toEqual([expect.closeTo(0.231, 3), expect.closeTo(10.4, 1)])
    expect(oneThirdOctaveBands(flat(1), { from: 1, to: 1 }).bands[0]?.lines).toBeNull()
  })

  it('refuses a band that is not covered from edge to edge, and names what is covered', () => {
    const short = spectrum({ quantity: 'velocity', frequency: [1, 80], density: [1, 1] })
    const low = refusal(() => oneThirdOctaveBands(short, { from: 1, to: 10 }))
    const high = refusal(() => oneThirdOctaveBands(short, { from: 2, to: 80 }))
    expect([low.code, low.details.path, low.details.allowed]).toEqual(['out-of-range', 'from', '1 to 80 Hz'])
    expect([high.code, high.details.path, high.details.allowed]).toEqual(['out-of-range', 'to', '1 to 80 Hz'])
    // A grid whose ends are the rounded edges themselves is no gap.
    const edges = { quantity: 'velocity', frequency: [0.89125093813, 1.1220184543], density: [1, 1] } as const
    expect(oneThirdOctaveBands(edges, { from: 1, to: 1 }).bands.length).toBe(1)
  })

  it.each([
    ['no label in between', { from: 1.3, to: 1.5 }, 'invalid-option', 'from'],
    ['limits out of order', { from: 10, to: 1 }, 'out-of-range', 'to'],
    ['zero', { from: 0, to: 1 }, 'out-of-range', 'from'],
    ['a missing limit', { from: 1 }, 'invalid-option', 'to'],
    ['an unknown option', { from: 1, to: 2, fraction: 3 }, 'invalid-option', 'fraction'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => oneThirdOctaveBands(flat(1), options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
