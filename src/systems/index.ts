// Systems: named linear systems, connected, answered in frequency, judged.

export { type ChannelOptions, channel } from './channel.js'
export { type FrequencyResponseOptions, frequencyResponse } from './frequency-response.js'
export { type LogFrequenciesOptions, logFrequencies } from './log-frequencies.js'
export { margins } from './margins.js'
export { type PadeOptions, pade } from './pade.js'
export { poles } from './poles.js'
export { decibels, magnitude, phaseDegrees } from './series-values.js'
export { stability } from './stability.js'
export { type StateSpaceOptions, stateSpace } from './state-space.js'
export type {
  BlockRole,
  ComplexSeries,
  FrequencyResponse,
  GainCrossover,
  InternalDelays,
  Margins,
  Matrix,
  PhaseCrossover,
  Pole,
  Stability,
  StabilityVerdict,
  StateSpace,
} from './types.js'
