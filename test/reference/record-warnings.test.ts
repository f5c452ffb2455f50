import { describe, expect, it } from 'vitest'
import {
  convertSpectrum,
  crossSpectrum,
  differentiate,
  integrate,
  oneThirdOctaveBands,
  rms,
  type Spectrum,
  welch,
} from '../../src/vibration/index.js'
import { readRecord } from '../data/read-record.js'

// What the README.md beside each record warns of, in numbers; those not printed there were computed with SciPy 1.10.1.
const channelsOf = (folder: string) => readRecord(folder, folder.replaceAll('-', '_'))
const lineAt = ({ frequency }: { frequency: Float64Array }, wanted: number) =>
  Math.round(wanted / (frequency[1] as number))
const between = ({ frequency }: { frequency: Float64Array }, from: number, to: number) =>
  Array.from(frequency.keys()).filter((k) => (frequency[k] as number) > from && (frequency[k] as number) < to)
const largest = (values: ArrayLike<number>, lines: number[]) =>
  lines.reduce((best, k) => ((values[k] as number) > (values[best] as number) ? k : best))
/** Level of the noise of a whole record without its mean. */
const deviation = (samples: Float64Array, sampleRate: number) =>
  rms(welch({ samples, sampleRate, segmentLength: samples.length, window: 'rectangular' }))

describe('the quiet hill', () => {
  const { channels } = channelsOf('quiet-hill-velocity')
  const density = (name: string) =>
    welch({ samples: channels.get(name) as Float64Array, sampleRate: 100, segmentLength: 4096, quantity: 'velocity' })

  it.each([
    ['vel_Z', 0.8202, 0.0893],
    ['vel_N', 1.2934, 0.1252],
    ['vel_E', 1.4421, 0.1338],
  ])('%s moves %f µm/s below 1 Hz, ten times the %f µm/s of all above', (name, below, above) => {
    expect(rms(density(name), { to: 1 }) * 1e6).toBeCloseTo(below, 2)
    expect(rms(density(name), { from: 1 }) * 1e6).toBeCloseTo(above, 2)
    expect(below / above).toBeGreaterThan(9)
  })

  it('moves with the oceans: the microseism stands at 0.15 to 0.3 Hz', () => {
    for (const name of channels.keys()) {
      const spectrum = density(name)
      const strongest = largest(spectrum.density, between(spectrum, 0.05, 45))
      expect(spectrum.frequency[strongest]).toBeGreaterThan(0.1)
      expect(spectrum.frequency[strongest]).toBeLessThan(0.3)
    }
  })
})

describe('the suburb', () => {
  const { channels, readme } = channelsOf('suburban-microtremor')
  const samples = channels.get('vel_Z') as Float64Array

  it('is not stationary: minute by minute its level changes by two thirds', () => {
    const stated =
      readme
        .match(/per 60 s block \(m\/s\): (.*)/)?.[1]
        ?.split(', ')
        .map(Number) ?? []
    expect(stated.length).toBe(8)
    stated.forEach((level, minute) => {
      const found = deviation(samples.subarray(6000 * minute, 6000 * (minute + 1)), 100)
      expect(Math.abs(found / level - 1)).toBeLessThan(5.1e-4)
    })
    expect(Math.max(...stated) / Math.min(...stated)).toBeCloseTo(1.64, 2)
  })
})

