// The public face: named re-exports only, grouped by floor.

export { type AirSpringOptions, airSpring, type DampingChamberOptions } from './elements/air-spring.js'
export { dynamicStiffness } from './elements/dynamic-stiffness.js'
export { type ElastomerMountOptions, elastomerMount } from './elements/elastomer-mount.js'
export { type GeophoneOptions, geophone } from './elements/geophone.js'
export { type IdealActuatorOptions, idealActuator } from './elements/ideal-actuator.js'
export { type LevellingValve, type LevellingValveOptions, levellingValve } from './elements/levelling-valve.js'
export { mountsInParallel } from './elements/mounts-in-parallel.js'
export { mountsInSeries } from './elements/mounts-in-series.js'
export { type NaturalFrequencyOptions, naturalFrequency } from './elements/natural-frequency.js'
export { type PiezoStack, type PiezoStackOptions, piezoStack } from './elements/piezo-stack.js'
export { type RelaxationMountOptions, relaxationMount } from './elements/relaxation-mount.js'
export {
  type SpringMountBehaviour,
  type SpringMountElements,
  type SpringMountOptions,
  springMount,
} from './elements/spring-mount.js'
export { type StaticDeflectionOptions, staticDeflection } from './elements/static-deflection.js'
export { type StiffnessForOptions, stiffnessFor } from './elements/stiffness-for.js'
export type {
  Actuator,
  ActuatorLimits,
  AirSpring,
  CanonicalMount,
  ElastomerMount,
  InstrumentNoise,
  InstrumentNoiseOptions,
  Mount,
  MountRecord,
  Relaxation,
  Sensor,
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
export { type BestCriterionOptions, bestCriterion } from './vibration/best-criterion.js'
export { type CompareToCriterionOptions, compareToCriterion } from './vibration/compare-to-criterion.js'
export { type ConvertSpectrumOptions, convertSpectrum } from './vibration/convert-spectrum.js'
export { type CriterionOptions, criterion } from './vibration/criterion.js'
export { type CustomCriterionOptions, customCriterion } from './vibration/custom-criterion.js'
export { newHighNoiseModel, newLowNoiseModel } from './vibration/noise-models.js'
export { type OneThirdOctaveBandsOptions, oneThirdOctaveBands } from './vibration/one-third-octave-bands.js'
export { type RmsOptions, rms } from './vibration/rms.js'
export type { SegmentOptions } from './vibration/segmentation.js'
export { type SpectrumOptions, spectrum } from './vibration/spectrum.js'
export { type TransferEstimateOptions, transferEstimate } from './vibration/transfer-estimate.js'
export type {
  Band,
  BandRatio,
  Bands,
  BandsLiteral,
  Criterion,
  CriterionComparison,
  CriterionEdition,
  CriterionName,
  Detrend,
  Quantity,
  Spectrum,
  SpectrumEstimation,
  SpectrumLiteral,
  Support,
  TransferEstimate,
  VibrationCurve,
  WindowName,
} from './vibration/types.js'
export { type WelchOptions, welch } from './vibration/welch.js'
