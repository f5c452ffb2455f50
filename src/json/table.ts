import {
  airSpringForceShape,
  flowResistanceShape,
  levellingConsumptionShape,
  orificeFlowShape,
} from './air-spring-shapes.js'
import {
  assessmentShape,
  conceptComparisonShape,
  moveSettlingShape,
  noiseBudgetShape,
  optimumFeedforwardShape,
  sweepResultShape,
  toleranceStudyShape,
  tuningShape,
} from './assessment-shapes.js'
import {
  actuatorShape,
  airSpringShape,
  elastomerMountShape,
  levellingValveShape,
  motionProfileShape,
  mountLiteralShape,
  mountShape,
  optimalRelaxationShape,
  rigidPayloadShape,
  sampledMotionShape,
  sensorShape,
  tunedMassDamperShape,
} from './element-shapes.js'
import { errorRecordShape } from './error-shape.js'
import {
  controlElementsShape,controlElementsShape, 
  isolationModelShape,isolationModelShape, 
  isolationSummaryShape,isolationSummaryShape, 
  mobilityModesShape
} from './isolation-shapes.js'
import { levellingLimitShape, onOffLevellingShape } from './levelling-shapes.js'
import {
  isolatorFitShape,
  modelComparisonShape,
  rigidBodyMotionShape,
  sideBySideNoiseShape,
  smallestTransmissibilityShape,
} from './proof-shapes.js'
import type { RecordKind } from './records.js'
import type { RecordShape, TableKey } from './shape.js'
import {
  complexSeriesShape,
  diagramShape,
  discreteStateSpaceShape,
  frequencyResponseShape,
  gainLimitsShape,
  hInfinityNormShape,
  marginsShape,
  mechanicalSystemShape,
  minimalFormShape,
  simulationShape,
  simultaneousMarginShape,
  stabilityShape,
  stateSpaceShape,
} from './system-shapes.js'
import {
  bandsShape,
  criterionComparisonShape,
  criterionShape,
  crossSpectrumShape,
  levelConfidenceShape,
  lineCriterionShape,
  spectrumShape,
  transferEstimateShape,
  vibrationRecordShape,
} from './vibration-shapes.js'

/** What every record has to look like. */
export const table: Readonly<Record<TableKey, RecordShape>> = {
  StateSpace: stateSpaceShape,
  DiscreteStateSpace: discreteStateSpaceShape,
  MechanicalSystem: mechanicalSystemShape,
  Diagram: diagramShape,
  ComplexSeries: complexSeriesShape,
  FrequencyResponse: frequencyResponseShape,
  Stability: stabilityShape,
  Margins: marginsShape,
  GainLimits: gainLimitsShape,
  SimultaneousMargin: simultaneousMarginShape,
  HInfinityNorm: hInfinityNormShape,
  MinimalForm: minimalFormShape,
  Simulation: simulationShape,
  Mount: mountShape,
  MountLiteral: mountLiteralShape,
  ElastomerMount: elastomerMountShape,
  AirSpring: airSpringShape,
  AirSpringForce: airSpringForceShape,
  FlowResistance: flowResistanceShape,
  OrificeFlow: orificeFlowShape,
  LevellingConsumption: levellingConsumptionShape,
  OptimalRelaxation: optimalRelaxationShape,
  TunedMassDamper: tunedMassDamperShape,
  LevellingValve: levellingValveShape,
  RigidPayload: rigidPayloadShape,
  Sensor: sensorShape,
  Actuator: actuatorShape,
  MotionProfile: motionProfileShape,
  SampledMotion: sampledMotionShape,
  VibrationRecord: vibrationRecordShape,
  Spectrum: spectrumShape,
  Bands: bandsShape,
  Criterion: criterionShape,
  LineCriterion: lineCriterionShape,
  LevelConfidence: levelConfidenceShape,
  CriterionComparison: criterionComparisonShape,
  CrossSpectrum: crossSpectrumShape,
  TransferEstimate: transferEstimateShape,
  IsolationModel: isolationModelShape,
  LevellingLimit: levellingLimitShape,
  OnOffLevelling: onOffLevellingShape,
  IsolationSummary: isolationSummaryShape,
  MobilityModes: mobilityModesShape,
  ControlElements: controlElementsShape,
  OptimumFeedforward: optimumFeedforwardShape,
  Tuning: tuningShape,
  Assessment: assessmentShape,
  ConceptComparison: conceptComparisonShape,
  SweepResult: sweepResultShape,
  ToleranceStudy: toleranceStudyShape,
  NoiseBudget: noiseBudgetShape,
  MoveSettling: moveSettlingShape,
  IsolatorFit: isolatorFitShape,
  ModelComparison: modelComparisonShape,
  RigidBodyMotion: rigidBodyMotionShape,
  SideBySideNoise: sideBySideNoiseShape,
  SmallestTransmissibility: smallestTransmissibilityShape,
  ErrorRecord: errorRecordShape,
}

/** The kinds that can be carried. */
export function recordKinds(): RecordKind[] {
  return Object.keys(table).filter((key): key is RecordKind => key !== 'MountLiteral')
}