describe('the tower at rest', () => {
  const { channels } = channelsOf('tower-floors-ambient')
  const density = (name: string) =>
    welch({
      samples: channels.get(name) as Float64Array,
      sampleRate: 200,
      segmentLength: 1024,
      quantity: 'acceleration',
    })
  const bands = (name: string, from = 0.8) =>
    oneThirdOctaveBands(convertSpectrum(density(name), { to: 'velocity' }), { from, to: 80 }).bands

  it('has the quietest sensor at 61 m, which bounds the noise of all', () => {
    // README.md: about 1 µm/s²/√Hz at 2 Hz and 3 µm/s²/√Hz at 10 to 20 Hz
    const noise = density('soil_61m_E')
    const amplitude = (wanted: number) => Math.sqrt(noise.density[lineAt(noise, wanted)] as number) * 1e6
    expect([2, 10, 20].map((wanted) => Math.round(amplitude(wanted)))).toEqual([1, 3, 3])
    // above 1 Hz, where the basement itself may be that noise
    const least = bands('soil_61m_E', 1.25)
    for (const name of channels.keys()) {
      bands(name, 1.25).forEach(({ rms }, k) => {
        expect(rms).toBeGreaterThanOrEqual(least[k]?.rms as number)
      })
    }
  })

  it('may show that noise in the basement, within a factor of 2 of it at 1 Hz and below', () => {
    for (const name of ['basement_E', 'basement_N', 'basement_Z']) {
      for (const [k, { rms }] of bands(name).slice(0, 2).entries()) {
        expect(rms / (bands('soil_61m_E')[k]?.rms ?? 0)).toBeLessThan(2)
      }
    }
  })

  it('rests on two lines or fewer below 2 Hz', () => {
    // README.md: lines of 0.195 Hz
    const lines = bands('basement_E').map(({ nominal, lines }) => [nominal, lines as number] as const)
    for (const [nominal, count] of lines) expect(count < 2).toBe(nominal < 2)
    expect(lines[1]?.[1]).toBeCloseTo(1.18, 2)
  })

  it.each([
    ['floor20_E', 24.22],
    ['floor20_N', 24.22],
    ['floor2_E', 19.53],
    ['roof_E', 29.49],
  ])('has machinery on %s: a tone at %f Hz, hundreds of times above its surroundings', (name, tone) => {
    const spectrum = density(name)
    const lines = between(spectrum, 8, 40)
    const strongest = largest(spectrum.density, lines)
    expect(spectrum.frequency[strongest]).toBeCloseTo(tone, 2)
    const sorted = lines.map((k) => spectrum.density[k] as number).sort((a, b) => a - b)
    expect((spectrum.density[strongest] as number) / (sorted[sorted.length >> 1] as number)).toBeGreaterThan(100)
  })
})

describe('the tower in an earthquake', () => {
  const { channels } = channelsOf('tower-strong-motion-io')
  // README.md: first mode near 0.4 Hz, second near 1.3 Hz; too coarse lines bias the coherence exactly there
  it.each([
    [0.4, 0.2, 0.8, 0.39, 0.37],
    [1.3, 0.9, 1.8, 1.318, 0.67],
  ])('is least coherent at its mode near %f Hz', (mode, from, to, dip, most) => {
    for (const output of ['floor7_E', 'floor14_E', 'floor20_E', 'roof_E']) {
      const cross = crossSpectrum({
        x: channels.get('basement_E') as Float64Array,
        y: channels.get(output) as Float64Array,
        sampleRate: 200,
        segmentLength: 4096,
      })
      const lines = between(cross, from, to)
      const least = largest(
        cross.coherence.map((value) => -value),
        lines,
      )
      expect(cross.frequency[least]).toBeCloseTo(dip, 2)
      expect(cross.coherence[least]).toBeLessThan(most)
      const gain = cross.xDensity.map((value, k) => Math.hypot(cross.re[k] as number, cross.im[k] as number) / value)
      expect(Math.abs((cross.frequency[largest(gain, lines)] as number) - mode)).toBeLessThan(0.06)
    }
  })
})

