export { apparentAcceleration } from './apparent-acceleration.js'
export { type AveragesNeededOptions, averagesNeeded } from './averages-needed.js'
export { type BandHistoryOptions, bandHistory } from './band-history.js'
export { type BandStatisticOptions, bandStatistic } from './band-statistic.js'
export { type BandStream, type BandStreamOptions, bandStream } from './band-stream.js'
export { type BaseCurveOptions, baseCurve } from './base-curve.js'
export { type BestCriterionOptions, bestCriterion } from './best-criterion.js'
export type { ChangeOptions } from './change-in-time.js'
export { compareLinesToCriterion } from './compare-lines-to-criterion.js'
export { type CompareToCriterionOptions, compareToCriterion } from './compare-to-criterion.js'
export { type ConvertSpectrumOptions, convertSpectrum } from './convert-spectrum.js'
export { type CriterionOptions, criterion } from './criterion.js'
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
} from './criterion-types.js'
export { type CrossSpectrumOptions, crossSpectrum } from './cross-spectrum.js'
export { type CustomCriterionOptions, customCriterion } from './custom-criterion.js'
export {
  type DecibelsToValueOptions,
  decibelsToValue,
  type LevelOf,
  type ValueToDecibelsOptions,
  valueToDecibels,
} from './decibel-values.js'
export { type DecimateOptions, decimate } from './decimate.js'
export { type DifferentiateOptions, differentiate } from './differentiate.js'
export { type ExpectedPeak, type ExpectedPeakOptions, expectedPeak } from './expected-peak.js'
export { feedforwardBound } from './feedforward-bound.js'
export { type IntegrateOptions, integrate } from './integrate.js'
export { type LevelConfidence, type LevelConfidenceOptions, levelConfidence } from './level-confidence.js'
export type { LimitCurveOptions } from './limit-curve.js'
export { type LineCriterionOptions, lineCriterion } from './line-criterion.js'
export { newHighNoiseModel, newLowNoiseModel } from './noise-models.js'
export { type OneThirdOctaveBandsOptions, oneThirdOctaveBands } from './one-third-octave-bands.js'
export { type PressureFromLevelsOptions, pressureFromLevels } from './pressure-from-levels.js'
export { type RecordOptions, record } from './record.js'
export { type RecordLengthOptions, recordLength } from './record-length.js'
export type { RecordCheck, RecordFinding, RemovedTrend, VibrationRecord } from './record-types.js'
export { type RemoveResponseOptions, type ResponseRoot, removeResponse } from './remove-response.js'
export { type ResolutionBiasOptions, resolutionBias } from './resolution-bias.js'
export { type RmsOptions, rms } from './rms.js'
export type { SegmentOptions } from './segmentation.js'
export { type SoundPressureForceOptions, soundPressureForce } from './sound-pressure-force.js'
export { type SpectrogramOptions, spectrogram } from './spectrogram.js'
export { spectrogramBands } from './spectrogram-bands.js'
export { type SpectrumOptions, spectrum } from './spectrum.js'
export { type SpectrumStatisticOptions, spectrumStatistic } from './spectrum-statistic.js'
export { type TiltCrossoverOptions, tiltCrossover } from './tilt-crossover.js'
export type { TimeStatisticOptions } from './time-statistic.js'
export type { BandHistory, HistoryBand, Spectrogram } from './time-statistics-types.js'
export { toneLevels } from './tone-levels.js'
export { type TransferEstimateOptions, transferEstimate } from './transfer-estimate.js'
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
} from './types.js'
export { units } from './units.js'
export { weightedSpectrum, weighting } from './weightings.js'
export { type WelchOptions, welch } from './welch.js'
export { type WelchStream, type WelchStreamOptions, welchStream } from './welch-stream.js'
