// Plots: results as Vega-Lite specifications, plain objects for any renderer of that grammar.

export type { ComplexResult } from './complex-points.js'
export type { FigureOptions } from './figure.js'
export { type PlotBandsOptions, plotBands } from './plot-bands.js'
export { type PlotNyquistOptions, plotNyquist } from './plot-nyquist.js'
export { type PlotTransmissibilityOptions, plotTransmissibility } from './plot-transmissibility.js'
export type {
  InlineData,
  PlotAxis,
  PlotChannel,
  PlotConfig,
  PlotEncoding,
  PlotLayer,
  PlotLegend,
  PlotMark,
  PlotRow,
  PlotScale,
  VegaLiteSpecification,
} from './vega-lite-specification.js'
