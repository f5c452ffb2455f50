import { describe, expect, it } from 'vitest'
import { compareToModel, fitIsolator, sideBySideNoise } from '../../src/assessment/index.js'
import {
  type Bands,
  bestCriterion,
  compareToCriterion,
  convertSpectrum,
  oneThirdOctaveBands,
  type Quantity,
  type Spectrum,
  transferEstimate,
  welch,
} from '../../src/vibration/index.js'
import { readRecord } from '../data/read-record.js'

// What the README.md beside each record says it teaches, as verdicts.
const channelsOf = (folder: string) => {
  const { channels } = readRecord(folder, folder.replaceAll('-', '_'))
  return (name: string) => channels.get(name) as Float64Array
}
const bandsOf = (density: Spectrum, from: number, to: number): Bands =>
  oneThirdOctaveBands(convertSpectrum(density, { to: 'velocity' }), { from, to })

describe('the quiet tower', () => {
  const channel = channelsOf('tower-floors-ambient')
  const bands = (name: string, from = 1) =>
    bandsOf(welch({ samples: channel(name), sampleRate: 200, segmentLength: 1024, quantity: 'acceleration' }), from, 80)

  it('meets VC-G in the basement sideways, by either convention', () => {
    for (const name of ['basement_E', 'basement_N']) {
      const result = compareToCriterion(bands(name), 'VC-G', { convention: 'either' })
      expect([result.verdict, result.doubts]).toEqual(['pass', []])
      // and for all that 28 s of record can tell
      expect(compareToCriterion(bands(name), 'VC-G', { duration: 28, confidence: 0.8 }).verdict).not.toBe('fail')
    }
  })

  it('lies on the border of VC-F vertically: the convention decides, not the floor', () => {
    // README.md: worst band 3.15 Hz, 1.565 µm/s; VC-F is 1.5625 µm/s or 62.5 µin/s = 1.5875 µm/s
    const vertical = bands('basement_Z')
    expect(compareToCriterion(vertical, 'VC-F').verdict).toBe('fail')
    expect(compareToCriterion(vertical, 'VC-F', { convention: 'inch' }).verdict).toBe('pass')
    const either = compareToCriterion(vertical, 'VC-F', { convention: 'either' })
    expect(either.verdict).toBe('undecided')
    expect(either.doubts.map(({ nominal, causes }) => [nominal, ...causes])).toEqual([[3.15, 'convention']])
    expect(either.worst.rms * 1e6).toBeCloseTo(1.565, 3)
    // neither could 28 s of a stationary floor
    const short = compareToCriterion(vertical, 'VC-F', { convention: 'inch', duration: 28 })
    expect(short.doubts[0]).toMatchObject({ nominal: 3.15, causes: ['record'] })
    // judged from 4 Hz only it is clear: README.md says VC-F, 1.079 µm/s at 4 Hz
    const upper = compareToCriterion(bands('basement_Z', 4), 'VC-F', { convention: 'either' })
    expect([upper.verdict, upper.worst.nominal, upper.judged]).toEqual(['pass', 4, [4, 80]])
  })

  it('owes little of its basement to the sensor, bounded by the quietest channel', () => {
    const noise = bands('soil_61m_E')
    const basement = compareToCriterion(bands('basement_N'), 'VC-G', { sensorNoise: noise })
    expect([basement.verdict, basement.doubts]).toEqual(['pass', []])
    // README.md: levels at 1 Hz are within a factor of 2 of that channel
    const at1 = (levels: Bands) => levels.bands[0]?.rms as number
    expect(at1(bands('basement_N')) / at1(noise)).toBeLessThan(2)
  })
})

describe('four accelerometers', () => {
  const channel = channelsOf('four-accelerometers-3200Hz')
  const options = { sampleRate: 3200, segmentLength: 8192, quantity: 'acceleration' as Quantity }

  it('describe the sensor, not the structure: nothing but noise, and no class', () => {
    const samples = channel('a1_1Z')
    const { first, relativeError } = sideBySideNoise({ first: samples, second: channel('a2_2Z'), ...options })
    const reading = bandsOf(welch({ samples, ...options }), 4, 80)
    const own = bandsOf(first, 4, 80)
    // README.md: nearly incoherent, most of it is sensor noise
    for (const [k, { rms }] of own.bands.entries()) {
      expect(rms / (reading.bands[k]?.rms as number)).toBeGreaterThan(0.8)
    }
    // README.md gives VC-A, below VC-B, at face value
    expect(bestCriterion(reading)).toBe('VC-A')
    expect(compareToCriterion(reading, 'VC-B').verdict).toBe('fail')
    // noise at the upper end of what ten seconds tell of it, two standard deviations
    const most = { ...first, density: first.density.map((value, k) => value * (1 + 2 * (relativeError[k] as number))) }
    for (const name of ['VC-B', 'VC-C', 'VC-D'] as const) {
      const result = compareToCriterion(reading, name, { sensorNoise: bandsOf(most, 4, 80) })
      expect(result.verdict).toBe('undecided')
      expect(result.doubts.every(({ causes }) => causes.join() === 'sensor')).toBe(true)
    }
  })
})

