// Elements: mounts, air springs, rigid payloads, sensors and actuators.

export { inch, microinch, standardAtmosphere, standardGravity } from '../internal/constants.js'
export { type AccelerometerOptions, accelerometer } from './accelerometer.js'
export { airSpring, airSpringAtLoad } from './air-spring.js'
export { type AirSpringForce, type AirSpringForceOptions, airSpringForce } from './air-spring-force.js'
export type { AirSpringOptions, DampingChamberOptions, HeatExchangeOptions } from './air-spring-options.js'
export { type CornerExtensionOptions, cornerExtension } from './corner-extension.js'
export { type DisplacementSensor, type DisplacementSensorOptions, displacementSensor } from './displacement-sensor.js'
export { dynamicStiffness } from './dynamic-stiffness.js'
export { type ElastomerMountOptions, elastomerMount } from './elastomer-mount.js'
export { filteredSensor } from './filtered-sensor.js'
export type { FlowResistance } from './flow-resistance.js'
export {
  gasMass,
  type LevellingConsumption,
  type LevellingConsumptionOptions,
  levellingConsumption,
} from './gas-mass.js'
export type { GasOptions } from './gas-state.js'
export { type Geophone, type GeophoneBehaviour, type GeophoneCoil, type GeophoneOptions, geophone } from './geophone.js'
export { type HystereticTransmissibilityOptions, hystereticTransmissibility } from './hysteretic-transmissibility.js'
export { type IdealActuatorOptions, idealActuator } from './ideal-actuator.js'
export {
  type CapillaryPassage,
  type LaminarFlowResistanceOptions,
  laminarFlowResistance,
  type SlotPassage,
} from './laminar-flow-resistance.js'
export { type LevellingValve, type LevellingValveOptions, levellingValve } from './levelling-valve.js'
export { type MotionNoiseOptions, motionNoise } from './motion-noise.js'
export { type MotionProfile, type MotionProfileOptions, motionProfile } from './motion-profile.js'
export { type LoadTable, type MountAtLoadOptions, mountAtLoad } from './mount-at-load.js'
export { mountsInParallel } from './mounts-in-parallel.js'
export { mountsInSeries } from './mounts-in-series.js'
export { type NaturalFrequencyOptions, naturalFrequency } from './natural-frequency.js'
export { type OptimalRelaxation, type OptimalRelaxationOptions, optimalRelaxation } from './optimal-relaxation.js'
export {
  type OrificeFlow,
  type OrificeFlowOptions,
  type OrificeFlowResistanceOptions,
  type OrificeOptions,
  orificeFlow,
  orificeFlowResistance,
} from './orifice.js'
export {
  type PiezoCurrentOptions,
  type PiezoDrive,
  type PiezoDriveOptions,
  piezoCurrent,
  piezoTravel,
} from './piezo-drive.js'
export { type PiezoStack, type PiezoStackOptions, piezoStack } from './piezo-stack.js'
export { type PneumaticActuatorOptions, pneumaticActuator } from './pneumatic-actuator.js'
export { type PublishedInstrument, publishedNoise } from './published-noise.js'
export { type RelaxationMountOptions, relaxationMount } from './relaxation-mount.js'
export { type ResidualAmplitudeOptions, residualAmplitude } from './residual-amplitude.js'
export { type RestrictionFlowOptions, restrictionFlow } from './restriction-flow.js'
export { rigidPayload } from './rigid-payload.js'
export type {
  PayloadSupport,
  Point,
  RigidMode,
  RigidPayload,
  RigidPayloadOptions,
  SupportOptions,
  TiltStiffness,
  Tipping,
} from './rigid-payload-types.js'
export { type SampledMotion, type SampleProfileOptions, sampleProfile } from './sample-profile.js'
export { type SeismometerOptions, seismometer } from './seismometer.js'
export {
  type CoilSurgeOptions,
  type SpringMountBehaviour,
  type SpringMountElements,
  type SpringMountExtras,
  type SpringMountOptions,
  springMount,
} from './spring-mount.js'
export { type StaticDeflectionOptions, staticDeflection } from './static-deflection.js'
export { type StiffnessForOptions, stiffnessFor } from './stiffness-for.js'
export { type SupportLoadsOptions, type SupportPoint, supportLoads } from './support-loads.js'
export {
  type DamperCriterion,
  type TunedMassDamper,
  type TunedMassDamperOptions,
  tunedMassDamper,
} from './tuned-mass-damper.js'
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
} from './types.js'
export { type VoiceCoil, type VoiceCoilOptions, voiceCoil } from './voice-coil.js'
