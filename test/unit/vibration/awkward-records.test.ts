import { describe, expect, it } from 'vitest'
import {
  bandHistory,
  bandStream,
  crossSpectrum,
  integrate,
  oneThirdOctaveBands,
  record,
  rms,
  toneLevels,
  transferEstimate,
  welch,
  welchStream,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const noise = (length: number, seed = 1) => {
  let state = seed
  return Float64Array.from({ length }, () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return state / 2 ** 31 - 1
  })
}
const options = { sampleRate: 100, segmentLength: 64 } as const

/** Every function that takes a record, by its name; the stream is pushed at once and read. */
const estimates: Record<string, (samples: ArrayLike<number>, segmentLength?: number) => unknown> = {
  welch: (samples, segmentLength = 64) => welch({ samples: samples as Float64Array, sampleRate: 100, segmentLength }),
  welchStream: (samples, segmentLength = 64) => {
    const stream = welchStream({ sampleRate: 100, segmentLength })
    stream.push(samples as Float64Array)
    return stream.result()
  },
  crossSpectrum: (samples, segmentLength = 64) =>
    crossSpectrum({ x: samples as Float64Array, y: samples as Float64Array, sampleRate: 100, segmentLength }),
  transferEstimate: (samples, segmentLength = 64) =>
    transferEstimate({
      input: samples as Float64Array,
      output: samples as Float64Array,
      sampleRate: 100,
      segmentLength,
    }),
}
const names = Object.keys(estimates)
const of = (name: string) => estimates[name] as (samples: ArrayLike<number>, segmentLength?: number) => never

describe('a record with a sample that is no number', () => {
  it.each(names)('is refused by %s, which says where', (name) => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const samples = noise(200)
      samples[77] = bad
      const error = refusal(() => of(name)(samples))
      expect(error.code).toBe('not-finite')
      expect(error.details.path).toMatch(/^(samples|chunk|x|input)\[77\]$/)
    }
  })

  it('is refused by record, or bridged where asked to, and then found', () => {
    const samples = [1, 2, Number.NaN, 4, 3, 2, 1, 0]
    const taken = { samples, sampleRate: 100, quantity: 'velocity' } as const
    expect(refusal(() => record(taken)).details.path).toBe('samples[2]')
    const bridged = record({ ...taken, missing: 'bridge', plausible: 10 })
    expect(bridged.samples[2]).toBe(3)
    expect(bridged.findings.map(({ check, count, first }) => [check, count, first])).toEqual([['missing', 1, 2]])
    expect(refusal(() => record({ ...taken, samples: [1, Infinity, 2], missing: 'bridge' })).code).toBe('not-finite')
  })

  it('makes no band: a density that is no number is refused', () => {
    const density = [1, 1, Number.NaN, 1]
    const call = () =>
      oneThirdOctaveBands({ quantity: 'velocity', frequency: [1, 2, 3, 4], density }, { from: 2, to: 2 })
    expect([refusal(call).code, refusal(call).details.path]).toEqual(['not-finite', 'spectrum.density[2]'])
  })
})

describe('a record that stands still', () => {
  // 0.1 has no exact double: the mean leaves rounding, some (1e-17)² of density
  const samples = new Float64Array(512).fill(0.1)

  it('has no motion: no density, no bands, no levels beyond rounding', () => {
    const density = welch({ samples, ...options, quantity: 'velocity' })
    expect(Math.max(...density.density)).toBeLessThan(1e-30)
    expect(Math.max(...toneLevels(density))).toBeLessThan(1e-15)
    expect(rms(density)).toBeLessThan(1e-15)
    for (const band of oneThirdOctaveBands(density, { from: 2.5, to: 31.5 }).bands) expect(band.rms).toBeLessThan(1e-15)
  })

  it('is all at 0 Hz where nothing is taken out', () => {
    const { density } = welch({ samples, ...options, detrend: 'none', window: 'rectangular' })
    // 0.01 over one line of 100/64 Hz (closed form)
    expect(density[0]).toBeCloseTo(0.0064, 12)
    expect(Math.max(...density.subarray(1))).toBeLessThan(1e-30)
  })

  it('has no coherence and no transfer with anything', () => {
    const cross = crossSpectrum({ x: samples, y: noise(512), ...options })
    const estimate = transferEstimate({ input: samples, output: noise(512), ...options })
    expect(estimate.undefinedLines).toEqual(Array.from({ length: 33 }, (_, k) => k))
    const other = transferEstimate({ input: noise(512), output: samples, ...options })
    for (const list of [cross.coherence, estimate.re, estimate.im, estimate.coherence, other.coherence]) {
      expect(list.every((value) => value === 0)).toBe(true)
    }
    // what rounding leaves of the mean is no response
    expect(other.undefinedLines).toEqual([])
    expect(Math.max(...other.re.map(Math.abs), ...other.im.map(Math.abs))).toBeLessThan(1e-15)
    expect(other.h2.every((value) => value === Infinity)).toBe(true)
  })

  it('is found by record as a dead channel', () => {
    const { findings } = record({ samples, sampleRate: 100, quantity: 'velocity' })
    expect(findings.map(({ check, count, first }) => [check, count, first])).toEqual([['dead', 512, 0]])
  })
})

