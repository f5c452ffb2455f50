import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  compareToCriterion,
  convertSpectrum,
  oneThirdOctaveBands,
  type Quantity,
  type Spectrum,
  welch,
} from '../../src/vibration/index.js'

// Real records with reference numbers computed by SciPy 1.10.1; they stand in the README.md beside each record.
const suburban = {
  folder: 'suburban-microtremor',
  file: 'suburban_microtremor.csv',
  quantity: 'velocity',
  sampleRate: 100,
  segmentLength: 4096,
  lowest: 0.1,
} as const
const tower = {
  folder: 'tower-floors-ambient',
  file: 'tower_floors_ambient.csv',
  quantity: 'acceleration',
  sampleRate: 200,
  segmentLength: 1024,
  lowest: 0.8,
} as const

/** The reference numbers are printed with five digits. */
const printedDigits = 5.1e-5
/** The quietest bands of the records themselves are printed with five digits too, which adds some 1e-5. */
const agreement = 1e-4

for (const record of [suburban, tower]) {
  const readme = read(record.folder, 'README.md')
  const densities = densitiesOf(record)

  describe(record.folder, () => {
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

    it('oneThirdOctaveBands gives the reference bands', () => {
      const [head, ...rows] = tableAfter(readme, '| nominal Hz |')
      const last = Number(rows[rows.length - 1][0])
      head.slice(1).forEach((channel, column) => {
        const bands = bandsOf(densities.get(channel) as Spectrum, record.lowest, last)
        expect(bands.bands.map((band) => band.nominal)).toEqual(rows.map((row) => Number(row[0])))
        bands.bands.forEach((band, i) => {
          expectRatio(band.rms, Number(rows[i][column + 1]), agreement)
        })
      })
    })

    it('bestCriterion and the worst band are those of the reference', () => {
      const last = Number(tableAfter(readme, '| nominal Hz |').at(-1)?.[0])
      const verdicts = [...readme.matchAll(/^- (\w+): (VC-\w) \(worst band ([\d.]+) Hz, ([\d.]+) um\/s rms\)/gm)]
      expect(verdicts.length).toBe(densities.size)
      for (const [, channel, name, nominal, level] of verdicts) {
        const bands = bandsOf(densities.get(channel) as Spectrum, 1, last)
        // The reference stops at VC-G; the curves here go on to VC-M.
        const best = bestCriterion(bands) as string
        expect(best < 'VC-G' ? best : 'VC-G').toBe(name)
        const inRange = name < 'VC-C' ? compareToCriterion(bands, 'VC-C') : compareToCriterion(bands, name as 'VC-C')
        expect(inRange.worst.nominal).toBe(Number(nominal))
        expect(inRange.worst.rms * 1e6).toBeCloseTo(Number(level), 3)
      }
    })
  })
}

function read(folder: string, file: string): string {
  return readFileSync(new URL(`../data/${folder}/${file}`, import.meta.url), 'utf8')
}

function densitiesOf(record: typeof suburban | typeof tower): Map<string, Spectrum> {
  const [, head, ...lines] = read(record.folder, record.file).trim().split('\n')
  const rows = lines.map((line) => line.split(',').map(Number))
  const { sampleRate, segmentLength } = record
  const quantity: Quantity = record.quantity
  return new Map(
    head.split(',').map((channel, column) => {
      const samples = rows.map((row) => row[column])
      return [channel, welch({ samples, sampleRate, segmentLength, quantity })]
    }),
  )
}

function bandsOf(density: Spectrum, from: number, to: number) {
  return oneThirdOctaveBands(convertSpectrum(density, { to: 'velocity' }), { from, to })
}

/** Rows of cells of the Markdown table whose first line starts with `start`. */
function tableAfter(text: string, start: string): string[][] {
  const lines = text.slice(text.indexOf(start)).split('\n')
  const table = lines.slice(
    0,
    lines.findIndex((line) => !line.startsWith('|')),
  )
  return table
    .filter((line) => !line.startsWith('|---'))
    .map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    )
}

function expectRatio(actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThan(tolerance)
}
