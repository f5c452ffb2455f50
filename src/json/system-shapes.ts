import { checkSystem } from '../systems/check.js'
import type { Diagram } from '../systems/diagram.js'
import { layOut } from '../systems/diagram-layout.js'
import type {
  ComplexSeries,
  FrequencyResponse,
  Margins,
  Stability,
  StabilityVerdict,
  StateSpace,
} from '../systems/types.js'
import type { RecordShapeFor } from './shape.js'

const matrix = { list: { list: 'number' } } as const
const texts = { list: 'text' } as const
const verdict: { readonly oneOf: readonly StabilityVerdict[] } = { oneOf: ['stable', 'marginal', 'unstable'] }

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
    role: { optional: { oneOf: ['inertialSensor', 'relativeSensor', 'controller', 'actuator', 'valve'] } },
  },
  check: checkSystem,
}

export const diagramShape: RecordShapeFor<Diagram> = {
  fields: {
    blocks: { map: { kind: ['StateSpace'] } },
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
  fields: { inputs: texts, outputs: texts, frequency: 'grid', re: 'series', im: 'series' },
  lengths: { re: ['outputs', 'inputs', 'frequency'], im: ['outputs', 'inputs', 'frequency'] },
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
