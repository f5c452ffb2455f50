import { within } from '../internal/check.js'
import { checkPortsOfModel } from '../isolation/check-model.js'
import type { ControlElements } from '../isolation/control-elements.js'
import type { IsolationSummary } from '../isolation/isolation-summary.js'
import type { LoopMargins } from '../isolation/loop-margins.js'
import type { MobilityModes } from '../isolation/mobility-modes.js'
import { type Concept, concepts, type IsolationModel } from '../isolation/model.js'
import type { LimitedSimulation } from '../isolation/simulate-with-limits.js'
import { noiseShape } from './element-shapes.js'
import type { FieldsFor, RecordShapeFor } from './shape.js'
import { sameLength } from './system-shapes.js'

export const conceptShape: { readonly oneOf: readonly Concept[] } = {
  oneOf: concepts,
}

export const isolationModelShape: RecordShapeFor<IsolationModel> = {
  fields: {
    concept: conceptShape,
    diagram: { kind: ['Diagram'], without: 'Diagram' },
    closed: { kind: ['StateSpace'] },
    loops: { list: { fields: { name: 'text', port: 'text' } } },
    noiseSources: { list: { fields: { input: 'text', unit: { oneOf: ['m/s', 'N', 'm'] }, noise: noiseShape } } },
    limits: {
      list: {
        fields: {
          name: 'text',
          output: { nullable: 'text' },
          of: { optional: { oneOf: ['value', 'rate', 'rms'] } },
          value: 'number',
          unit: 'text',
        },
      },
    },
  },
  check: checkPortsOfModel,
}

export const isolationSummaryShape: RecordShapeFor<IsolationSummary> = {
  fields: {
    peak: 'unboundedNumber',
    peakFrequency: 'number',
    resonances: { list: { fields: { frequency: 'number', amplification: 'unboundedNumber' } } },
    isolationFrom: { nullable: 'number' },
    isolatedIntervals: { list: { tuple: ['number', 'unboundedNumber'] } },
  },
}

export const loopMarginsShape: { readonly fields: FieldsFor<LoopMargins> } = {
  fields: { name: 'text', port: 'text', margins: { kind: ['Margins'] } },
}

export const controlElementsShape: RecordShapeFor<ControlElements> = {
  fields: {
    inertialSensor: 'truth',
    controlLoop: 'truth',
    actuator: 'truth',
    active: 'truth',
    reasons: { list: 'text' },
  },
}

export const mobilityModesShape: RecordShapeFor<MobilityModes> = {
  fields: {
    modes: {
      list: {
        fields: {
          modalMass: 'number',
          naturalFrequency: 'number',
          dampingRatio: 'number',
          neighbourShape: { optional: 'number' },
        },
      },
    },
    residual: 'number',
  },
}

export const limitedSimulationShape: RecordShapeFor<LimitedSimulation> = {
  fields: {
    time: 'series',
    outputs: { map: 'series' },
    wanted: { map: 'series' },
    peaks: { map: 'number' },
    limited: {
      list: { fields: { output: 'text', bound: { oneOf: ['value', 'rate'] }, from: 'number', to: 'number' } },
    },
    verdict: { oneOf: ['free', 'recovered', 'limited', 'lost'] },
    evidence: { oneOf: ['proof', 'record'] },
    recoveredAt: { nullable: 'number' },
    lostAt: { nullable: 'number' },
    padeOrder: { nullable: 'number' },
    cautions: { list: 'text' },
  },
  check: (scope, { time, outputs, wanted }) => {
    sameLength(within(scope, 'outputs'), time, outputs)
    sameLength(within(scope, 'wanted'), time, wanted)
  },
}
