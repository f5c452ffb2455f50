import { describe, expect, it } from 'vitest'
import { welch } from '../../../src/vibration/index.js'
import type { WindowName } from '../../../src/vibration/types.js'
import { windowNames, windowValues } from '../../../src/vibration/window-values.js'

// Noise bandwidth in lines, coherent gain, S2/N, overlap correlation at 50 and 75 %, all for N = 4096.
// G. Heinzel, A. Rüdiger, R. Schilling, Spectrum and spectral density estimation by the DFT, MPI 2002, appendix C
// (hft95, values computed from its coefficients); the others computed from the closed form of each window.
const table: Partial<Record<WindowName, readonly [number, number, number, number | null, number | null]>> = {
  rectangular: [1, 1, 1, 0.5, 0.75],
  hann: [1.5, 0.5, 0.375, 0.16667, 0.65915],
  hamming: [1.362826, 0.54, 0.3974, 0.23377, 0.70692],
  blackman: [1.726757, 0.42, 0.3046, 0.08963, 0.56667],
  'blackman-harris': [2.004353, 0.35875, 0.257963, 0.0376, 0.45999],
  bartlett: [1.333333, 0.5, 0.333333, 0.25, 0.71875],
  parabolic: [1.2, 0.666667, 0.533333, 0.34375, 0.76465],
  nuttall: [1.976109, 0.363582, 0.261225, 0.04176, 0.46998],
  hft70: [3.412906, 1, 3.412906, -0.03817, 0.12239],
  hft90d: [3.883167, 1, 3.883167, -0.01093, 0.02613],
  hft95: [3.811213, 1, 3.811213, -0.0142, 0.03882],
  'flat-top': [3.770246, 0.215579, 0.17522, null, null],
}

/** Largest error of the level of a sine between two lines [dB], from the same sources. */
const scallop: Partial<Record<WindowName, number>> = {
  rectangular: -3.9224,
  hann: -1.4236,
  hamming: -1.7514,
  blackman: -1.0989,
  'blackman-harris': -0.8256,
  bartlett: -1.8242,
  parabolic: -2.2248,
  nuttall: -0.8506,
  hft70: -0.0065,
  hft90d: -0.0039,
  hft95: -0.0039,
  'flat-top': -0.0098,
}

describe.each(windowNames)('window %s', (name) => {
  const length = 4096
  const values = windowValues(name, length)
  const sum = (lag: number) => {
    let total = 0
    for (let n = 0; n + lag < length; n++) total += (values[n] as number) * (values[n + lag] as number)
    return total
  }
  const row = table[name]

  it('has the published noise bandwidth, gain and overlap correlation', () => {
    expect(row).toBeDefined()
    if (row === undefined) return
    const [bandwidth, gain, power, half, quarter] = row
    const { noiseBandwidth } = welch({
      samples: new Float64Array(length),
      sampleRate: 1,
      segmentLength: length,
      window: name,
    })
    expect((noiseBandwidth as number) * length).toBeCloseTo(bandwidth, 5)
    expect(values.reduce((total, value) => total + value, 0) / length).toBeCloseTo(gain, 5)
    expect(sum(0) / length).toBeCloseTo(power, 5)
    if (half !== null) expect(sum(length / 2) / sum(0)).toBeCloseTo(half, 4)
    if (quarter !== null) expect(sum(length / 4) / sum(0)).toBeCloseTo(quarter, 4)
  })

  it('has the published scalloping loss', () => {
    let re = 0
    let im = 0
    let total = 0
    values.forEach((value, n) => {
      re += value * Math.cos((Math.PI * n) / length)
      im += value * Math.sin((Math.PI * n) / length)
      total += value
    })
    // Printed with four digits after the point.
    expect(20 * Math.log10(Math.hypot(re, im) / total)).toBeCloseTo(scallop[name] as number, 3)
  })

  it('is periodic: symmetric about its middle sample', () => {
    for (let n = 1; n < length; n++)
      expect(Math.abs((values[n] as number) - (values[length - n] as number))).toBeLessThan(1e-12)
  })
})

describe('windows for spectra', () => {
  it('are periodic: Hann of 256 is 1.5 lines wide, not the 1.505882 of the symmetric one', () => {
    // N·S2/S1² computed from the closed forms; the symmetric window has N/(N − 1) of it
    const width = welch({ samples: new Float64Array(256), sampleRate: 256, segmentLength: 256 }).noiseBandwidth
    expect(width).toBeCloseTo(1.5, 12)
  })

  it('have the published coefficients of HFT95', () => {
    // G. Heinzel, A. Rüdiger, R. Schilling, MPI 2002, appendix C: 1 − 1.9383379·cos z + 1.3045202·cos 2z − …
    const values = windowValues('hft95', 64)
    const coefficient = (k: number) =>
      values.reduce((sum, value, n) => sum + value * Math.cos((2 * Math.PI * k * n) / 64), 0) / (k === 0 ? 64 : 32)
    const expected = [1, -1.9383379, 1.3045202, -0.402827, 0.0350665, 0]
    expected.forEach((value, k) => {
      expect(coefficient(k)).toBeCloseTo(value, 12)
    })
  })
})
