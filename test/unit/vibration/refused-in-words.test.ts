import { describe, expect, it } from 'vitest'
import * as v from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const ones = (length: number) => new Array<number>(length).fill(1)
const floor = { quantity: 'velocity', frequency: [1, 100], density: [1, 1] } as const
const lines = { quantity: 'velocity', frequency: [0, 1, 2, 3, 4], density: ones(5) } as const
const bands = (nominal: number, quantity = 'velocity') => ({ quantity, bands: [{ nominal, rms: 1 }] }) as never
const taken = { samples: [1, 2, 3, 5], sampleRate: 10, quantity: 'velocity' } as const
const response = { ...taken, zeros: [], poles: [], gain: 1, lowerCorner: 1 } as const
const silent = [5, -5].map((turns) => ({ re: 0, im: turns * Math.PI }))
const corners = { frequency: [1.5, 80], velocity: [1, 1] }
const own = v.customCriterion({ ...corners, name: 'own' })
const perLine = v.lineCriterion({ ...corners, lineWidth: 1, name: 'own' })
const noise = Array.from({ length: 640 }, (_, n) => Math.sin(n * n))
const blocks = v.spectrogram({ samples: noise, sampleRate: 64, segmentLength: 64 })
const history = v.spectrogramBands(blocks, { from: 10, to: 12.5 })
const pushed = (samples: readonly number[], options: v.WelchStreamOptions) => {
  const stream = v.welchStream(options)
  stream.push(samples)
  return stream.result()
}

