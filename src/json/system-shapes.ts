import { fail, type Scope, within } from '../internal/check.js'
import { blockRoles, checkDiscreteSystem, checkSystem } from '../systems/check.js'
import type { Diagram } from '../systems/diagram.js'
import { layOut } from '../systems/diagram-layout.js'
import type { GainLimits } from '../systems/gain-limits.js'
import type { HInfinityNorm } from '../systems/h-infinity-norm.js'
import { checkMechanicalSystem } from '../systems/mechanical-system.js'
import type { MinimalForm } from '../systems/minimal-form.js'
import type { SampleRateLimit } from '../systems/minimum-sample-rate.js'
import type { QuantizedSections } from '../systems/quantized-sections.js'
import type { RobustStability } from '../systems/robust-stability.js'
import type { Simulation } from '../systems/simulate.js'
import type { SimultaneousMargin } from '../systems/simultaneous-margin.js'
import type {
  ComplexSeries,
  DiscreteStateSpace,
  FrequencyResponse,
  Margins,
  MechanicalSystem,
  Stability,
  StabilityVerdict,
  StateSpace,
} from '../systems/types.js'
import type { RecordShapeFor } from './shape.js'

const matrix = { list: { list: 'number' } } as const
const texts = { list: 'text' } as const
const verdict: { readonly oneOf: readonly StabilityVerdict[] } = { oneOf: ['stable', 'marginal', 'unstable'] }

const role = { optional: { oneOf: blockRoles } } as const

export const stateSpaceShape: RecordShapeFor<StateSpace> = {
  fields: {
    A: matrix,
    B: matrix,
    C: matrix,
    D: matrix,
    inputs: texts,
    outputs: texts,
    states: texts,
    delays: {
      nullable: {
        fields: { seconds: { list: 'number' }, B: matrix, C: matrix, D12: matrix, D21: matrix, D22: matrix },
      },
    },
    role,
  },
  check: checkSystem,
}

export const discreteStateSpaceShape: RecordShapeFor<DiscreteStateSpace> = {
  fields: {
    A: matrix,
    B: matrix,
    C: matrix,
    D: matrix,
    inputs: texts,
    outputs: texts,
    states: texts,
    sampleTime: 'number',
  },
  check: checkDiscreteSystem,
}

export const mechanicalSystemShape: RecordShapeFor<MechanicalSystem> = {
  fields: {
    mass: matrix,
    damping: matrix,
    stiffness: matrix,
    forces: matrix,
    displacements: matrix,
    velocities: matrix,
    accelerations: matrix,
    inputs: texts,
    outputs: texts,
    role,
  },
  check: checkMechanicalSystem,
}

export const diagramShape: RecordShapeFor<Diagram> = {
  fields: {
    blocks: { map: { kind: ['StateSpace', 'MechanicalSystem'] } },
    inputs: texts,
    outputs: { map: 'wire' },
    wires: { map: 'wire' },
  },
  check: layOut,
}

export const complexSeriesShape: RecordShapeFor<ComplexSeries> = {
  fields: { frequency: 'grid', re: 'series', im: 'series' },
  lengths: { re: ['frequency'], im: ['frequency'] },
}

export const frequencyResponseShape: RecordShapeFor<FrequencyResponse> = {
  fields: {
    inputs: texts,
    outputs: texts,
    frequency: 'grid',
    re: 'series',
    im: 'series',
    errorBound: { optional: 'unboundedSeries' },
  },
  lengths: {
    re: ['outputs', 'inputs', 'frequency'],
    im: ['outputs', 'inputs', 'frequency'],
    errorBound: ['outputs', 'inputs', 'frequency'],
  },
}

export const stabilityShape: RecordShapeFor<Stability> = {
  fields: { verdict, unstablePoles: 'number', abscissa: { nullable: 'number' } },
}

