import { bestCriterion, oneThirdOctaveBands } from 'restmass'
import { describe, expect, it } from 'vitest'
import { floorRecord, inventedFloor } from '../../../docs/examples/demo/floor-record.js'
import { floorSpectrum } from '../../../docs/examples/demo/floor-spectrum.js'

const short = { ...inventedFloor, duration: 20 }
const levelled = (duration: number, sampleRate: number) => ({
  samples: Float64Array.from({ length: duration * sampleRate }, (_, n) => Math.sin(n) + Math.sin(n * n)),
  sampleRate,
  quantity: 'velocity' as const,
})

describe('the invented floor', () => {
  it('is the same for the same seed and another for another', () => {
    const once = floorRecord(short)
    expect(floorRecord(short)).toEqual(once)
    expect(floorRecord({ ...short, seed: short.seed + 1 })).not.toEqual(once)
  })

  it('has the samples that rate and duration ask for', () => {
    expect(floorRecord(short).length).toBe(20 * 200)
  })

  it('meets VC-C and no tighter curve, its machine line standing out', () => {
    const { sampleRate } = inventedFloor
    const { spectrum } = floorSpectrum({ samples: floorRecord(inventedFloor), sampleRate, quantity: 'velocity' })
    const bands = oneThirdOctaveBands(spectrum, { from: 1, to: 80 })
    expect(bestCriterion(bands)).toBe('VC-C')
    // The machine alone: 6 µm/s rms, its slow swing of 20 % adds 1 %: 6·√(1 + 0.2²/2) = 6.06 µm/s; ambient noise adds.
    const line = bands.bands.find(({ nominal }) => nominal === 25)
    expect(line?.rms).toBeGreaterThan(6.0e-6)
    expect(line?.rms).toBeLessThan(7.0e-6)
  })
})

describe('the spectrum of a record', () => {
  it('takes segments of an eighth of the record, up to 40 s', () => {
    expect(floorSpectrum(levelled(160, 50)).segment).toBe(20)
    expect(floorSpectrum(levelled(480, 50)).segment).toBe(40)
  })

  it('names the bands that rest on few lines where the record is short', () => {
    expect(floorSpectrum(levelled(480, 50)).roughBands).toEqual([])
    const { roughBands, averages } = floorSpectrum(levelled(30, 50))
    expect(averages).toBe(5)
    // Width of a one-third-octave band, (10^0.05 − 10^−0.05)·centre = 0.2308·centre, over lines 0.1 Hz apart.
    expect(roughBands.map(({ nominal }) => nominal)).toEqual([1, 1.25, 1.6])
    expect(roughBands[0].lines).toBeCloseTo(2.308, 3)
  })

  it('refuses a record too short for the 1 Hz band and says that the rate may be wrong', () => {
    expect(() => floorSpectrum(levelled(12, 50))).toThrow('the record lasts 12 s, too short for the 1 Hz band')
  })

  it('refuses a rate that does not even cover the 10 Hz band', () => {
    expect(() => floorSpectrum(levelled(480, 20))).toThrow('not even the 10 Hz band')
  })
})