/** Calls that are refused for what their options are together, or for what comes of them. */
const refused: Readonly<Record<string, () => unknown>> = {
  'a tilt that is a motion': () => v.apparentAcceleration(floor),
  'an acceleration beyond numbers': () =>
    v.soundPressureForce({ ...floor, quantity: 'pressure', density: [1, 1e200] }, { area: 1e100, faces: 'one-face' }),
  'a history without blocks': () => v.bandStatistic({ ...history, time: [] as never, rms: [] as never }),
  'a history of nothing': () => v.bandStatistic(null as never),
  'a history whose bands are no list': () => v.bandStatistic({ ...history, bands: {} } as never),
  'a level per block but not per band': () => v.bandStatistic({ ...history, rms: history.time }),
  'a spectrogram without blocks': () =>
    v.spectrumStatistic({ ...blocks, time: new Float64Array(0), density: new Float64Array(0) }),
  'a spectrogram of nothing': () => v.spectrumStatistic(null as never),
  'a spectrogram without lines': () => v.spectrumStatistic({ ...blocks, frequency: undefined } as never),
  'blocks that tell no window': () => v.spectrumStatistic({ ...blocks, window: undefined } as never),
  'blocks that tell no average': () =>
    v.spectrogramBands({ ...blocks, average: 'median' } as never, { from: 10, to: 10 }),
  'a band above 0.45 of the rate': () => v.bandHistory({ ...taken, sampleRate: 99, from: 10, to: 40 }),
  'a record that does not settle': () => v.bandHistory({ samples: ones(300), sampleRate: 100, from: 10, to: 10 }),
  'a record that does not hold a block': () =>
    v.bandHistory({ samples: ones(900), sampleRate: 100, from: 10, to: 12.5, blockDuration: 6 }),
  'levels beyond numbers': () =>
    v.bandHistory({ samples: ones(1000).map((_, n) => 1e200 * Math.sin(n)), sampleRate: 100, from: 10, to: 10 }),
  'bands that no curve limits': () => v.bestCriterion(bands(100)),
  'bands of acceleration': () => v.bestCriterion(bands(10, 'acceleration')),
  'bands that a criterion does not limit': () => v.compareToCriterion(bands(1), own),
  'an edition beside a record': () => v.compareToCriterion(bands(10), own, { edition: '2005' }),
  'a criterion at a frequency of no band': () =>
    v.compareToCriterion(bands(10), { ...own, frequency: [9] as never, velocity: [1] as never }),
  'a criterion without a limit': () => v.compareToCriterion(bands(10), { ...own, velocity: [1] as never }),
  'noise of other bands': () => v.compareToCriterion(bands(10), own, { sensorNoise: bands(20) }),
  'a duration of a maximum': () => v.compareToCriterion(bands(10), own, { duration: 9, statistic: 'maximum' }),
  'a confidence in nothing': () => v.compareToCriterion(bands(10), own, { confidence: 0.9 }),
  'a form of 1991 of what is younger': () => v.criterion('NIST-B', { edition: '1991' }),
  'the same band twice': () =>
    v.bestCriterion({ quantity: 'velocity', bands: ones(2).map((rms) => ({ nominal: 31.5, rms })) }),
  'a label that is none': () => v.bestCriterion(bands(30)),
  'lines of acceleration': () => v.compareLinesToCriterion({ ...floor, quantity: 'acceleration' }, perLine),
  'lines too far apart': () => v.compareLinesToCriterion(lines, perLine),
  'no whole line': () => v.compareLinesToCriterion({ ...floor, frequency: [1, 1.2] }, perLine),
  'corners between two bands': () => v.customCriterion({ frequency: [9, 9.5], velocity: [1, 1] }),
  'corners in two quantities': () => v.customCriterion({ ...corners, acceleration: [1, 1] }),
  'a name that is empty': () => v.customCriterion({ ...corners, name: '' }),
  'a name that is a number': () => v.customCriterion({ ...corners, name: 7 as never }),
  'a crest factor of an rms': () => v.customCriterion({ ...corners, crestFactor: 3 }),
  'a corner without a limit': () => v.customCriterion({ ...corners, velocity: [1] }),
  'a line limit beyond numbers': () => v.lineCriterion({ frequency: [1e6], displacement: [1e305], lineWidth: 1 }),
  'a force as a velocity': () => v.convertSpectrum({ ...floor, quantity: 'force' }, { to: 'velocity' }),
  'nothing above 0 Hz': () =>
    v.convertSpectrum({ quantity: 'velocity', frequency: [0], density: [1] }, { to: 'displacement' }),
  'a displacement beyond numbers': () =>
    v.convertSpectrum({ ...floor, frequency: [1e-99, 1], quantity: 'acceleration' }, { to: 'displacement' }),
  'a value beyond numbers': () => v.decibelsToValue({ decibels: 6000, reference: 1e10 }),
  'a value below numbers': () => v.decibelsToValue({ decibels: -6000, reference: 1e-30 }),
  'nothing to decimate': () => v.decimate({ samples: [], sampleRate: 1, factor: 2 }),
  'an rms beside a spectrum': () => v.expectedPeak({ rms: 1, spectrum: floor, duration: 60 }),
  'a limit without a spectrum': () => v.expectedPeak({ rms: 1, frequency: 1, duration: 60, from: 1 }),
  'a peak of silence': () => v.expectedPeak({ spectrum: { ...floor, density: [0, 0] }, duration: 60 }),
  'a peak of what stands still': () =>
    v.expectedPeak({ spectrum: { ...lines, density: [1, 0, 0, 0, 0] }, duration: 60 }),
  'a peak up to nothing': () => v.expectedPeak({ spectrum: lines, duration: 60, to: 0 }),
  'a peak below what is covered': () => v.expectedPeak({ spectrum: floor, duration: 60, from: 0.5 }),
  'a coherence without a frequency': () => v.feedforwardBound({ frequency: [1, 2], coherence: [1] }),
  'two samples to integrate': () => v.integrate({ samples: [1, 2], sampleRate: 1 }),
  'an integral of displacement': () => v.integrate({ ...taken, quantity: 'displacement' }),
  'a derivative of acceleration': () => v.differentiate({ ...taken, quantity: 'acceleration' }),
  'a derivative of force': () => v.differentiate({ ...taken, quantity: 'force' }),
  'a band in time': () => v.integrate({ ...taken, band: [1, 2] }),
  'no band in frequency': () => v.integrate({ ...taken, method: 'frequency' }),
  'a high-pass in frequency': () => v.integrate({ ...taken, method: 'frequency', band: [1, 2], highPass: 1 }),
  'a band above half the rate': () => v.integrate({ ...taken, method: 'frequency', band: [1, 6] }),
  'a band that ends where it begins': () => v.integrate({ ...taken, method: 'frequency', band: [2, 2] }),
  'a derivative beyond numbers': () => v.differentiate({ samples: [1e308, -1e308, 1e308], sampleRate: 10 }),
  'a band below what is covered': () => v.oneThirdOctaveBands(floor, { from: 1, to: 10 }),
  'a band above what is covered': () => v.oneThirdOctaveBands(lines, { from: 2, to: 5 }),
  'no label between limits': () => v.oneThirdOctaveBands(floor, { from: 10.5, to: 12 }),
  'a gap between bands': () => v.pressureFromLevels({ nominal: [8, 12.5], level: [60, 60] }),
  'a gap in the second place': () => v.pressureFromLevels({ nominal: [8, 10, 16], level: [60, 60, 60] }),
  'no readings': () => v.record({ ...taken, samples: [] }),
  'no reading that is a number': () => v.record({ ...taken, samples: [Number.NaN], missing: 'bridge' }),
  'an instant for no sample': () => v.record({ ...taken, times: [0, 0.1] }),
  'instants of another rate': () => v.record({ ...taken, times: [0, 0.11, 0.22, 0.33] }),
  'readings beyond numbers': () => v.record({ ...taken, samples: [1e300], unit: 1e300 }),
  'a unit of 0': () => v.record({ ...taken, unit: 0 }),
  'a sensitivity of 0': () => v.record({ ...taken, sensitivity: 0 }),
  'one sample of a response': () => v.removeResponse({ ...response, samples: [1] }),
  'a response that is 0 on a line': () => v.removeResponse({ ...response, zeros: silent }),
  'a response that is 0 where it is to be 1': () =>
    v.removeResponse({ ...response, zeros: silent, gain: undefined, unityAt: 2.5 } as never),
  'a pole on the axis': () => v.removeResponse({ ...response, poles: [{ re: -1 }, { re: 0 }] }),
  'a gain of 0 to divide by': () => v.removeResponse({ ...response, gain: 0 }),
  'a complex zero alone': () => v.removeResponse({ ...response, zeros: [{ re: -1 }, { re: -1, im: 2 }] }),
  'a root that is no record': () => v.removeResponse({ ...response, poles: [7] } as never),
  'limits in reverse': () => v.rms(floor, { from: 3, to: 2 }),
  'a limit below what is covered': () => v.rms(floor, { from: 0.5 }),
  'a limit above what is covered': () => v.rms(floor, { to: 101 }),
  'a limit above lines': () => v.rms(lines, { from: 2, to: 5 }),
  'seven samples of no segment': () => v.welch({ samples: ones(7), sampleRate: 1 }),
  'one sample of a segment': () => v.welch({ samples: [1], sampleRate: 1, segmentLength: 2 }),
  'squares beyond numbers': () => v.welch({ samples: [0, 1e200, 0, 0], sampleRate: 1, segmentLength: 4 }),
  'a partner of another length': () => v.crossSpectrum({ x: [1, 2], y: [1], sampleRate: 1 }),
  'one segment of a transfer': () =>
    v.transferEstimate({ input: noise, output: noise, sampleRate: 1, segmentLength: 640 }),
  'a share of no percentile': () => v.bandStatistic(history, { statistic: 'median', exceeded: 10 }),
  'two densities': () => v.spectrum({ ...floor, amplitudeDensity: [1, 1] }),
  'a density without a frequency': () => v.spectrum({ ...floor, density: [1] }),
  'lines on an unequal grid': () => v.spectrum({ ...floor, frequency: [1, 2, 4], density: ones(3), support: 'lines' }),
  'tones of points': () => v.toneLevels(floor),
  'a stream that is not full': () => pushed(ones(5), { sampleRate: 1, segmentLength: 6 }),
  'a stream beyond numbers': () => pushed([0, 1e200, 0, 0], { sampleRate: 1, segmentLength: 4 }),
}

describe('what vibration refuses', () => {
  const functions = Object.entries(v).filter(
    ([name, value]) => typeof value === 'function' && name !== 'IsolationError',
  )

  it.each(functions)('%s has to be called with something, and says so by its own name', (name, call) => {
    expect(refusal(call as () => unknown).details.function).toBe(name)
  })

  it('is said in words, with what is allowed', async () => {
    const said = Object.entries(refused).map(([name, call]) => {
      const { code, message, details } = refusal(call)
      const { function: _, path: __, ...more } = details
      return `${name}\n  ${code} ${message}\n  ${JSON.stringify(more)}`
    })
    await expect(`${said.join('\n')}\n`).toMatchFileSnapshot('options/refused-in-words.txt')
  })
})