export const marginsShape: RecordShapeFor<Margins> = {
  fields: {
    closedLoop: verdict,
    gainMargin: { nullable: 'number' },
    gainReductionMargin: { nullable: 'number' },
    phaseMarginDegrees: { nullable: 'number' },
    modulusMargin: 'number',
    modulusMarginFrequency: 'unboundedNumber',
    delayMargin: { nullable: 'number' },
    gainCrossovers: {
      list: { fields: { frequency: 'number', phaseMarginDegrees: 'number', delayMargin: 'number' } },
    },
    phaseCrossovers: { list: { fields: { frequency: 'number', gainMargin: 'number' } } },
  },
}

export const gainLimitsShape: RecordShapeFor<GainLimits> = {
  fields: {
    closedLoop: verdict,
    stable: {
      list: {
        fields: {
          from: 'number',
          to: 'unboundedNumber',
          fromFrequency: { nullable: 'unboundedNumber' },
          toFrequency: { nullable: 'unboundedNumber' },
        },
      },
    },
    diagnosis: 'text',
  },
}

export const robustStabilityShape: RecordShapeFor<RobustStability> = {
  fields: {
    verdict: { oneOf: ['proven', 'counterexample', 'undecided'] },
    counterexample: { nullable: { map: 'number' } },
    provenShare: 'number',
    parts: 'number',
    powers: { map: 'number' },
    worst: { nullable: { fields: { parameters: { map: 'number' }, abscissa: 'number' } } },
    reason: { nullable: 'text' },
  },
}

export const simultaneousMarginShape: RecordShapeFor<SimultaneousMargin> = {
  fields: {
    closedLoop: verdict,
    ports: { list: 'text' },
    diskMargin: { nullable: 'number' },
    frequency: { nullable: 'number' },
    provenDiskMargin: { nullable: 'number' },
    gainMargin: { nullable: 'number' },
    gainReductionMargin: { nullable: 'number' },
    phaseMarginDegrees: { nullable: 'number' },
    delayMargin: { nullable: 'number' },
  },
}

export const hInfinityNormShape: RecordShapeFor<HInfinityNorm> = {
  fields: { norm: 'number', frequency: 'unboundedNumber' },
}

export const minimalFormShape: RecordShapeFor<MinimalForm> = {
  fields: {
    system: { kind: ['StateSpace', 'DiscreteStateSpace'] },
    removed: { fields: { uncontrollable: 'number', unobservable: 'number' } },
  },
}

export const simulationShape: RecordShapeFor<Simulation> = {
  fields: { time: 'series', outputs: { map: 'series' }, finalState: 'series' },
  check: (scope, { time, outputs }) => sameLength(within(scope, 'outputs'), time, outputs),
}

/** Whether every series has one entry per time, or per entry of another grid. */
export function sameLength(
  scope: Scope,
  grid: Float64Array,
  series: Readonly<Record<string, Float64Array>>,
  like = 'time',
): void {
  for (const [name, { length }] of Object.entries(series)) {
    if (length === grid.length) continue
    fail('dimension-mismatch', within(scope, name), `must have ${grid.length} entries like ${like}, got ${length}`)
  }
}

const triple = { tuple: ['number', 'number', 'number'] } as const

export const quantizedSectionsShape: RecordShapeFor<QuantizedSections> = {
  fields: {
    sections: { list: { fields: { b: triple, a: triple } } },
    precision: { oneOf: ['double', 'single', 'fixed'] },
    fixedPoint: { nullable: { fields: { integerBits: 'number', fractionBits: 'number' } } },
    stable: 'truth',
    responseError: 'number',
    responseErrorFrequency: 'number',
    staticGainError: { nullable: 'number' },
  },
}

export const sampleRateLimitShape: RecordShapeFor<SampleRateLimit> = {
  fields: {
    sampleRate: { nullable: 'number' },
    verdict: { oneOf: ['limited', 'kept', 'lost'] },
    modulusMargin: 'number',
    marginAtHighest: 'number',
  },
}
