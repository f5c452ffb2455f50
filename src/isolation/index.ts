// Isolation: concepts as diagrams, closed into models, and what is read off them.

export { type ActiveBandOptions, activeBand } from './active-band.js'
export {
  type ActiveDampingOptions,
  type ActivelyDampedIsolationOptions,
  activelyDampedIsolation,
} from './actively-damped-isolation.js'
export type { Appendage, HangingAppendage, PayloadMode } from './appendages.js'
export type { PayloadOptions } from './bodies.js'
export { compliance } from './compliance.js'
export { type ControlElements, controlElements } from './control-elements.js'
export { type FeedforwardResidualOptions, feedforwardResidual } from './feedforward-residual.js'
export type { FloorBody, FloorMode, FloorModes, FloorOptions } from './floor-mobility.js'
export type { ActuatorOptions, SensorOptions } from './inertial-path.js'
export { isolation } from './isolation.js'
export { type IsolationSummary, isolationSummary, type Resonance } from './isolation-summary.js'
export type { LevellingOptions } from './levelling.js'
export {
  type LevellingBound,
  type LevellingBounds,
  type LevellingLimit,
  type LevellingLimitOptions,
  levellingLimit,
  type RockingOptions,
} from './levelling-limit.js'
export type { SimulatedLimit } from './limited-plant.js'
export { type LineForceOptions, lineForce } from './line-force.js'
export { type LoopMargins, loopMargins } from './loop-margins.js'
export {
  type MeasuredMobility,
  type MobilityModes,
  type MobilityModesOptions,
  mobilityModes,
} from './mobility-modes.js'
export type { Concept, IsolationModel, ModelLimit, ModelLoop, NoiseSource } from './model.js'
export { type OnOffLevelling, type OnOffLevellingOptions, onOffLevelling } from './on-off-levelling.js'
export {
  type ParallelActiveIsolationOptions,
  type ParallelFeedbackOptions,
  parallelActiveIsolation,
  type ReactionFeedforwardOptions,
} from './parallel-active-isolation.js'
export { type PassiveIsolationOptions, passiveIsolation } from './passive-isolation.js'
export { type PneumaticIsolationOptions, pneumaticIsolation } from './pneumatic-isolation.js'
export type { RecoveryVerdict } from './recovery.js'
export {
  type ActiveStageOptions,
  type SeriesActiveIsolationOptions,
  type SeriesActuatorOptions,
  type SeriesControllerOptions,
  seriesActiveIsolation,
} from './series-active-isolation.js'
export type { SharedLineOptions } from './shared-line.js'
export {
  type LimitedInterval,
  type LimitedSimulation,
  type SimulateWithLimitsOptions,
  simulateWithLimits,
} from './simulate-with-limits.js'
export { simultaneousLoopMargin } from './simultaneous-loop-margin.js'
export type { SixAxisAppendage } from './six-axis-appendages.js'
export type { NamedPoints } from './six-axis-body.js'
export type { SixAxisLoop, SixAxisPosition } from './six-axis-coordinates.js'
export type { SixAxisActuator, SixAxisDampingOptions, SixAxisSensor } from './six-axis-damping.js'
export type { SixAxisFloorMode, SixAxisFloorOptions } from './six-axis-floor.js'
export { sixAxisIsolation } from './six-axis-isolation.js'
export type { SixAxisIsolationOptions } from './six-axis-options.js'
export type { Axis } from './six-axis-ports.js'
export { stackedIsolation } from './stacked-isolation.js'
export { type StageReaction, type StageReactionOptions, stageReaction } from './stage-reaction.js'
export type { IsolationOptions, StackedIsolationOptions } from './storey-of.js'
export { transmissibility } from './transmissibility.js'
