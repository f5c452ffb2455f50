// Plots: results as Vega-Lite specifications, plain objects for any renderer of that grammar.

export type { ComplexResult } from './complex-points.js'
export type { FigureOptions } from './figure.js'
export { type PlotBandsOptions, plotBands } from './plot-bands.js'
export { type PlotComplianceOptions, plotCompliance } from './plot-compliance.js'
export { type PlotLoopOptions, plotLoop } from './plot-loop.js'
export { type PlotModesOptions, plotModes } from './plot-modes.js'
export { type PlotNoiseBudgetOptions, plotNoiseBudget } from './plot-noise-budget.js'
export { type PlotNyquistOptions, plotNyquist } from './plot-nyquist.js'
export { type PlotSettlingOptions, plotSettling } from './plot-settling.js'
export { type PlotSweepOptions, plotSweep } from './plot-sweep.js'
export { type PlotTransmissibilityOptions, plotTransmissibility } from './plot-transmissibility.js'
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
} from './vega-lite-specification.js'
