import type { ModelComparison } from '../assessment/compare-to-model.js'
import type { IsolatorFit } from '../assessment/fit-isolator.js'
import type { RigidBodyMotion } from '../assessment/rigid-body-motion.js'
import type { SideBySideNoise } from '../assessment/side-by-side-noise.js'
import type { SmallestTransmissibility } from '../assessment/smallest-transmissibility.js'
import { within } from '../internal/check.js'
import type { RecordShapeFor } from './shape.js'
import { sameLength } from './system-shapes.js'

const range = { tuple: ['number', 'number'] } as const

export const isolatorFitShape: RecordShapeFor<IsolatorFit> = {
  fields: {
    model: { oneOf: ['viscous', 'relaxation', 'activelyDamped', 'custom'] },
    naturalFrequency: { nullable: 'number' },
    dampingRatio: { nullable: 'number' },
    stiffnessRatio: { nullable: 'number' },
    activeDampingRatio: { nullable: 'number' },
    confidence: { map: { fields: { value: 'number', relativeError: 'number', from: 'number', to: 'number' } } },
    confidenceLevel: 'number',
    residuals: { kind: ['ComplexSeries'] },
    scatter: 'number',
    judged: range,
  },
}

export const modelComparisonShape: RecordShapeFor<ModelComparison> = {
  fields: {
    verdict: { oneOf: ['agrees', 'departs', 'undecided'] },
    departures: {
      list: {
        fields: {
          from: 'number',
          to: 'number',
          worst: 'number',
          deviation: 'number',
          measured: 'number',
          predicted: 'number',
        },
      },
    },
    frequency: 'grid',
    deviations: 'series',
    limit: 'number',
    scatter: 'number',
    provableShare: 'number',
  },
  lengths: { deviations: ['frequency'] },
}

const axes = {
  fields: {
    x: { optional: 'series' },
    y: { optional: 'series' },
    z: { optional: 'series' },
    rotationX: { optional: 'series' },
    rotationY: { optional: 'series' },
    rotationZ: { optional: 'series' },
  },
} as const

export const rigidBodyMotionShape: RecordShapeFor<RigidBodyMotion> = {
  fields: {
    motion: axes,
    noiseGain: {
      fields: {
        x: { optional: 'number' },
        y: { optional: 'number' },
        z: { optional: 'number' },
        rotationX: { optional: 'number' },
        rotationY: { optional: 'number' },
        rotationZ: { optional: 'number' },
      },
    },
    misfit: { list: 'number' },
  },
}

export const sideBySideNoiseShape: RecordShapeFor<SideBySideNoise> = {
  fields: {
    first: { kind: ['Spectrum'] },
    second: { kind: ['Spectrum'] },
    relativeError: 'series',
    ratio: 'series',
    coherence: 'series',
  },
  check: (scope, { first, second, relativeError, ratio, coherence }) => {
    sameLength(within(scope, 'second'), first.frequency, { density: second.density }, 'first')
    sameLength(scope, first.frequency, { relativeError, ratio, coherence }, 'first')
  },
}

export const smallestTransmissibilityShape: RecordShapeFor<SmallestTransmissibility> = {
  fields: { frequency: 'grid', transmissibility: 'unboundedSeries', significantCoherence: 'number' },
  lengths: { transmissibility: ['frequency'] },
}
