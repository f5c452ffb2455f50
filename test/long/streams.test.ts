import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { describe, expect, it } from 'vitest'
import { bandStatistic, bandStream, rms, welchStream } from '../../src/vibration/index.js'

setFlagsFromString('--expose-gc')
const collect = runInNewContext('gc') as () => void
const memory = () => {
  collect()
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return heapUsed + arrayBuffers
}

/** One second of a tone at 100 Hz, in chunks of several sizes. */
const second = Float64Array.from({ length: 1000 }, (_, n) => Math.sin(0.2 * Math.PI * n))
const chunks = [second.subarray(0, 1), second.subarray(1, 358), second.subarray(358)]

/** The record itself would be 28 MB; 1 MB leaves room for what the engine compiles meanwhile. */
const leeway = 1e6

describe('a stream of one hour at 1 kHz uses no more memory than a minute of it', () => {
  const grown = (stream: { push: (chunk: Float64Array) => void }) => {
    let minute = 0
    for (let n = 0; n < 3600; n++) {
      for (const chunk of chunks) stream.push(chunk)
      if (n === 59) minute = memory()
    }
    return memory() - minute
  }

  it('as a density', () => {
    const stream = welchStream({ sampleRate: 1000, segmentLength: 4096 })
    expect(grown(stream)).toBeLessThan(leeway)
    // 1 + ⌊(3 600 000 − 4096)/2048⌋ segments (closed form)
    expect(stream.result().averages).toBe(1756)
    expect(rms(stream.result(), { from: 95, to: 105 })).toBeCloseTo(Math.SQRT1_2, 4)
  })

  it('as one-third-octave bands by the minute', () => {
    const stream = bandStream({ sampleRate: 1000, from: 4, to: 200, blockDuration: 60 })
    expect(grown(stream)).toBeLessThan(leeway)
    const { bands } = bandStatistic(stream.result())
    // at the centre of its band, where the filters that read white noise right read a tone 0.1 dB high or less
    expect(bands.find(({ nominal }) => nominal === 100)?.rms).toBeCloseTo(Math.SQRT1_2, 1)
  })
})
