// The public face: named re-exports only. Written by `npm run face` from the faces of the floors.

export {
  type ActuatorEffort,
  type ActuatorEffortOptions,
  actuatorEffort,
  type CoilHeat,
} from './assessment/actuator-effort.js'
export { type Assessment, assess } from './assessment/assess.js'
export type { Move } from './assessment/check-move.js'
export {
  type CompareConceptsOptions,
  type ConceptComparison,
  type ConceptRow,
  compareConcepts,
} from './assessment/compare-concepts.js'
export {
  type CompareToModelOptions,
  compareToModel,
  type Departure,
  type ModelComparison,
} from './assessment/compare-to-model.js'
export type { Effort } from './assessment/effort.js'
export type { EffortRecord } from './assessment/effort-in-time.js'
export { explain } from './assessment/explain.js'
export {
  type FitIsolatorOptions,
  type FittedParameter,
  fitIsolator,
  type IsolatorFit,
} from './assessment/fit-isolator.js'
export type { IsolatorForm } from './assessment/isolator-forms.js'
export type { AxisAssessment } from './assessment/judge-axis.js'
export type { SettledMove, SiteSettling } from './assessment/judge-moves.js'
export { mergeSweeps } from './assessment/merge-sweeps.js'
export type { MotionFinding, MotionTolerance } from './assessment/motion-tolerance.js'
export {
  type MoveAndSettleOptions,
  type MoveSettling,
  moveAndSettle,
  type SettlingOptions,
} from './assessment/move-and-settle.js'
export { type NoiseBudget, noiseBudget } from './assessment/noise-budget.js'
export {
  type OptimumFeedforward,
  type OptimumFeedforwardOptions,
  optimumFeedforward,
} from './assessment/optimum-feedforward.js'
export { type PredictPayloadOptions, predictPayload } from './assessment/predict-payload.js'
export {
  type BodyAxis,
  type PlacedSensor,
  type RigidBodyMotion,
  type RigidBodyMotionOptions,
  rigidBodyMotion,
} from './assessment/rigid-body-motion.js'
export { type SideBySideNoise, type SideBySideNoiseOptions, sideBySideNoise } from './assessment/side-by-side-noise.js'
export type { Site, SiteAxis, SpectrumByAxis } from './assessment/site.js'
export {
  type SmallestTransmissibility,
  type SmallestTransmissibilityOptions,
  smallestTransmissibility,
} from './assessment/smallest-transmissibility.js'
export {
  type Shard,
  type SweepError,
  type SweepOptions,
  type SweepProgress,
  type SweepResult,
  type SweepRow,
  sweep,
} from './assessment/sweep.js'
export type { SweepParameters } from './assessment/sweep-grid.js'
export type { Tolerance } from './assessment/tolerance.js'
export { type ToleranceStudy, type ToleranceStudyOptions, toleranceStudy } from './assessment/tolerance-study.js'
export type { Envelope, Influence, ValueSpread, Yield } from './assessment/tolerance-summary.js'
export type { ToleranceOutcome, Trial } from './assessment/tolerance-trial.js'
export {
  type ActiveDampingDesign,
  type TuneActiveDampingOptions,
  tuneActiveDamping,
} from './assessment/tune-active-damping.js'
export {
  type RelaxationDesign,
  type RestrictorDesign,
  tuneRelaxation,
  tuneRestrictor,
} from './assessment/tune-passive-damping.js'
export { type SeriesStageDesign, type TuneSeriesStageOptions, tuneSeriesStage } from './assessment/tune-series-stage.js'
export type { Tuning, TuningObjective, TuningTrial } from './assessment/tuning.js'
export type { Change } from './assessment/what-would-have-to-change.js'
export { type AccelerometerOptions, accelerometer } from './elements/accelerometer.js'
export { airSpring, airSpringAtLoad } from './elements/air-spring.js'
export { type AirSpringForce, type AirSpringForceOptions, airSpringForce } from './elements/air-spring-force.js'
export type { AirSpringOptions, DampingChamberOptions, HeatExchangeOptions } from './elements/air-spring-options.js'
export { type CornerExtensionOptions, cornerExtension } from './elements/corner-extension.js'
export {
  type DisplacementSensor,
  type DisplacementSensorOptions,
  displacementSensor,
} from './elements/displacement-sensor.js'
export { dynamicStiffness } from './elements/dynamic-stiffness.js'
export { type ElastomerMountOptions, elastomerMount } from './elements/elastomer-mount.js'
export { filteredSensor } from './elements/filtered-sensor.js'
export type { FlowResistance } from './elements/flow-resistance.js'
export {
  gasMass,
  type LevellingConsumption,
  type LevellingConsumptionOptions,
  levellingConsumption,
} from './elements/gas-mass.js'
export type { GasOptions } from './elements/gas-state.js'
export {
  type Geophone,
  type GeophoneBehaviour,
  type GeophoneCoil,
  type GeophoneOptions,
  geophone,
} from './elements/geophone.js'
export {
  type HystereticTransmissibilityOptions,
  hystereticTransmissibility,
} from './elements/hysteretic-transmissibility.js'
export { type IdealActuatorOptions, idealActuator } from './elements/ideal-actuator.js'
export {
  type CapillaryPassage,
  type LaminarFlowResistanceOptions,
  laminarFlowResistance,
  type SlotPassage,
} from './elements/laminar-flow-resistance.js'
export { type LevellingValve, type LevellingValveOptions, levellingValve } from './elements/levelling-valve.js'
export { type MotionNoiseOptions, motionNoise } from './elements/motion-noise.js'
export { type MotionProfile, type MotionProfileOptions, motionProfile } from './elements/motion-profile.js'
export { type LoadTable, type MountAtLoadOptions, mountAtLoad } from './elements/mount-at-load.js'
export { mountsInParallel } from './elements/mounts-in-parallel.js'
export { mountsInSeries } from './elements/mounts-in-series.js'
export { type NaturalFrequencyOptions, naturalFrequency } from './elements/natural-frequency.js'
export {
  type OptimalRelaxation,
  type OptimalRelaxationOptions,
  optimalRelaxation,
} from './elements/optimal-relaxation.js'
export {
  type OrificeFlow,
  type OrificeFlowOptions,
  type OrificeFlowResistanceOptions,
  type OrificeOptions,
  orificeFlow,
  orificeFlowResistance,
} from './elements/orifice.js'
export {
  type PiezoCurrentOptions,
  type PiezoDrive,
  type PiezoDriveOptions,
  piezoCurrent,
  piezoTravel,
} from './elements/piezo-drive.js'
export { type PiezoStack, type PiezoStackOptions, piezoStack } from './elements/piezo-stack.js'
export { type PneumaticActuatorOptions, pneumaticActuator } from './elements/pneumatic-actuator.js'
export { type PublishedInstrument, publishedNoise } from './elements/published-noise.js'
export { type RelaxationMountOptions, relaxationMount } from './elements/relaxation-mount.js'
export { type ResidualAmplitudeOptions, residualAmplitude } from './elements/residual-amplitude.js'
export { type RestrictionFlowOptions, restrictionFlow } from './elements/restriction-flow.js'
export { rigidPayload } from './elements/rigid-payload.js'
export type {
  PayloadSupport,
  Point,
  RigidMode,
  RigidPayload,
  RigidPayloadOptions,
  SupportOptions,
  TiltStiffness,
  Tipping,
} from './elements/rigid-payload-types.js'
export { type SampledMotion, type SampleProfileOptions, sampleProfile } from './elements/sample-profile.js'
export { type SeismometerOptions, seismometer } from './elements/seismometer.js'
export {
  type CoilSurgeOptions,
  type SpringMountBehaviour,
  type SpringMountElements,
  type SpringMountExtras,
  type SpringMountOptions,
  springMount,
} from './elements/spring-mount.js'
export { type StaticDeflectionOptions, staticDeflection } from './elements/static-deflection.js'
export { type StiffnessForOptions, stiffnessFor } from './elements/stiffness-for.js'
export { type SupportLoadsOptions, type SupportPoint, supportLoads } from './elements/support-loads.js'
export {
  type DamperCriterion,
  type TunedMassDamper,
  type TunedMassDamperOptions,
  tunedMassDamper,
} from './elements/tuned-mass-damper.js'
export type {
  Actuator,
  ActuatorLimits,
  AirSpring,
  CanonicalMount,
  CoilSurge,
  ElastomerMount,
  InstrumentNoise,
  InstrumentNoiseOptions,
  MotionQuantity,
  Mount,
  MountRecord,
  Relaxation,
  Sensor,
  SensorNoiseOptions,
} from './elements/types.js'
export { type VoiceCoil, type VoiceCoilOptions, voiceCoil } from './elements/voice-coil.js'
export { inch, microinch, standardAtmosphere, standardGravity } from './internal/constants.js'
export {
  type ErrorCode,
  type ErrorDetails,
  type ErrorRecord,
  errorRecord,
  IsolationError,
  isIsolationError,
} from './internal/errors.js'
export { type ActiveBandOptions, activeBand } from './isolation/active-band.js'
export {
  type ActiveDampingOptions,
  type ActivelyDampedIsolationOptions,
  activelyDampedIsolation,
} from './isolation/actively-damped-isolation.js'
export type { Appendage, HangingAppendage, PayloadMode } from './isolation/appendages.js'
export type { PayloadOptions } from './isolation/bodies.js'
export { compliance } from './isolation/compliance.js'
export { type ControlElements, controlElements } from './isolation/control-elements.js'
export { type FeedforwardResidualOptions, feedforwardResidual } from './isolation/feedforward-residual.js'
export type { FloorBody, FloorMode, FloorModes, FloorOptions } from './isolation/floor-mobility.js'
export type { ActuatorOptions, SensorOptions } from './isolation/inertial-path.js'
export { isolation } from './isolation/isolation.js'
export { type IsolationSummary, isolationSummary, type Resonance } from './isolation/isolation-summary.js'
export type { LevellingOptions } from './isolation/levelling.js'
export {
  type LevellingBound,
  type LevellingBounds,
  type LevellingLimit,
  type LevellingLimitOptions,
  levellingLimit,
  type RockingOptions,
} from './isolation/levelling-limit.js'
export type { SimulatedLimit } from './isolation/limited-plant.js'
export { type LineForceOptions, lineForce } from './isolation/line-force.js'
export { type LoopMargins, loopMargins } from './isolation/loop-margins.js'
export {
  type MeasuredMobility,
  type MobilityModes,
  type MobilityModesOptions,
  mobilityModes,
} from './isolation/mobility-modes.js'
export type { Concept, IsolationModel, ModelLimit, ModelLoop, NoiseSource } from './isolation/model.js'
export { type OnOffLevelling, type OnOffLevellingOptions, onOffLevelling } from './isolation/on-off-levelling.js'
export {
  type ParallelActiveIsolationOptions,
  type ParallelFeedbackOptions,
  parallelActiveIsolation,
  type ReactionFeedforwardOptions,
} from './isolation/parallel-active-isolation.js'
export { type PassiveIsolationOptions, passiveIsolation } from './isolation/passive-isolation.js'
export { type PneumaticIsolationOptions, pneumaticIsolation } from './isolation/pneumatic-isolation.js'
export type { RecoveryVerdict } from './isolation/recovery.js'
export {
  type ActiveStageOptions,
  type SeriesActiveIsolationOptions,
  type SeriesActuatorOptions,
  type SeriesControllerOptions,
  seriesActiveIsolation,
} from './isolation/series-active-isolation.js'
export type { SharedLineOptions } from './isolation/shared-line.js'
export {
  type LimitedInterval,
  type LimitedSimulation,
  type SimulateWithLimitsOptions,
  simulateWithLimits,
} from './isolation/simulate-with-limits.js'
export { simultaneousLoopMargin } from './isolation/simultaneous-loop-margin.js'
export type { SixAxisAppendage } from './isolation/six-axis-appendages.js'
export type { NamedPoints } from './isolation/six-axis-body.js'
export type { SixAxisLoop, SixAxisPosition } from './isolation/six-axis-coordinates.js'
export type { SixAxisActuator, SixAxisDampingOptions, SixAxisSensor } from './isolation/six-axis-damping.js'
export type { SixAxisFloorMode, SixAxisFloorOptions } from './isolation/six-axis-floor.js'
export { sixAxisIsolation } from './isolation/six-axis-isolation.js'
export type { SixAxisIsolationOptions } from './isolation/six-axis-options.js'
export type { Axis } from './isolation/six-axis-ports.js'
export { stackedIsolation } from './isolation/stacked-isolation.js'
export { type StageReaction, type StageReactionOptions, stageReaction } from './isolation/stage-reaction.js'
export type { IsolationOptions, StackedIsolationOptions } from './isolation/storey-of.js'
export { transmissibility } from './isolation/transmissibility.js'
export { type FromJsonOptions, fromJson } from './json/from-json.js'
export type { RecordKind, Records } from './json/records.js'
export { type ToJsonOptions, toJson } from './json/to-json.js'
export type { ComplexResult } from './plots/complex-points.js'
export type { FigureOptions } from './plots/figure.js'
export { type PlotBandsOptions, plotBands } from './plots/plot-bands.js'
export { type PlotComplianceOptions, plotCompliance } from './plots/plot-compliance.js'
export { type PlotLoopOptions, plotLoop } from './plots/plot-loop.js'
export { type PlotModesOptions, plotModes } from './plots/plot-modes.js'
export { type PlotNoiseBudgetOptions, plotNoiseBudget } from './plots/plot-noise-budget.js'
export { type PlotNyquistOptions, plotNyquist } from './plots/plot-nyquist.js'
export { type PlotSettlingOptions, plotSettling } from './plots/plot-settling.js'
export { type PlotSweepOptions, plotSweep } from './plots/plot-sweep.js'
export { type PlotTransmissibilityOptions, plotTransmissibility } from './plots/plot-transmissibility.js'
export type {
  InlineData,
  PlotAxis,
  PlotChannel,
  PlotConfig,
  PlotEncoding,
  PlotFrame,
  PlotLayer,
  PlotLegend,
  PlotMark,
  PlotPanel,
  PlotRow,
  PlotScale,
  StackedSpecification,
  VegaLiteSpecification,
} from './plots/vega-lite-specification.js'
export { absolutePhaseDegrees } from './systems/absolute-phase-degrees.js'
export { type AdaptiveFrequenciesOptions, adaptiveFrequencies } from './systems/adaptive-frequencies.js'
export { type BandPassOptions, bandPass } from './systems/band-pass.js'
export { type ChannelOptions, channel } from './systems/channel.js'
export { type ComplementaryFiltersOptions, complementaryFilters } from './systems/complementary-filters.js'
export { connect } from './systems/connect.js'
export { dcGain } from './systems/dc-gain.js'
export { type DelayOptions, delay } from './systems/delay.js'
export { type Blocks, type Diagram, diagram, type Source, type TypedDiagram, type Wire } from './systems/diagram.js'
export { type DigitalControllerOptions, type DigitalLoopOptions, digitalLoop } from './systems/digital-loop.js'
export { type DiscretizationMethod, type DiscretizeOptions, discretize } from './systems/discretize.js'
export { type EmbedOptions, embed } from './systems/embed.js'
export { type FrequencyResponseOptions, frequencyResponse } from './systems/frequency-response.js'
export { type GainOptions, gain } from './systems/gain.js'
export { type GainLimits, gainLimits, type StableGains } from './systems/gain-limits.js'
export { type HInfinityNorm, hInfinityNorm } from './systems/h-infinity-norm.js'
export { h2Norm } from './systems/h2-norm.js'
export { type HighPassOptions, highPass } from './systems/high-pass.js'
export { type IntegratorOptions, integrator } from './systems/integrator.js'
export { type LeadLagOptions, leadLag } from './systems/lead-lag.js'
export { type LeakyIntegratorOptions, leakyIntegrator } from './systems/leaky-integrator.js'
export { type LogFrequenciesOptions, logFrequencies } from './systems/log-frequencies.js'
export { type LowPassOptions, lowPass } from './systems/low-pass.js'
export { margins } from './systems/margins.js'
export { type MechanicalOutput, type MechanicalSystemOptions, mechanicalSystem } from './systems/mechanical-system.js'
export { type MinimalForm, type MinimalFormOptions, minimalForm } from './systems/minimal-form.js'
export {
  type MinimumSampleRateOptions,
  minimumSampleRate,
  type SampleRateLimit,
} from './systems/minimum-sample-rate.js'
export { type MotionFeedbackOptions, motionFeedback } from './systems/motion-feedback.js'
export { type NotchOptions, notch } from './systems/notch.js'
export { openLoop } from './systems/open-loop.js'
export { type PadeOptions, pade } from './systems/pade.js'
export { parallel } from './systems/parallel.js'
export { poles } from './systems/poles.js'
export type { InputPort, NamedSource, OutputPort, PrefixedBlocks, PrefixedDiagram } from './systems/port-names.js'
export { prepare } from './systems/prepare.js'
export {
  type FixedPoint,
  type NumberFormat,
  type QuantizedSections,
  type QuantizedSectionsOptions,
  quantizedSections,
} from './systems/quantized-sections.js'
export { replaceBlock } from './systems/replace-block.js'
export {
  type ParameterValues,
  type RobustStability,
  type RobustStabilityOptions,
  robustStability,
} from './systems/robust-stability.js'
export { type SecondOrderSection, secondOrderSections } from './systems/second-order-sections.js'
export { type SectionsSystemOptions, sectionsSystem } from './systems/sections-system.js'
export { type SensorCorrectionOptions, sensorCorrection } from './systems/sensor-correction.js'
export { type InputName, type LastOf, type OutputName, series } from './systems/series.js'
export { decibels, magnitude, phaseDegrees } from './systems/series-values.js'
export { type SettlingTimeOptions, settlingTime, type TimeRecord } from './systems/settling-time.js'
export { type SimulateOptions, type Simulation, simulate } from './systems/simulate.js'
export {
  type SimultaneousMargin,
  type SimultaneousMarginOptions,
  simultaneousMargin,
} from './systems/simultaneous-margin.js'
export { stability } from './systems/stability.js'
export { type StateSpaceOptions, stateSpace } from './systems/state-space.js'
export { type StationaryCovarianceOptions, stationaryCovariance } from './systems/stationary-covariance.js'
export { impulseResponse, stepResponse, type TimeResponseOptions } from './systems/step-response.js'
export { type TransferFunctionOptions, transferFunction } from './systems/transfer-function.js'
export type {
  Block,
  BlockRole,
  ComplexSeries,
  ContinuousSystem,
  DiscreteStateSpace,
  FrequencyResponse,
  GainCrossover,
  InternalDelays,
  LinearSystem,
  Margins,
  Matrix,
  MechanicalSystem,
  PhaseCrossover,
  Pole,
  PreparedSystem,
  Stability,
  StabilityVerdict,
  StateSpace,
} from './systems/types.js'
export { type Zero, zeros } from './systems/zeros.js'
export { apparentAcceleration } from './vibration/apparent-acceleration.js'
export { type AveragesNeededOptions, averagesNeeded } from './vibration/averages-needed.js'
export { type BandHistoryOptions, bandHistory } from './vibration/band-history.js'
export { type BandStatisticOptions, bandStatistic } from './vibration/band-statistic.js'
export { type BandStream, type BandStreamOptions, bandStream } from './vibration/band-stream.js'
export { type BaseCurveOptions, baseCurve } from './vibration/base-curve.js'
export { type BestCriterionOptions, bestCriterion } from './vibration/best-criterion.js'
export type { ChangeOptions } from './vibration/change-in-time.js'
export { compareLinesToCriterion } from './vibration/compare-lines-to-criterion.js'
export { type CompareToCriterionOptions, compareToCriterion } from './vibration/compare-to-criterion.js'
export { type ConvertSpectrumOptions, convertSpectrum } from './vibration/convert-spectrum.js'
export { type CriterionOptions, criterion } from './vibration/criterion.js'
export type {
  BandDoubt,
  BandRatio,
  Criterion,
  CriterionComparison,
  CriterionConvention,
  CriterionEdition,
  CriterionName,
  DoubtCause,
  LineCriterion,
  VibrationCurve,
  WeightingName,
} from './vibration/criterion-types.js'
export { type CrossSpectrumOptions, crossSpectrum } from './vibration/cross-spectrum.js'
export { type CustomCriterionOptions, customCriterion } from './vibration/custom-criterion.js'
export {
  type DecibelsToValueOptions,
  decibelsToValue,
  type LevelOf,
  type ValueToDecibelsOptions,
  valueToDecibels,
} from './vibration/decibel-values.js'
export { type DecimateOptions, decimate } from './vibration/decimate.js'
export { type DifferentiateOptions, differentiate } from './vibration/differentiate.js'
export { type ExpectedPeak, type ExpectedPeakOptions, expectedPeak } from './vibration/expected-peak.js'
export { feedforwardBound } from './vibration/feedforward-bound.js'
export { type IntegrateOptions, integrate } from './vibration/integrate.js'
export { type LevelConfidence, type LevelConfidenceOptions, levelConfidence } from './vibration/level-confidence.js'
export type { LimitCurveOptions } from './vibration/limit-curve.js'
export { type LineCriterionOptions, lineCriterion } from './vibration/line-criterion.js'
export { newHighNoiseModel, newLowNoiseModel } from './vibration/noise-models.js'
export { type OneThirdOctaveBandsOptions, oneThirdOctaveBands } from './vibration/one-third-octave-bands.js'
export { type PressureFromLevelsOptions, pressureFromLevels } from './vibration/pressure-from-levels.js'
export { type RecordOptions, record } from './vibration/record.js'
export { type RecordLengthOptions, recordLength } from './vibration/record-length.js'
export type { RecordCheck, RecordFinding, RemovedTrend, VibrationRecord } from './vibration/record-types.js'
export { type RemoveResponseOptions, type ResponseRoot, removeResponse } from './vibration/remove-response.js'
export { type ResolutionBiasOptions, resolutionBias } from './vibration/resolution-bias.js'
export { type RmsOptions, rms } from './vibration/rms.js'
export type { SegmentOptions } from './vibration/segmentation.js'
export { type SoundPressureForceOptions, soundPressureForce } from './vibration/sound-pressure-force.js'
export { type SpectrogramOptions, spectrogram } from './vibration/spectrogram.js'
export { spectrogramBands } from './vibration/spectrogram-bands.js'
export { type SpectrumOptions, spectrum } from './vibration/spectrum.js'
export { type SpectrumStatisticOptions, spectrumStatistic } from './vibration/spectrum-statistic.js'
export { type TiltCrossoverOptions, tiltCrossover } from './vibration/tilt-crossover.js'
export type { TimeStatisticOptions } from './vibration/time-statistic.js'
export type { BandHistory, HistoryBand, Spectrogram } from './vibration/time-statistics-types.js'
export { toneLevels } from './vibration/tone-levels.js'
export { type TransferEstimateOptions, transferEstimate } from './vibration/transfer-estimate.js'
export type {
  Averaging,
  Band,
  BandFlag,
  Bands,
  BandsLiteral,
  CrossSpectrum,
  Detrend,
  LevelStatistic,
  Quantity,
  Spectrum,
  SpectrumEstimation,
  SpectrumLiteral,
  Support,
  TransferEstimate,
  WindowName,
} from './vibration/types.js'
export { units } from './vibration/units.js'
export { weightedSpectrum, weighting } from './vibration/weightings.js'
export { type WelchOptions, welch } from './vibration/welch.js'
export { type WelchStream, type WelchStreamOptions, welchStream } from './vibration/welch-stream.js'
