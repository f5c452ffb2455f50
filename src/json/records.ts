import type { ActuatorEffort } from '../assessment/actuator-effort.js'
import type { Assessment } from '../assessment/assess.js'
import type { ConceptComparison } from '../assessment/compare-concepts.js'
import type { ModelComparison } from '../assessment/compare-to-model.js'
import type { IsolatorFit } from '../assessment/fit-isolator.js'
import type { MoveSettling } from '../assessment/move-and-settle.js'
import type { NoiseBudget } from '../assessment/noise-budget.js'
import type { OptimumFeedforward } from '../assessment/optimum-feedforward.js'
import type { RigidBodyMotion } from '../assessment/rigid-body-motion.js'
import type { SideBySideNoise } from '../assessment/side-by-side-noise.js'
import type { SmallestTransmissibility } from '../assessment/smallest-transmissibility.js'
import type { SweepResult } from '../assessment/sweep.js'
import type { ToleranceStudy } from '../assessment/tolerance-study.js'
import type { Tuning } from '../assessment/tuning.js'
import type { AirSpringForce } from '../elements/air-spring-force.js'
import type { DisplacementSensor } from '../elements/displacement-sensor.js'
import type { FlowResistance } from '../elements/flow-resistance.js'
import type { LevellingConsumption } from '../elements/gas-mass.js'
import type { Geophone } from '../elements/geophone.js'
import type { LevellingValve } from '../elements/levelling-valve.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import type { OptimalRelaxation } from '../elements/optimal-relaxation.js'
import type { OrificeFlow } from '../elements/orifice.js'
import type { PiezoStack } from '../elements/piezo-stack.js'
import type { RigidPayload } from '../elements/rigid-payload-types.js'
import type { SampledMotion } from '../elements/sample-profile.js'
import type { TunedMassDamper } from '../elements/tuned-mass-damper.js'
import type { Actuator, AirSpring, ElastomerMount, MountRecord, Sensor } from '../elements/types.js'
import type { VoiceCoil } from '../elements/voice-coil.js'
import type { ErrorRecord } from '../internal/errors.js'
import type { ControlElements } from '../isolation/control-elements.js'
import type { IsolationSummary } from '../isolation/isolation-summary.js'
import type { LevellingLimit } from '../isolation/levelling-limit.js'
import type { MobilityModes } from '../isolation/mobility-modes.js'
import type { IsolationModel } from '../isolation/model.js'
import type { OnOffLevelling } from '../isolation/on-off-levelling.js'
import type { LimitedSimulation } from '../isolation/simulate-with-limits.js'
import type { Diagram } from '../systems/diagram.js'
import type { GainLimits } from '../systems/gain-limits.js'
import type { HInfinityNorm } from '../systems/h-infinity-norm.js'
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
  StateSpace,
} from '../systems/types.js'
import type { Criterion, CriterionComparison, LineCriterion } from '../vibration/criterion-types.js'
import type { ExpectedPeak } from '../vibration/expected-peak.js'
import type { LevelConfidence } from '../vibration/level-confidence.js'
import type { VibrationRecord } from '../vibration/record-types.js'
import type { BandHistory, Spectrogram } from '../vibration/time-statistics-types.js'
import type { Bands, CrossSpectrum, Spectrum, TransferEstimate } from '../vibration/types.js'

/** Every record that {@link toJson} and {@link fromJson} carry, by its kind. */
export interface Records {
  readonly StateSpace: StateSpace
  readonly DiscreteStateSpace: DiscreteStateSpace
  readonly MechanicalSystem: MechanicalSystem
  readonly Diagram: Diagram
  readonly ComplexSeries: ComplexSeries
  readonly FrequencyResponse: FrequencyResponse
  readonly Stability: Stability
  readonly Margins: Margins
  readonly GainLimits: GainLimits
  readonly RobustStability: RobustStability
  readonly SimultaneousMargin: SimultaneousMargin
  readonly HInfinityNorm: HInfinityNorm
  readonly MinimalForm: MinimalForm
  readonly Simulation: Simulation
  readonly Mount: MountRecord
  readonly ElastomerMount: ElastomerMount
  readonly AirSpring: AirSpring
  readonly AirSpringForce: AirSpringForce
  readonly FlowResistance: FlowResistance
  readonly OrificeFlow: OrificeFlow
  readonly LevellingConsumption: LevellingConsumption
  readonly OptimalRelaxation: OptimalRelaxation
  readonly TunedMassDamper: TunedMassDamper
  readonly LevellingValve: LevellingValve
  readonly Sensor: Sensor | Geophone | DisplacementSensor
  readonly RigidPayload: RigidPayload
  readonly Actuator: Actuator | PiezoStack | VoiceCoil
  readonly MotionProfile: MotionProfile
  readonly SampledMotion: SampledMotion
  readonly VibrationRecord: VibrationRecord
  readonly Spectrum: Spectrum
  readonly Bands: Bands
  readonly BandHistory: BandHistory
  readonly Spectrogram: Spectrogram
  readonly ExpectedPeak: ExpectedPeak
  readonly Criterion: Criterion
  readonly LineCriterion: LineCriterion
  readonly LevelConfidence: LevelConfidence
  readonly CriterionComparison: CriterionComparison
  readonly CrossSpectrum: CrossSpectrum
  readonly TransferEstimate: TransferEstimate
  readonly IsolationModel: IsolationModel
  readonly LimitedSimulation: LimitedSimulation
  readonly LevellingLimit: LevellingLimit
  readonly OnOffLevelling: OnOffLevelling
  readonly IsolationSummary: IsolationSummary
  readonly MobilityModes: MobilityModes
  readonly ControlElements: ControlElements
  readonly OptimumFeedforward: OptimumFeedforward
  readonly Tuning: Tuning
  readonly ActuatorEffort: ActuatorEffort
  readonly Assessment: Assessment
  readonly ConceptComparison: ConceptComparison
  readonly SweepResult: SweepResult
  readonly ToleranceStudy: ToleranceStudy
  readonly QuantizedSections: QuantizedSections
  readonly SampleRateLimit: SampleRateLimit
  readonly NoiseBudget: NoiseBudget
  readonly MoveSettling: MoveSettling
  readonly IsolatorFit: IsolatorFit
  readonly ModelComparison: ModelComparison
  readonly RigidBodyMotion: RigidBodyMotion
  readonly SideBySideNoise: SideBySideNoise
  readonly SmallestTransmissibility: SmallestTransmissibility
  readonly ErrorRecord: ErrorRecord
}

/** Kind of a record that {@link toJson} and {@link fromJson} carry. */
export type RecordKind = keyof Records