describe('two sensors in one vault', () => {
  const channel = channelsOf('colocated-velocity-acceleration')
  const estimate = transferEstimate({
    input: channel('vel_Z'),
    output: channel('acc_Z'),
    sampleRate: 100,
    segmentLength: 4096,
  })
  const { frequency } = estimate
  const line = (wanted: number) => Math.round(wanted / (frequency[1] as number))
  /** Acceleration of velocity: j·2πf. */
  const prediction = {
    kind: 'ComplexSeries',
    frequency,
    re: frequency.map(() => 0),
    im: frequency.map((f) => 2 * Math.PI * f),
  } as const

  it('differ by a ratio of 0.74 at 30 Hz that the coherence does not reveal, and the comparison does', () => {
    // README.md: ratio of densities 0.7402, coherence 0.9997 at 30.0049 Hz
    const k = line(30)
    const measured = Math.hypot(estimate.re[k] as number, estimate.im[k] as number)
    expect((measured / (prediction.im[k] as number)) ** 2).toBeCloseTo(0.74, 3)
    expect(estimate.coherence[k]).toBeGreaterThan(0.999)
    const result = compareToModel(estimate, prediction, { from: 0.2, to: 40 })
    expect(result.verdict).toBe('departs')
    const at30 = result.departures.find(({ from, to }) => from <= 30 && to >= 30)
    expect(at30?.deviation).toBeGreaterThan(50)
    expect(result.deviations[result.frequency.indexOf(frequency[k] as number)]).toBeGreaterThan(10 * result.limit)
  })

  it('have H1 and H2 within the noise, which therefore is not the reason', () => {
    const k = line(30)
    const h1 = Math.hypot(estimate.re[k] as number, estimate.im[k] as number)
    expect((estimate.h2[k] as number) / h1).toBeCloseTo(1, 3)
    expect(estimate.randomError[k]).toBeLessThan(0.01)
  })
})

describe('a tower in an earthquake', () => {
  const channel = channelsOf('tower-strong-motion-io')
  const estimate = (segmentLength: number) =>
    transferEstimate({ input: channel('basement_E'), output: channel('roof_E'), sampleRate: 200, segmentLength })

  it('has its first mode underestimated by H1, the more the coarser the lines', () => {
    // README.md: first mode near 0.4 Hz; coherence dips there, H1 is low, H2 high
    const peak = (segmentLength: number) => {
      const { frequency, re, im, h2 } = estimate(segmentLength)
      const inside = Array.from(frequency.keys()).filter((k) => Math.abs((frequency[k] as number) - 0.4) < 0.15)
      const h1 = inside.map((k) => Math.hypot(re[k] as number, im[k] as number))
      return [Math.max(...h1), Math.min(...inside.map((k) => h2[k] as number))] as const
    }
    const [coarse, fine] = [peak(2048), peak(8192)]
    expect(fine[0]).toBeGreaterThan(2 * coarse[0])
    expect(fine[1]).toBeGreaterThan(0)
  })

  it('is no isolator, and the fit says so by its scatter and its interval', () => {
    const fit = fitIsolator(estimate(4096), { from: 0.1, to: 0.8 })
    expect(fit.scatter).toBeGreaterThan(5)
    const { from, to } = fit.confidence.dampingRatio ?? { from: 1, to: 1 }
    expect(to / from).toBeGreaterThan(100)
  })
})

describe('quiet ground', () => {
  it.each([
    ['quiet-hill-velocity', 120, 31.5],
    ['suburban-microtremor', 480, 40],
  ] as const)('%s meets VC-G for all that %i s can tell, up to %f Hz', (folder, duration, to) => {
    const channel = channelsOf(folder)
    for (const name of ['vel_Z', 'vel_N', 'vel_E']) {
      const density = welch({ samples: channel(name), sampleRate: 100, segmentLength: 4096, quantity: 'velocity' })
      const result = compareToCriterion(bandsOf(density, 1, to), 'VC-G', { convention: 'either', duration })
      expect([result.verdict, result.doubts]).toEqual(['pass', []])
      expect(result.missing).toContain(80)
    }
  })
})
