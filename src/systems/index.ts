// Systems: named linear systems, connected, answered in frequency, judged.

export { absolutePhaseDegrees } from './absolute-phase-degrees.js'
export { type AdaptiveFrequenciesOptions, adaptiveFrequencies } from './adaptive-frequencies.js'
export { type BandPassOptions, bandPass } from './band-pass.js'
export { type ChannelOptions, channel } from './channel.js'
export { type ComplementaryFiltersOptions, complementaryFilters } from './complementary-filters.js'
export { connect } from './connect.js'
export { dcGain } from './dc-gain.js'
export { type DelayOptions, delay } from './delay.js'
export { type Blocks, type Diagram, diagram, type Source, type TypedDiagram, type Wire } from './diagram.js'
export { type DigitalControllerOptions, type DigitalLoopOptions, digitalLoop } from './digital-loop.js'
export { type DiscretizationMethod, type DiscretizeOptions, discretize } from './discretize.js'
export { type EmbedOptions, embed } from './embed.js'
export { type FrequencyResponseOptions, frequencyResponse } from './frequency-response.js'
export { type GainOptions, gain } from './gain.js'
export { type GainLimits, gainLimits, type StableGains } from './gain-limits.js'
export { type HInfinityNorm, hInfinityNorm } from './h-infinity-norm.js'
export { h2Norm } from './h2-norm.js'
export { type HighPassOptions, highPass } from './high-pass.js'
export { type IntegratorOptions, integrator } from './integrator.js'
export { type LeadLagOptions, leadLag } from './lead-lag.js'
export { type LeakyIntegratorOptions, leakyIntegrator } from './leaky-integrator.js'
export { type LogFrequenciesOptions, logFrequencies } from './log-frequencies.js'
export { type LowPassOptions, lowPass } from './low-pass.js'
export { margins } from './margins.js'
export { type MechanicalOutput, type MechanicalSystemOptions, mechanicalSystem } from './mechanical-system.js'
export { type MinimalForm, type MinimalFormOptions, minimalForm } from './minimal-form.js'
export { type MinimumSampleRateOptions, minimumSampleRate, type SampleRateLimit } from './minimum-sample-rate.js'
export { type MotionFeedbackOptions, motionFeedback } from './motion-feedback.js'
export { type NotchOptions, notch } from './notch.js'
export { openLoop } from './open-loop.js'
export { type PadeOptions, pade } from './pade.js'
export { parallel } from './parallel.js'
export { poles } from './poles.js'
export type { InputPort, NamedSource, OutputPort, PrefixedBlocks, PrefixedDiagram } from './port-names.js'
export { prepare } from './prepare.js'
export {
  type FixedPoint,
  type NumberFormat,
  type QuantizedSections,
  type QuantizedSectionsOptions,
  quantizedSections,
} from './quantized-sections.js'
export { replaceBlock } from './replace-block.js'
export {
  type ParameterValues,
  type RobustStability,
  type RobustStabilityOptions,
  robustStability,
} from './robust-stability.js'
export { type SecondOrderSection, secondOrderSections } from './second-order-sections.js'
export { type SectionsSystemOptions, sectionsSystem } from './sections-system.js'
export { type SensorCorrectionOptions, sensorCorrection } from './sensor-correction.js'
export { type InputName, type LastOf, type OutputName, series } from './series.js'
export { decibels, magnitude, phaseDegrees } from './series-values.js'
export { type SettlingTimeOptions, settlingTime, type TimeRecord } from './settling-time.js'
export { type SimulateOptions, type Simulation, simulate } from './simulate.js'
export { type SimultaneousMargin, type SimultaneousMarginOptions, simultaneousMargin } from './simultaneous-margin.js'
export { stability } from './stability.js'
export { type StateSpaceOptions, stateSpace } from './state-space.js'
export { type StationaryCovarianceOptions, stationaryCovariance } from './stationary-covariance.js'
export { impulseResponse, stepResponse, type TimeResponseOptions } from './step-response.js'
export { type TransferFunctionOptions, transferFunction } from './transfer-function.js'
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
} from './types.js'
export { type Zero, zeros } from './zeros.js'
