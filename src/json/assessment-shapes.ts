import type { ActuatorEffort } from '../assessment/actuator-effort.js'
import type { Assessment } from '../assessment/assess.js'
import type { ConceptComparison } from '../assessment/compare-concepts.js'
import type { AxisAssessment } from '../assessment/judge-axis.js'
import type { MoveSettling } from '../assessment/move-and-settle.js'
import type { NoiseBudget } from '../assessment/noise-budget.js'
import type { OptimumFeedforward } from '../assessment/optimum-feedforward.js'
import type { SweepResult } from '../assessment/sweep.js'
import type { ToleranceStudy } from '../assessment/tolerance-study.js'
import type { Tuning } from '../assessment/tuning.js'
import { conceptShape, loopMarginsShape } from './isolation-shapes.js'
import type { FieldsFor, RecordShapeFor } from './shape.js'

const texts = { list: 'text' } as const
const verdict = { oneOf: ['pass', 'fail', 'undecided'] } as const

const axis = { nullable: { oneOf: ['x', 'y', 'z'] } } as const
const span = { tuple: ['number', 'number'] } as const

/** What a move comes to, without its record in time. */
const settled = {
  settlingTime: { nullable: 'number' },
  settlingTimeFromStart: { nullable: 'number' },
  moveTime: 'number',
  band: 'number',
  padeOrder: { nullable: 'number' },
  axis,
  restsAt: 'number',
  peakDisplacement: 'number',
  peakStretch: 'number',
  peakForce: { nullable: 'number' },
  peakExpansion: { nullable: 'number' },
  peakFloorForce: 'number',
} as const

const axisFields: FieldsFor<AxisAssessment> = {
  axis,
  floorBands: { kind: ['Bands'] },
  floor: { kind: ['CriterionComparison'] },
  bands: { nullable: { kind: ['Bands'] } },
  payload: { nullable: { kind: ['CriterionComparison'] } },
  rms: { nullable: 'number' },
  worseThanFloor: { list: span },
  noise: { nullable: { kind: ['NoiseBudget'] } },
  transmissibility: { kind: ['IsolationSummary'] },
  staticCompliance: { nullable: 'number' },
  peakCompliance: { nullable: { fields: { value: 'unboundedNumber', frequency: 'number' } } },
  floorForce: { nullable: 'number' },
  neighbourBands: { nullable: { kind: ['Bands'] } },
}

const effortList = {
  list: {
    fields: {
      name: 'text',
      output: 'text',
      of: { oneOf: ['value', 'rate', 'rms'] },
      rms: { nullable: 'number' },
      inRecord: { nullable: 'unboundedNumber' },
      inMoves: { nullable: 'unboundedNumber' },
      peak: 'unboundedNumber',
      limit: { nullable: 'number' },
      headroom: { nullable: 'unboundedNumber' },
      unit: 'text',
    },
  },
} as const

export const actuatorEffortShape: RecordShapeFor<ActuatorEffort> = {
  fields: {
    efforts: effortList,
    heat: {
      list: {
        fields: {
          output: 'text',
          steady: { nullable: 'number' },
          inRecord: { nullable: 'number' },
          inMoves: { nullable: 'number' },
          mean: 'number',
          peak: 'number',
          limit: { nullable: 'number' },
          headroom: { nullable: 'unboundedNumber' },
        },
      },
    },
    tightest: { nullable: 'text' },
    padeOrder: { nullable: 'number' },
    cautions: texts,
  },
}

export const assessmentShape: RecordShapeFor<Assessment> = {
  fields: {
    ...axisFields,
    concept: conceptShape,
    verdict,
    reasons: texts,
    stability: { kind: ['Stability'] },
    otherAxes: { list: { fields: axisFields } },
    loops: { list: loopMarginsShape },
    allLoops: { nullable: { kind: ['SimultaneousMargin'] } },
    effort: effortList,
    settling: {
      list: { fields: { ...settled, within: { nullable: 'number' }, verdict: { oneOf: ['pass', 'fail'] } } },
    },
    tolerance: {
      nullable: {
        fields: {
          of: 'text',
          exposure: { nullable: 'number' },
          measure: { oneOf: ['rms', 'peak'] },
          motion: { list: { fields: { axis, value: 'number' } } },
          limit: 'number',
          ratio: 'number',
          range: span,
        },
      },
    },
    cautions: texts,
  },
}

