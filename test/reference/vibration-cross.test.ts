import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { crossSpectrum, type SegmentOptions, welch, welchStream } from '../../src/vibration/index.js'
import { readRecord, tableAfter } from '../data/read-record.js'

interface Case {
  readonly folder: string
  readonly name: string
  readonly sampleRate: number
  readonly x: string
  readonly y: string
  readonly options: Required<Omit<SegmentOptions, 'sampleRate'>>
  readonly largest: readonly [x: number, y: number, median: number]
  readonly xDensity: number[]
  readonly yDensity: number[]
  readonly median: number[]
  readonly re: number[]
  readonly im: number[]
  readonly coherence: number[]
}

// Computed by SciPy 1.10.1, see test/reference/generators/records.py.
const reference = JSON.parse(readFileSync(new URL('./data/records.json', import.meta.url), 'utf8')) as {
  step: number
  cases: Case[]
}

/** Sums over some dozens of segments in double precision, by two different transforms. */
const relative = 1e-9
/** Rounding of a transform stands at some ε of its strongest line: (4·2.2e-16·log2 4096)² of its density, far below this. */
const ofLargest = 1e-13
/** The error of a coherence is that of three densities. */
const ofCoherence = 1e-8

describe.each(reference.cases)('$folder: $x and $y agree with SciPy', (given) => {
  const { channels } = readRecord(given.folder, given.name)
  const x = channels.get(given.x) as Float64Array
  const y = channels.get(given.y) as Float64Array
  const options = { sampleRate: given.sampleRate, ...given.options }
  const cross = crossSpectrum({ x, y, ...options })
  const line = (k: number) => k * reference.step

  it('in density, by mean and by median', () => {
    const [largestX, largestY, largestMedian] = given.largest
    const lists = [
      [welch({ samples: x, ...options }).density, given.xDensity, largestX],
      [welch({ samples: y, ...options }).density, given.yDensity, largestY],
      [cross.xDensity, given.xDensity, largestX],
      [cross.yDensity, given.yDensity, largestY],
      [welch({ samples: x, ...options, average: 'median' }).density, given.median, largestMedian],
    ] as const
    for (const [actual, expected, largest] of lists) {
      expected.forEach((value, k) => {
        const off = Math.abs((actual[line(k)] as number) - value)
        expect(off, `line ${line(k)}`).toBeLessThanOrEqual(relative * value + ofLargest * largest)
      })
    }
  })

  it('in cross density, relative to √(S_xx·S_yy), and in coherence', () => {
    const floor = ofLargest * Math.sqrt(given.largest[0] * given.largest[1])
    given.re.forEach((re, k) => {
      const off = Math.hypot(
        (cross.re[line(k)] as number) - re,
        (cross.im[line(k)] as number) - (given.im[k] as number),
      )
      const scale = Math.sqrt((given.xDensity[k] as number) * (given.yDensity[k] as number))
      expect(off, `line ${line(k)}`).toBeLessThanOrEqual(relative * scale + floor)
      // The coherence at 0 Hz, where the trend was taken out, is one of rounding.
      if (k > 0) {
        expect(Math.abs((cross.coherence[line(k)] as number) - (given.coherence[k] as number))).toBeLessThan(
          ofCoherence,
        )
      }
    })
  })

  it('as a stream too, to the last bit of welch', () => {
    const stream = welchStream(options)
    for (let from = 0, size = 1; from < x.length; from += size, size = (7 * size + 3) % 10007) {
      stream.push(x.subarray(from, from + size))
    }
    expect(stream.result()).toEqual(welch({ samples: x, ...options }))
  })
})

describe('what the records warn of', () => {
  it('four accelerometers with nearly equal spectra are nearly incoherent: sensor noise', () => {
    const { channels, readme } = readRecord('four-accelerometers-3200Hz', 'four_accelerometers_3200Hz')
    // README of the record, computed there with SciPy: mean over 2 to 100 Hz, largest and where.
    const lines = [...readme.matchAll(/^- (\w+) \/ (\w+): ([\d.]+), max ([\d.]+) at ([\d.]+) Hz$/gm)]
    expect(lines.length).toBe(6)
    for (const [, x, y, mean, largest, at] of lines) {
      const { frequency, coherence } = crossSpectrum({
        x: channels.get(x as string) as Float64Array,
        y: channels.get(y as string) as Float64Array,
        sampleRate: 3200,
        segmentLength: 4096,
      })
      // Between the two, without the line at 100 Hz itself: mains.
      const between = (k: number) => (frequency[k] as number) > 2 && (frequency[k] as number) < 100
      const inside = Array.from(coherence).filter((_, k) => between(k))
      const peak = Math.max(...inside)
      expect(inside.reduce((sum, value) => sum + value, 0) / inside.length).toBeCloseTo(Number(mean), 3)
      expect(peak).toBeCloseTo(Number(largest), 3)
      expect(frequency[coherence.indexOf(peak)]).toBeCloseTo(Number(at), 1)
    }
  })

  it('two sensors in one vault: coherence above 0.999 where their scale is off by a quarter', () => {
    const { channels, readme } = readRecord('colocated-velocity-acceleration', 'colocated_velocity_acceleration')
    const cross = crossSpectrum({
      x: channels.get('vel_Z') as Float64Array,
      y: channels.get('acc_Z') as Float64Array,
      sampleRate: 100,
      segmentLength: 4096,
    })
    const [, ...rows] = tableAfter(readme, '| f Hz |')
    expect(rows.length).toBe(8)
    for (const [frequency, acceleration, derived, ratio, coherence] of rows.map((row) => row.map(Number))) {
      const k = Math.round((frequency as number) / (cross.frequency[1] as number))
      const fromVelocity = (2 * Math.PI * (cross.frequency[k] as number)) ** 2 * (cross.xDensity[k] as number)
      const printed = 5.1e-5
      expect(Math.abs((cross.yDensity[k] as number) / (acceleration as number) - 1)).toBeLessThan(printed)
      expect(Math.abs(fromVelocity / (derived as number) - 1)).toBeLessThan(printed)
      expect((cross.yDensity[k] as number) / fromVelocity).toBeCloseTo(ratio as number, 4)
      expect(cross.coherence[k]).toBeCloseTo(coherence as number, 4)
    }
  })

  it('a tower in an earthquake: the coherence dips at its resonances', () => {
    const { channels, readme } = readRecord('tower-strong-motion-io', 'tower_strong_motion_io')
    const [head, ...rows] = tableAfter(readme, '| output |')
    const frequencies = (head as string[]).slice(1).map((cell) => Number(cell.replace(' Hz', '')))
    expect(rows.length).toBe(4)
    for (const [output, ...cells] of rows) {
      const cross = crossSpectrum({
        x: channels.get('basement_E') as Float64Array,
        y: channels.get(output as string) as Float64Array,
        sampleRate: 200,
        segmentLength: 4096,
      })
      cells.forEach((cell, i) => {
        const [magnitude, degrees, coherence] = cell.replace(' deg', '').split(' / ').map(Number)
        const k = Math.round((frequencies[i] as number) / (cross.frequency[1] as number))
        const [re, im] = [cross.re[k] as number, cross.im[k] as number]
        // Printed with four digits, one decimal and three decimals.
        expect(Math.abs(Math.hypot(re, im) / (cross.xDensity[k] as number) / (magnitude as number) - 1)).toBeLessThan(
          5.1e-4,
        )
        expect((Math.atan2(im, re) * 180) / Math.PI).toBeCloseTo(degrees as number, 1)
        expect(cross.coherence[k]).toBeCloseTo(coherence as number, 3)
      })
    }
  })
})
