import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { describe, expect, it } from 'vitest'
import { rms, welch, welchStream } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const noise = (length: number) => {
  let state = 5
  return Float64Array.from({ length }, () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return state / 2 ** 31 - 1
  })
}
const options = {
  sampleRate: 50,
  segmentLength: 13,
  overlap: 0.5,
  window: 'blackman-harris',
  detrend: 'linear',
} as const

describe('welchStream', () => {
  it.each([1, 2, 6, 7, 13, 14, 199, 1000])('is welch to the last bit in chunks of %i samples', (size) => {
    const samples = noise(200)
    const stream = welchStream({ ...options, quantity: 'velocity' })
    for (let from = 0; from < samples.length; from += size) stream.push(samples.subarray(from, from + size))
    expect(stream.result()).toEqual(welch({ samples, ...options, quantity: 'velocity' }))
  })

  it('may be read at any time and goes on as if it had not been', () => {
    const samples = noise(100)
    const stream = welchStream(options)
    for (let n = 0; n < 100; n++) {
      stream.push([samples[n] as number])
      if (n < 12) continue
      expect(stream.result().density).toEqual(welch({ samples: samples.slice(0, n + 1), ...options }).density)
    }
  })

  it('hands out results that nothing later changes', () => {
    const stream = welchStream(options)
    stream.push(noise(40))
    const early = stream.result()
    const copy = structuredClone(early)
    stream.push(noise(40))
    early.frequency[1] = -1
    expect(stream.result().frequency[1]).toBe(50 / 13)
    expect(early.density).toEqual(copy.density)
  })

  it('is left as it was by a chunk that it refuses', () => {
    const stream = welchStream(options)
    stream.push(noise(30))
    const error = refusal(() => stream.push([1, 2, Number.NaN]))
    expect([error.code, error.details.path]).toEqual(['not-finite', 'chunk[2]'])
    expect(stream.result()).toEqual(welch({ samples: noise(30), ...options }))
  })

  it('needs no more memory for an hour at 100 Hz than for a minute', () => {
    setFlagsFromString('--expose-gc')
    const collect = runInNewContext('gc') as () => void
    const memory = () => {
      collect()
      const { heapUsed, arrayBuffers } = process.memoryUsage()
      return heapUsed + arrayBuffers
    }
    const stream = welchStream({ sampleRate: 100, segmentLength: 4096 })
    const second = Float64Array.from({ length: 100 }, (_, n) => Math.sin(0.2 * Math.PI * n))
    for (let n = 0; n < 60; n++) stream.push(second)
    const minute = memory()
    for (let n = 60; n < 3600; n++) stream.push(second)
    const hour = memory()
    // The record itself would be 2.9 MB; 1 MB leaves room for what the engine compiles meanwhile.
    expect(hour - minute).toBeLessThan(1e6)
    expect(stream.result().averages).toBe(1 + Math.floor((360_000 - 4096) / 2048))
    expect(rms(stream.result(), { from: 9.5, to: 10.5 })).toBeCloseTo(Math.SQRT1_2, 4)
  })

  it.each([
    ['a result before the first segment', () => welchStream(options).result(), 'out-of-range', ''],
    ['a missing length', () => welchStream({ sampleRate: 1 } as never), 'invalid-option', 'segmentLength'],
    ['a length of one', () => welchStream({ ...options, segmentLength: 1 }), 'out-of-range', 'segmentLength'],
    ['samples', () => welchStream({ ...options, samples: [1] } as never), 'invalid-option', 'samples'],
    ['a rate of 0', () => welchStream({ ...options, sampleRate: 0 }), 'out-of-range', 'sampleRate'],
  ])('refuses %s', (_, call, code, path) => {
    const error = refusal(call)
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