describe('four accelerometers', () => {
  const { channels } = channelsOf('four-accelerometers-3200Hz')
  const density = (samples: Float64Array, detrend: 'mean' | 'none' = 'mean') =>
    welch({ samples, sampleRate: 3200, segmentLength: 8192, detrend, quantity: 'acceleration' })

  it('have spectra that fall about as 1/f, within a factor of 1.6 of each other up to 160 Hz', () => {
    const levels = Array.from(
      channels.values(),
      (samples) =>
        oneThirdOctaveBands(convertSpectrum(density(samples), { to: 'velocity' }), { from: 1.6, to: 160 }).bands,
    )
    levels[0]?.forEach((_, k) => {
      const same = levels.map((bands) => bands[k]?.rms as number)
      expect(Math.max(...same) / Math.min(...same)).toBeLessThan(1.6)
    })
    for (const bands of levels) {
      // acceleration density ∝ 1/f makes velocity bands ∝ 1/f: a factor of 10 per decade, here 8 to 20
      const [low, high] = [bands[0]?.rms as number, bands.find(({ nominal }) => nominal === 16)?.rms as number]
      expect(low / high).toBeGreaterThan(6)
      expect(low / high).toBeLessThan(12)
    }
  })

  it('carry offsets, which the mean of each segment takes out and which otherwise stay within two lines', () => {
    for (const samples of channels.values()) {
      const [clean, raw] = [density(samples), density(samples, 'none')]
      expect((raw.density[0] as number) / (clean.density[0] as number)).toBeGreaterThan(1000)
      for (let k = 2; k < raw.density.length; k++) {
        expect(Math.abs((raw.density[k] as number) / (clean.density[k] as number) - 1)).toBeLessThan(1e-9)
      }
    }
  })
})

describe('two sensors in one vault', () => {
  const { channels } = channelsOf('colocated-velocity-acceleration')
  const velocity = channels.get('vel_Z') as Float64Array
  const acceleration = channels.get('acc_Z') as Float64Array
  const cross = crossSpectrum({ x: velocity, y: acceleration, sampleRate: 100, segmentLength: 4096 })
  const ratio = (wanted: number) => {
    const k = lineAt(cross, wanted)
    return (
      (cross.yDensity[k] as number) /
      ((2 * Math.PI * (cross.frequency[k] as number)) ** 2 * (cross.xDensity[k] as number))
    )
  }

  it('agree within 10 % of density from 0.2 to 5 Hz', () => {
    for (const wanted of [0.2, 0.5, 1, 2, 5]) expect(Math.abs(ratio(wanted) - 1)).toBeLessThan(0.1)
  })

  it('part below 0.1 Hz, where the accelerometer sees its own noise only', () => {
    // 0.0732 Hz: coherence 0.262, four times too much; 0.1953 Hz: 0.977
    expect(cross.coherence[lineAt(cross, 0.0732)]).toBeCloseTo(0.262, 3)
    expect(ratio(0.0732)).toBeCloseTo(4.245, 2)
    expect(cross.coherence[lineAt(cross, 0.1953)]).toBeGreaterThan(0.97)
  })

  it.each([
    ['time', { highPass: 0.2 }],
    ['frequency', { band: [0.2, 5] }],
  ] as const)('give one velocity, integrated in %s, and one acceleration', (method, more) => {
    const level = (spectrum: Spectrum) => rms(spectrum, { from: 0.4, to: 5 })
    const estimate = (samples: Float64Array) => welch({ samples, sampleRate: 100, segmentLength: 4096 })
    const integrated = integrate({ samples: acceleration, sampleRate: 100, quantity: 'acceleration', method, ...more })
    expect(integrated.quantity).toBe('velocity')
    // the calibration of the two differs by some 5 % of amplitude, the high-pass takes 3 % at 0.4 Hz
    expect(Math.abs(level(estimate(integrated.samples)) / level(estimate(velocity)) - 1)).toBeLessThan(0.05)
    const { band } = more as { band?: readonly [number, number] }
    const differentiated = differentiate({
      samples: velocity,
      sampleRate: 100,
      quantity: 'velocity',
      method,
      ...(band && { band }),
    })
    expect(Math.abs(level(estimate(differentiated.samples)) / level(estimate(acceleration)) - 1)).toBeLessThan(0.05)
    // sample by sample in the strong part: corner and band leave a fifth of the motion
    const part = (samples: Float64Array) => samples.subarray(2000, 12000)
    const rest = part(integrated.samples).map((value, n) => value - (part(velocity)[n] as number))
    expect(deviation(rest, 100) / deviation(part(velocity), 100)).toBeLessThan(0.25)
  })
})
