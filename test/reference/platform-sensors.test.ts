import { describe, expect, it } from 'vitest'
import { convertSpectrum, oneThirdOctaveBands, rms, type Spectrum, spectrum } from '../../src/vibration/index.js'
import { readRecord, tableAfter } from '../data/read-record.js'
import { refusal } from '../unit/refusal.js'

// Densities of the sensors of a platform; reference numbers in the README.md beside them.
const { readme, channels } = readRecord('gw-lab-platform-sensor-asd', 'platform_sensor_asd')
const spacing = 0.00390625
const names = ['seismometer_L', 'seismometer_T', 'relative_L', 'geophone_L', 'geophone_T'] as const
const frequency = Array.from(channels.get('seismometer_L') as Float64Array, (_, k) => k * spacing)
const micro = (values: Float64Array) => values.map((value) => value * 1e-6)
const sensors = new Map<string, Spectrum>(
  names.map((name) => [
    name,
    spectrum({
      quantity: 'displacement',
      frequency,
      amplitudeDensity: micro(channels.get(name) as Float64Array),
    }),
  ]),
)
const sensor = (name: (typeof names)[number]) => sensors.get(name) as Spectrum
const amplitude = (name: (typeof names)[number], k: number) => Math.sqrt(sensor(name).density[k] as number)
const line = (wanted: number) => Math.round(wanted / spacing)

/** Numbers are printed with four or five digits. */
const fourDigits = 5.1e-4
const fiveDigits = 5.1e-5
const off = (actual: number, expected: number) => Math.abs(actual / expected - 1)

describe('the sensors of an isolation platform', () => {
  it('have 25601 lines of 1/256 Hz up to 100 Hz, which are taken for lines', () => {
    for (const { support, frequency } of sensors.values()) {
      expect([support, frequency.length, frequency.at(-1)]).toEqual(['lines', 25601, 100])
    }
  })

  it('have the amplitude densities of the table', () => {
    const [, ...rows] = tableAfter(readme, '| f Hz |')
    expect(rows.length).toBe(9)
    for (const [wanted, ...cells] of rows.map((row) => row.map(Number))) {
      names.forEach((name, column) => {
        expect(off(amplitude(name, line(wanted as number)) * 1e6, cells[column] as number)).toBeLessThan(fourDigits)
      })
    }
  })

  it('have the displacement of the table in each band', () => {
    const [, ...rows] = tableAfter(readme, '| band Hz |')
    expect(rows.length).toBe(6)
    for (const [band, ...cells] of rows) {
      // The reference adds up whole lines from the lower limit to below the upper one.
      const [from, to] = (band as string).split('-').map((limit) => Math.ceil(Number(limit) / spacing) * spacing)
      names.forEach((name, column) => {
        const level = rms(sensor(name), { from: (from as number) - spacing / 2, to: (to as number) - spacing / 2 })
        expect(off(level * 1e6, Number(cells[column]))).toBeLessThan(fiveDigits)
      })
    }
  })

  it('give the velocity bands of the ground', () => {
    const stated = [...readme.matchAll(/([\d.]+) Hz (\d\.\d+e-\d\d)/g)].map(([, band, level]) =>
      [band, level].map(Number),
    )
    expect(stated.length).toBe(30)
    const { bands } = oneThirdOctaveBands(convertSpectrum(sensor('seismometer_L'), { to: 'velocity' }), {
      from: 0.1,
      to: 80,
    })
    expect(bands.map(({ nominal }) => nominal)).toEqual(stated.map(([nominal]) => nominal))
    bands.forEach(({ rms }, k) => {
      expect(off(rms, stated[k]?.[1] as number)).toBeLessThan(fourDigits)
    })
  })

  it('cross near 0.426 Hz: there the geophone becomes the quieter one', () => {
    // README.md: the last line below 5 Hz where the geophone is above the relative sensor
    let last = 0
    for (let k = 0; k < line(5); k++) if (amplitude('geophone_L', k) > amplitude('relative_L', k)) last = k
    expect(last * spacing).toBeCloseTo(0.426, 3)
  })

  it('differ in what limits them: flat at 2 to 4 nm/√Hz, against steep towards low frequencies', () => {
    const level = (name: (typeof names)[number], centre: number) => {
      const part = [...sensor(name).density.subarray(line(0.9 * centre), line(1.1 * centre))].sort((a, b) => a - b)
      return Math.sqrt(part[part.length >> 1] as number)
    }
    // README.md: about 2 to 4 nm/√Hz
    for (const centre of [2, 5, 10, 20, 50]) {
      expect(level('relative_L', centre)).toBeGreaterThan(1.7e-9)
      expect(level('relative_L', centre)).toBeLessThan(4e-9)
    }
    // README.md: rising steeply towards low frequencies; from 1 down to 0.2 Hz by more than the cube
    for (const name of ['geophone_L', 'geophone_T'] as const) {
      expect(level(name, 0.2) / level(name, 1)).toBeGreaterThan(5 ** 3)
    }
  })

  it('are of no use as ground motion while the unit of the seismometer is not known', () => {
    // README.md: displacement is assumed, it might be velocity
    const unknown = { ...sensor('seismometer_L'), quantity: 'unspecified' as const }
    expect(refusal(() => convertSpectrum(unknown, { to: 'velocity' })).code).toBe('unsupported')
    // read as velocity the 1 Hz band is 2π less than as displacement
    const band = (quantity: 'displacement' | 'velocity') => {
      const read = convertSpectrum({ ...unknown, quantity }, { to: 'velocity' })
      return oneThirdOctaveBands(read, { from: 1, to: 1 }).bands[0]?.rms as number
    }
    expect(band('displacement') / band('velocity')).toBeCloseTo(2 * Math.PI, 0)
  })
})