describe('a record of one sample, or of none', () => {
  it.each(names)('is refused by %s', (name) => {
    for (const samples of [[1], []]) expect(refusal(() => of(name)(samples)).code).toBe('out-of-range')
  })

  it('is a record all the same where it is one, and integrates to nothing', () => {
    const one = record({ samples: [0.5], sampleRate: 100, quantity: 'velocity' })
    expect([...one.samples]).toEqual([0.5])
    expect(refusal(() => record({ samples: [], sampleRate: 100, quantity: 'velocity' })).details.path).toBe('samples')
    expect(refusal(() => integrate({ samples: [0.5], sampleRate: 100 })).details.path).toBe('samples')
  })
})

describe('a segment of odd or prime length', () => {
  // a sine on line 5, amplitude 2: area A²/2 = 2 (closed form), peak of the Hann density A²/(2·1.5·df)
  it.each([63, 97, 101, 1009, 4093])('of %i samples reads a tone like any other', (length) => {
    const samples = Float64Array.from({ length: 3 * length }, (_, n) => 2 * Math.sin((2 * Math.PI * 5 * n) / length))
    const { frequency, density } = welch({ samples, sampleRate: length, segmentLength: length })
    expect([frequency.length, frequency.at(-1)]).toEqual([(length + 1) / 2, (length - 1) / 2])
    expect(density[5]).toBeCloseTo(4 / 3, 11)
    expect(density.reduce((sum, value) => sum + value, 0)).toBeCloseTo(2, 11)
  })

  it('streams to the last bit and has full coherence with itself', () => {
    const samples = noise(4099)
    const stream = welchStream({ sampleRate: 100, segmentLength: 257 })
    for (let from = 0; from < samples.length; from += 101) stream.push(samples.subarray(from, from + 101))
    expect(stream.result()).toEqual(welch({ samples, sampleRate: 100, segmentLength: 257 }))
    const { coherence } = crossSpectrum({ x: samples, y: samples, sampleRate: 100, segmentLength: 257 })
    for (const value of coherence.subarray(1)) expect(value).toBeCloseTo(1, 12)
    const { re, im } = transferEstimate({ input: samples, output: samples, sampleRate: 100, segmentLength: 257 })
    for (const value of re.subarray(1)) expect(value).toBeCloseTo(1, 12)
    for (const value of im) expect(Math.abs(value)).toBeLessThan(1e-12)
  })
})

describe('a segment longer than the record', () => {
  it.each(names)('is refused by %s', (name) => {
    const error = refusal(() => of(name)(noise(100), 101))
    expect(error.code).toBe('out-of-range')
    expect(error.details.path).toBe(name === 'welchStream' ? '' : 'segmentLength')
  })

  it('as long as the record gives its one segment, but no coherence', () => {
    expect(welch({ samples: noise(101), sampleRate: 100, segmentLength: 101 }).averages).toBe(1)
    expect(crossSpectrum({ x: noise(101), y: noise(101, 2), sampleRate: 100, segmentLength: 101 }).averages).toBe(1)
    expect(refusal(() => of('transferEstimate')(noise(101), 101)).details.path).toBe('segmentLength')
  })
})

describe('bands by filters in time', () => {
  const form = { sampleRate: 100, from: 10, to: 20 } as const

  it('say where a sample is no number, and keep on after it', () => {
    const samples = noise(3000)
    const stream = bandStream(form)
    stream.push(samples)
    const before = stream.result()
    const broken = noise(200)
    broken[77] = Number.NaN
    expect(refusal(() => stream.push(broken)).details.path).toBe('chunk[77]')
    expect(refusal(() => bandHistory({ ...form, samples: broken })).details.path).toBe('samples[77]')
    expect(stream.result()).toEqual(before)
  })

  it('of a record that stands still are silent, of any length', () => {
    for (const length of [2999, 3001, 4001]) {
      const { rms } = bandHistory({ ...form, samples: new Float64Array(length).fill(0.1) })
      expect(rms.every((level) => level < 1e-12)).toBe(true)
    }
  })

  it('of one sample, of none, or of less than a block are refused', () => {
    for (const samples of [[], [1]]) expect(refusal(() => bandHistory({ ...form, samples })).code).toBe('out-of-range')
    const error = refusal(() => bandHistory({ ...form, samples: noise(3000), blockDuration: 40 }))
    expect(error.code).toBe('out-of-range')
  })
})
