import { checkSpectrum } from '../vibration/check.js'
import { checkLineCriterion } from '../vibration/compare-lines-to-criterion.js'
import { checkCriterion } from '../vibration/compare-to-criterion.js'
import { conventions } from '../vibration/criterion.js'
import type {
  BandRatio,
  Criterion,
  CriterionComparison,
  CriterionEdition,
  LineCriterion,
} from '../vibration/criterion-types.js'
import type { LevelConfidence } from '../vibration/level-confidence.js'
import { statistics } from '../vibration/level-statistics.js'
import type { VibrationRecord } from '../vibration/record-types.js'
import type { CrossSpectrum, Detrend, Quantity, Spectrum, TransferEstimate, WindowName } from '../vibration/types.js'
import { detrends, windowNames } from '../vibration/window-values.js'
import type { FieldsFor, RecordShapeFor } from './shape.js'

/** Names of what is measured. */
export const quantity: { readonly oneOf: readonly Quantity[] } = {
  oneOf: ['acceleration', 'velocity', 'displacement', 'force', 'pressure', 'rotation', 'unspecified'],
}
const edition: { readonly nullable: { readonly oneOf: readonly CriterionEdition[] } } = {
  nullable: { oneOf: ['2005', '1991'] },
}
const window: { readonly oneOf: readonly WindowName[] } = { oneOf: windowNames }
const detrend: { readonly oneOf: readonly Detrend[] } = { oneOf: detrends }

export const spectrumShape: RecordShapeFor<Spectrum> = {
  fields: {
    quantity,
    frequency: 'grid',
    density: 'series',
    support: { oneOf: ['lines', 'points'] },
    segmentLength: { optional: 'number' },
    overlap: { optional: 'number' },
    window: { optional: window },
    detrend: { optional: detrend },
    averages: { optional: 'number' },
    effectiveAverages: { optional: 'number' },
    noiseBandwidth: { optional: 'number' },
    average: { optional: { oneOf: ['mean', 'median', 'percentile', 'maximum'] } },
    exceeded: { optional: 'number' },
  },
  check: checkSpectrum,
}

export const vibrationRecordShape: RecordShapeFor<VibrationRecord> = {
  fields: {
    samples: 'series',
    sampleRate: 'number',
    quantity,
    findings: {
      list: {
        fields: {
          check: { oneOf: ['gap', 'missing', 'clipping', 'dead', 'stuck-bit', 'impossible'] },
          count: 'number',
          first: 'number',
          says: 'text',
        },
      },
    },
    removed: { optional: { fields: { constant: 'number', slope: 'number' } } },
  },
}

export const criterionShape: RecordShapeFor<Criterion> = {
  fields: {
    name: 'text',
    edition,
    convention: { optional: { oneOf: conventions } },
    frequency: 'grid',
    velocity: 'series',
  },
  check: checkCriterion,
}

export const lineCriterionShape: RecordShapeFor<LineCriterion> = {
  fields: { name: 'text', lineWidth: 'number', frequency: 'grid', velocity: 'series' },
  check: checkLineCriterion,
}

export const levelConfidenceShape: RecordShapeFor<LevelConfidence> = {
  fields: {
    degreesOfFreedom: 'number',
    standardDeviationDecibels: 'number',
    lower: 'number',
    upper: 'number',
    confidence: 'number',
  },
}

const bandRatio: { readonly fields: FieldsFor<BandRatio> } = {
  fields: { nominal: 'number', rms: 'number', limit: 'number', ratio: 'number' },
}

export const criterionComparisonShape: RecordShapeFor<CriterionComparison> = {
  fields: {
    criterion: 'text',
    edition,
    verdict: { oneOf: ['pass', 'fail', 'undecided'] },
    worst: bandRatio,
    marginDecibels: 'unboundedNumber',
    ratios: { list: bandRatio },
    doubts: {
      list: {
        fields: {
          nominal: 'number',
          atLeast: 'number',
          atMost: 'unboundedNumber',
          causes: { list: 'text' },
        },
      },
    },
    judged: { tuple: ['number', 'number'] },
    statistic: { oneOf: statistics },
    exceeded: { optional: 'number' },
    missing: { list: 'number' },
  },
}

type EstimationKey =
  | 'segmentLength'
  | 'overlap'
  | 'window'
  | 'detrend'
  | 'averages'
  | 'effectiveAverages'
  | 'noiseBandwidth'

/** What an average over segments says about itself. */
export const estimation: Pick<FieldsFor<CrossSpectrum>, EstimationKey> = {
  segmentLength: 'number',
  overlap: 'number',
  window,
  detrend,
  averages: 'number',
  effectiveAverages: 'number',
  noiseBandwidth: 'number',
}

export const crossSpectrumShape: RecordShapeFor<CrossSpectrum> = {
  fields: {
    frequency: 'grid',
    re: 'series',
    im: 'series',
    xDensity: 'series',
    yDensity: 'series',
    coherence: 'series',
    ...estimation,
  },
  lengths: {
    re: ['frequency'],
    im: ['frequency'],
    xDensity: ['frequency'],
    yDensity: ['frequency'],
    coherence: ['frequency'],
  },
}

export const transferEstimateShape: RecordShapeFor<TransferEstimate> = {
  fields: {
    frequency: 'grid',
    re: 'series',
    im: 'series',
    coherence: 'series',
    randomError: 'unboundedSeries',
    h2: 'unboundedSeries',
    coherenceError: 'series',
    coherenceBias: 'series',
    significantCoherence: 'number',
    undefinedLines: { list: 'number' },
    inputDensity: 'series',
    outputDensity: 'series',
    ...estimation,
  },
  lengths: {
    re: ['frequency'],
    im: ['frequency'],
    coherence: ['frequency'],
    randomError: ['frequency'],
    h2: ['frequency'],
    coherenceError: ['frequency'],
    coherenceBias: ['frequency'],
    inputDensity: ['frequency'],
    outputDensity: ['frequency'],
  },
}
