// Assessment: does it meet the tolerance, at what margin, what is the simplest.

export { type ActuatorEffort, type ActuatorEffortOptions, actuatorEffort, type CoilHeat } from './actuator-effort.js'
export { type Assessment, assess } from './assess.js'
export type { Move } from './check-move.js'
export {
  type CompareConceptsOptions,
  type ConceptComparison,
  type ConceptRow,
  compareConcepts,
} from './compare-concepts.js'
export { type CompareToModelOptions, compareToModel, type Departure, type ModelComparison } from './compare-to-model.js'
export type { Effort } from './effort.js'
export type { EffortRecord } from './effort-in-time.js'
export { explain } from './explain.js'
export { type FitIsolatorOptions, type FittedParameter, fitIsolator, type IsolatorFit } from './fit-isolator.js'
export type { IsolatorForm } from './isolator-forms.js'
export type { AxisAssessment } from './judge-axis.js'
export type { SettledMove, SiteSettling } from './judge-moves.js'
export { mergeSweeps } from './merge-sweeps.js'
export type { MotionFinding, MotionTolerance } from './motion-tolerance.js'
export { type MoveAndSettleOptions, type MoveSettling, moveAndSettle, type SettlingOptions } from './move-and-settle.js'
export { type NoiseBudget, noiseBudget } from './noise-budget.js'
export { type OptimumFeedforward, type OptimumFeedforwardOptions, optimumFeedforward } from './optimum-feedforward.js'
export { type PredictPayloadOptions, predictPayload } from './predict-payload.js'
export {
  type BodyAxis,
  type PlacedSensor,
  type RigidBodyMotion,
  type RigidBodyMotionOptions,
  rigidBodyMotion,
} from './rigid-body-motion.js'
export { type SideBySideNoise, type SideBySideNoiseOptions, sideBySideNoise } from './side-by-side-noise.js'
export type { Site, SiteAxis, SpectrumByAxis } from './site.js'
export {
  type SmallestTransmissibility,
  type SmallestTransmissibilityOptions,
  smallestTransmissibility,
} from './smallest-transmissibility.js'
export {
  type Shard,
  type SweepError,
  type SweepOptions,
  type SweepProgress,
  type SweepResult,
  type SweepRow,
  sweep,
} from './sweep.js'
export type { SweepParameters } from './sweep-grid.js'
export type { Tolerance } from './tolerance.js'
export { type ToleranceStudy, type ToleranceStudyOptions, toleranceStudy } from './tolerance-study.js'
export type { Envelope, Influence, ValueSpread, Yield } from './tolerance-summary.js'
export type { ToleranceOutcome, Trial } from './tolerance-trial.js'
export { type ActiveDampingDesign, type TuneActiveDampingOptions, tuneActiveDamping } from './tune-active-damping.js'
export { type RelaxationDesign, type RestrictorDesign, tuneRelaxation, tuneRestrictor } from './tune-passive-damping.js'
export { type SeriesStageDesign, type TuneSeriesStageOptions, tuneSeriesStage } from './tune-series-stage.js'
export type { Tuning, TuningObjective, TuningTrial } from './tuning.js'
export type { Change } from './what-would-have-to-change.js'
