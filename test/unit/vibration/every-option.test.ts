import * as vibration from '../../../src/vibration/index.js'
import { everyOption } from '../every-option.js'

const ones = (length: number) => new Array<number>(length).fill(1)
const grid = [8, 9, 10, 11, 12, 13]
const floor = { quantity: 'velocity', frequency: grid, density: ones(6), support: 'lines' }
const estimation = {
  segmentLength: 16,
  overlap: 0.5,
  window: 'hann',
  detrend: 'mean',
  averages: 7,
  effectiveAverages: 6.6,
  noiseBandwidth: 1.5,
}
const estimated = { kind: 'Spectrum', ...floor, ...estimation, average: 'percentile', exceeded: 10 }
const band = { nominal: 10, centre: 10, lower: 8.9, upper: 11.2, rms: 1e-6, lines: 2.3, degreesOfFreedom: 9 }
const bands = { quantity: 'velocity', bands: [{ ...band, flags: ['few-lines'] }], statistic: 'percentile', exceeded: 5 }
const history = {
  kind: 'BandHistory',
  quantity: 'velocity',
  bands: [
    { nominal: 10, centre: 10, lower: 8.9, upper: 11.2, lines: 2.3, delay: 0, degreesOfFreedom: 9, medianBias: 0.9 },
  ],
  time: [0.5, 1.5],
  rms: [1, 2],
  blockDuration: 1,
  timeConstant: null,
  skipped: 0,
}
const blocks = {
  kind: 'Spectrogram',
  ...floor,
  ...estimation,
  density: ones(12),
  time: [0.5, 1.5],
  blockDuration: 1,
  medianBias: 0.9,
}
const corners = { frequency: [8, 80], velocity: [1e-6, 1e-6] }
const curve = { kind: 'Criterion', name: 'own', edition: '2005', convention: 'inch', frequency: [10], velocity: [1e-6] }
const lines = { kind: 'LineCriterion', name: 'own', lineWidth: 4, ...corners }
const samples = [1, 2, 3, 4, 5, 6, 5, 4]
const taken = { samples, sampleRate: 10, quantity: 'velocity' }
const segments = { sampleRate: 10, segmentLength: 4, overlap: 0.5, window: 'hann', detrend: 'mean' }
const conjugates = [
  { re: -1, im: 2 },
  { re: -1, im: -2 },
]
const moved = { ...taken, detrend: 'linear', method: 'frequency', band: [1, 2] }
const banded = { sampleRate: 100, quantity: 'velocity', from: 10, to: 12.5, blockDuration: 1, timeConstant: 1 }

// Forms of a call that no documented example shows, all of their options at once, and every field of the records that a
// function reads.
everyOption(
  vibration,
  'vibration',
  {
    bandHistory: [[{ samples: ones(2000), ...banded }]],
    bandStream: [[banded]],
    bestCriterion: [[bands, { edition: '2005', convention: 'inch' }]],
    compareToCriterion: [[bands, 'VC-D', { sensorNoise: { ...bands, statistic: 'average' } }]],
    crossSpectrum: [[{ x: samples, y: samples, ...segments }]],
    customCriterion: [[{ ...corners, statistic: 'peak', crestFactor: 3, name: 'own' }]],
    decimate: [[{ ...taken, factor: 2, cutoff: 1 }]],
    differentiate: [[moved]],
    expectedPeak: [[{ spectrum: floor, from: 8, to: 13, duration: 60, sign: 'one', confidence: 0.9 }]],
    integrate: [[moved], [{ ...taken, highPass: 1 }]],
    lineCriterion: [[{ frequency: [8], acceleration: [1e-6], statistic: 'peak', crestFactor: 3, lineWidth: 1 }]],
    record: [
      [{ ...taken, unit: 1, fullScale: 9, plausible: 9, times: samples.map((_, n) => n / 10), missing: 'refuse' }],
    ],
    removeResponse: [
      [{ ...taken, zeros: conjugates, poles: conjugates, unityAt: 1, lowerCorner: 1, detrend: 'linear' }],
    ],
    resolutionBias: [[{ naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 40, window: 'hann' }]],
    soundPressureForce: [
      [
        { ...floor, quantity: 'pressure' },
        { area: 1, faces: 'both-faces', depth: 1, speedOfSound: 343 },
      ],
    ],
    spectrogram: [[{ ...taken, ...segments, blockDuration: 0.4 }]],
    transferEstimate: [[{ input: samples, output: samples, ...segments }]],
    welch: [[{ ...taken, ...segments, average: 'median' }]],
  },
  {
    bandStatistic: [[history, { statistic: 'percentile', exceeded: 10 }]],
    compareLinesToCriterion: [[floor, lines]],
    compareToCriterion: [
      [bands, curve],
      [
        { kind: 'Bands', ...bands, statistic: 'average' },
        'VC-D',
        { duration: 60, confidence: 0.9, statistic: 'average' },
      ],
    ],
    rms: [[estimated, { from: 8, to: 13 }]],
    spectrogramBands: [[blocks, { from: 10, to: 10 }]],
    spectrumStatistic: [[blocks, { statistic: 'percentile', exceeded: 10 }]],
  },
)
