import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  compareToCriterion,
  convertSpectrum,
  oneThirdOctaveBands,
  type Quantity,
  record,
  rms,
  type Spectrum,
  welch,
} from '../../src/vibration/index.js'
import { readRecord, tableAfter } from '../data/read-record.js'

// Real records with reference numbers computed by SciPy 1.10.1; they stand in the README.md beside each record.
const records: readonly Described[] = [
  ['suburban-microtremor', 'suburban_microtremor', 'velocity', 100, 4096, 0.1],
  ['tower-floors-ambient', 'tower_floors_ambient', 'acceleration', 200, 1024, 0.8],
  ['quiet-hill-velocity', 'quiet_hill_velocity', 'velocity', 100, 4096, 0.1],
  ['four-accelerometers-3200Hz', 'four_accelerometers_3200Hz', 'acceleration', 3200, 8192, 1.6],
  ['colocated-velocity-acceleration', 'colocated_velocity_acceleration', 'unspecified', 100, 4096, null],
  ['tower-strong-motion-io', 'tower_strong_motion_io', 'acceleration', 200, 4096, null],
]
type Described = readonly [
  folder: string,
  file: string,
  quantity: Quantity,
  sampleRate: number,
  segmentLength: number,
  lowestBand: number | null,
]

/** The reference numbers are printed with five digits. */
const printedDigits = 5.1e-5
/** The quietest bands of the records themselves are printed with five digits too, which adds some 1e-5. */
const agreement = 1e-4

for (const [folder, file, quantity, sampleRate, segmentLength, lowest] of records) {
  const { readme, channels } = readRecord(folder, file)
  const densities = new Map(
    Array.from(channels, ([channel, samples]) => [channel, welch({ samples, sampleRate, segmentLength, quantity })]),
  )

  describe(folder, () => {
    it('welch gives the reference densities', () => {
      const [head, ...rows] = tableAfter(readme, '| channel |')
      const frequencies = head.slice(4).map((cell) => Number(cell.replace(/PSD | Hz/g, '')))
      expect(rows.length).toBe(densities.size)
      for (const [channel, ...cells] of rows) {
        const { frequency, density } = densities.get(channel) as Spectrum
        frequencies.forEach((wanted, i) => {
          const line = Math.round(wanted / frequency[1])
          expectRatio(density[line], Number(cells[i + 3]), printedDigits)
        })
      }
    })

    it('has the mean, the rms and the largest deviation of the reference, and no findings', () => {
      const [head, ...rows] = tableAfter(readme, '| channel |')
      expect(head.slice(1, 4)).toEqual(['mean', 'rms', 'peak abs dev'])
      for (const [channel, ...cells] of rows) {
        const { samples, findings } = record({ samples: channels.get(channel) as Float64Array, sampleRate, quantity })
        const [mean, deviation, peak] = cells.map(Number)
        const found = samples.reduce((sum, value) => sum + value, 0) / samples.length
        // Some means are nothing but what the printing of the samples left, 1e-9 of the motion.
        expect(Math.abs(found - mean)).toBeLessThan(printedDigits * Math.abs(mean) + 1e-9 * deviation)
        // All lines of one long segment hold the variance: Parseval.
        const whole = welch({ samples, sampleRate, segmentLength: samples.length, window: 'rectangular' })
        expectRatio(rms(whole), deviation, printedDigits)
        expectRatio(
          samples.reduce((most, value) => Math.max(most, Math.abs(value - found)), 0),
          peak,
          printedDigits,
        )
        expect(findings).toEqual([])
      }
    })

    it('is as long as the reference says', () => {
      const [, rate, count, seconds] = readme.match(/Sample rate (\d+) Hz, (\d+) samples, (\d+) s/) ?? []
      expect([rate, count, seconds].map(Number)).toEqual([
        sampleRate,
        channels.values().next().value?.length,
        Number(count) / sampleRate,
      ])
      const line = Number(readme.match(/bin width ([\d.]+) Hz/)?.[1])
      for (const { frequency } of densities.values()) expectRatio(frequency[1], line, printedDigits)
    })

    if (lowest === null) return

    it('oneThirdOctaveBands gives the reference bands', () => {
      const [head, ...rows] = tableAfter(readme, '| nominal Hz |')
      const last = Number(rows[rows.length - 1][0])
      head.slice(1).forEach((channel, column) => {
        const bands = bandsOf(densities.get(channel) as Spectrum, lowest, last)
        expect(bands.bands.map((band) => band.nominal)).toEqual(rows.map((row) => Number(row[0])))
        bands.bands.forEach((band, i) => {
          expectRatio(band.rms, Number(rows[i][column + 1]), agreement)
        })
      })
    })

    it('bestCriterion and the worst band are those of the reference', () => {
      const last = Number(tableAfter(readme, '| nominal Hz |').at(-1)?.[0])
      const verdicts = [
        ...readme.matchAll(/^- (\w+): ((?:above )?VC-\w) \(worst band ([\d.]+) Hz, ([\d.]+) um\/s rms\)/gm),
      ]
      expect(verdicts.length).toBe(densities.size)
      for (const [, channel, name, nominal, level] of verdicts) {
        const bands = bandsOf(densities.get(channel) as Spectrum, Math.max(1, lowest), last)
        // The reference stops at VC-G; the curves here go on to VC-M.
        const best = bestCriterion(bands) ?? 'above VC-A'
        expect(best < 'VC-G' || best === 'above VC-A' ? best : 'VC-G').toBe(name)
        const whole = /[C-G]$/.test(name)
        const inRange = compareToCriterion(bands, whole ? (name as 'VC-C') : 'VC-C')
        expect(inRange.worst.nominal).toBe(Number(nominal))
        expect(inRange.worst.rms * 1e6).toBeCloseTo(Number(level), 3)
      }
    })

    it('and from 4 Hz on too, where VC-A and VC-B begin', () => {
      const last = Number(tableAfter(readme, '| nominal Hz |').at(-1)?.[0])
      const verdicts = [
        ...readme.matchAll(/^- (\w+): .*4-80 Hz is judged: ((?:above )?VC-\w) \(([\d.]+) Hz, ([\d.]+) um/gm),
      ]
      expect(verdicts.length).toBe(densities.size)
      for (const [, channel, name, nominal, level] of verdicts) {
        const bands = bandsOf(densities.get(channel) as Spectrum, 4, last)
        const best = bestCriterion(bands) ?? 'above VC-A'
        expect(best < 'VC-G' || best === 'above VC-A' ? best : 'VC-G').toBe(name)
        // the band of the largest level, which a flat curve names
        const { worst, judged } = compareToCriterion(bands, 'VC-C')
        expect([worst.nominal, judged[0]]).toEqual([Number(nominal), 4])
        expect(worst.rms * 1e6).toBeCloseTo(Number(level), 3)
      }
    })
  })
}

function bandsOf(density: Spectrum, from: number, to: number) {
  return oneThirdOctaveBands(convertSpectrum(density, { to: 'velocity' }), { from, to })
}

function expectRatio(actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThan(tolerance)
}
