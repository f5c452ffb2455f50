import { checkBandHistory } from '../vibration/band-statistic.js'
import { checkBands } from '../vibration/check.js'
import type { ExpectedPeak } from '../vibration/expected-peak.js'
import { statistics } from '../vibration/level-statistics.js'
import { checkSpectrogram } from '../vibration/spectrum-statistic.js'
import type { BandHistory, Spectrogram } from '../vibration/time-statistics-types.js'
import type { Bands } from '../vibration/types.js'
import type { RecordShapeFor } from './shape.js'
import { estimation, quantity } from './vibration-shapes.js'

export const bandsShape: RecordShapeFor<Bands> = {
  fields: {
    quantity,
    bands: {
      list: {
        fields: {
          nominal: 'number',
          centre: 'number',
          lower: 'number',
          upper: 'number',
          rms: 'number',
          lines: { nullable: 'number' },
          degreesOfFreedom: { nullable: 'number' },
          flags: { list: 'text' },
        },
      },
    },
    statistic: { optional: { oneOf: statistics } },
    exceeded: { optional: 'number' },
  },
  check: checkBands,
}

export const spectrogramShape: RecordShapeFor<Spectrogram> = {
  fields: {
    quantity,
    time: 'grid',
    frequency: 'grid',
    density: 'series',
    ...estimation,
    blockDuration: 'number',
    medianBias: 'number',
  },
  lengths: { density: ['time', 'frequency'] },
  check: checkSpectrogram,
}

export const bandHistoryShape: RecordShapeFor<BandHistory> = {
  fields: {
    quantity,
    bands: {
      list: {
        fields: {
          nominal: 'number',
          centre: 'number',
          lower: 'number',
          upper: 'number',
          lines: { nullable: 'number' },
          delay: 'number',
          degreesOfFreedom: 'number',
          medianBias: 'number',
        },
      },
    },
    time: 'grid',
    rms: 'series',
    blockDuration: 'number',
    timeConstant: { nullable: 'number' },
    skipped: 'number',
  },
  lengths: { rms: ['time', 'bands'] },
  check: checkBandHistory,
}

export const expectedPeakShape: RecordShapeFor<ExpectedPeak> = {
  fields: {
    peak: 'number',
    peakFactor: 'number',
    lower: 'number',
    upper: 'number',
    confidence: 'number',
    rms: 'number',
    frequency: 'number',
    cycles: 'number',
  },
}