export const conceptComparisonShape: RecordShapeFor<ConceptComparison> = {
  fields: {
    ranking: texts,
    simplestThatPasses: { nullable: 'text' },
    simplestWithMargin: { nullable: 'text' },
    table: {
      list: {
        fields: {
          name: 'text',
          concept: conceptShape,
          verdict,
          worstRatio: { nullable: 'number' },
          worstBand: { nullable: 'number' },
          marginDecibels: { nullable: 'unboundedNumber' },
          peak: 'unboundedNumber',
          isolationFrom: { nullable: 'number' },
          modulusMargin: { nullable: 'number' },
          active: 'truth',
          activeBand: { list: { tuple: ['number', 'unboundedNumber'] } },
          cost: { nullable: 'number' },
          changes: {
            list: {
              fields: {
                parameter: 'text',
                factor: { nullable: 'number' },
                peakFrequency: { nullable: 'number' },
                says: 'text',
              },
            },
          },
          reason: 'text',
          assessment: { kind: ['Assessment'] },
        },
      },
    },
  },
}

export const sweepResultShape: RecordShapeFor<SweepResult> = {
  fields: {
    total: 'number',
    rows: {
      list: {
        fields: {
          index: 'number',
          parameters: { map: 'given' },
          result: { nullable: { map: 'given' } },
          error: { nullable: { fields: { code: { nullable: 'text' }, message: 'text' } } },
        },
      },
    },
    failed: 'number',
  },
}

const numbersByName = { map: 'number' } as const
const trial = {
  fields: { parameters: numbersByName, pass: 'truth', values: { map: 'unboundedNumber' }, error: { nullable: 'text' } },
} as const

export const toleranceStudyShape: RecordShapeFor<ToleranceStudy> = {
  fields: {
    nominal: trial,
    yield: { fields: { passed: 'number', samples: 'number', share: 'number', low: 'number', high: 'number' } },
    corners: { fields: { tried: 'number', failing: { list: trial } } },
    values: {
      map: {
        fields: {
          least: 'unboundedNumber',
          largest: 'unboundedNumber',
          atLeast: numbersByName,
          atLargest: numbersByName,
        },
      },
    },
    envelope: {
      nullable: {
        fields: { frequency: 'grid', nominal: 'unboundedSeries', low: 'unboundedSeries', high: 'unboundedSeries' },
        lengths: { nominal: ['frequency'], low: ['frequency'], high: ['frequency'] },
      },
    },
    influence: { map: { list: { fields: { parameter: 'text', correlation: 'number' } } } },
    failures: { list: trial },
    stability: { nullable: { kind: ['RobustStability'] } },
  },
}

export const optimumFeedforwardShape: RecordShapeFor<OptimumFeedforward> = {
  fields: { frequency: 'grid', match: 'series', residual: 'series', coherence: 'series' },
  lengths: { match: ['frequency'], residual: ['frequency'], coherence: ['frequency'] },
}

export const tuningShape: RecordShapeFor<Tuning> = {
  fields: {
    parameters: { nullable: { map: 'number' } },
    outcome: { nullable: { map: 'number' } },
    limitedBy: { nullable: 'text' },
    reason: 'text',
    tried: {
      list: {
        fields: {
          parameters: { map: 'number' },
          objective: { nullable: 'unboundedNumber' },
          modulusMargin: { nullable: 'number' },
          feasible: 'truth',
        },
      },
    },
  },
}

export const noiseBudgetShape: RecordShapeFor<NoiseBudget> = {
  fields: {
    total: { kind: ['Spectrum'] },
    contributions: { map: { kind: ['Spectrum'] } },
    runningRms: { fields: { total: 'series', contributions: { map: 'series' } } },
    unknown: texts,
    worseThanPassive: { list: span },
  },
}

export const moveSettlingShape: RecordShapeFor<MoveSettling> = {
  fields: { ...settled, time: 'grid', displacement: 'series', stretch: 'series' },
  lengths: { displacement: ['time'], stretch: ['time'] },
}
