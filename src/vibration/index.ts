export { type BestCriterionOptions, bestCriterion } from './best-criterion.js'
export { type CompareToCriterionOptions, compareToCriterion } from './compare-to-criterion.js'
export { type ConvertSpectrumOptions, convertSpectrum } from './convert-spectrum.js'
export { type CriterionOptions, criterion } from './criterion.js'
export { type CrossSpectrumOptions, crossSpectrum } from './cross-spectrum.js'
export { type CustomCriterionOptions, customCriterion } from './custom-criterion.js'
export { newHighNoiseModel, newLowNoiseModel } from './noise-models.js'
export { type OneThirdOctaveBandsOptions, oneThirdOctaveBands } from './one-third-octave-bands.js'
export { type RmsOptions, rms } from './rms.js'
export type { SegmentOptions } from './segmentation.js'
export { type SpectrumOptions, spectrum } from './spectrum.js'
export { toneLevels } from './tone-levels.js'
export { type TransferEstimateOptions, transferEstimate } from './transfer-estimate.js'
export type {
  Averaging,
  Band,
  BandRatio,
  Bands,
  BandsLiteral,
  Criterion,
  CriterionComparison,
  CriterionEdition,
  CriterionName,
  CrossSpectrum,
  Detrend,
  Quantity,
  Spectrum,
  SpectrumEstimation,
  SpectrumLiteral,
  Support,
  TransferEstimate,
  VibrationCurve,
  WindowName,
} from './types.js'
export { type WelchOptions, welch } from './welch.js'
export { type WelchStream, type WelchStreamOptions, welchStream } from './welch-stream.js'
