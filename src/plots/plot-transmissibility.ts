import { checkOptions, checkText, scopeOf } from '../internal/check.js'
import type { ComplexResult } from './complex-points.js'
import { type FigureOptions, figure, figureKeys } from './figure.js'
import { limitColour } from './line-styles.js'
import { magnitudeLayers } from './magnitude-layers.js'
import type { VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotTransmissibility}. */
export interface PlotTransmissibilityOptions extends FigureOptions {
  /** Title of the vertical axis, for other ratios drawn in this way. @defaultValue 'Transmissibility [-]' */
  readonly axisTitle?: string
}

/** Figure of transmissibility over frequency, both on logarithmic axes, one line per result and a thin line at 1.
 *
 * |T| = √(re² + im²). Beneath a measured one lies the range of two standard deviations ε of its random error, from
 * |T|/(1 + 2ε) to |T|·(1 + 2ε). Samples at 0 Hz and values of 0 or Infinity, which a logarithmic axis cannot show, are left out;
 * the subtitle counts them.
 * @param results - transmissibility of a model or an estimate of one, or several by name; at most 56
 * @param options - see {@link PlotTransmissibilityOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `dimension-mismatch`; `not-finite` for NaN; `out-of-range` for too many
 * results and where nothing is left to show
 * @source common practice, no source; colours: M. Okabe, K. Ito, Color universal design, 2008
 * @example
 * import { passiveIsolation, plotTransmissibility, transmissibility } from 'restmass'
 * const model = passiveIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e5, damping: 600 } })
 * const figure = plotTransmissibility({ 'on springs': transmissibility(model, [1, 5, 50]) })
 * figure.layer.length // 2
 */
export function plotTransmissibility(
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
  options: PlotTransmissibilityOptions = {},
): VegaLiteSpecification {
  const scope = scopeOf('plotTransmissibility')
  checkOptions(scope, options, [...figureKeys(), 'axisTitle'])
  const axisTitle = checkText(scope, 'axisTitle', options.axisTitle ?? 'Transmissibility [-]')
  const { layer, y, notes } = magnitudeLayers(scope, results, 'transmissibility', axisTitle)
  return figure(scope, options, 'Transmissibility', notes, [
    {
      data: { values: [{ transmissibility: 1 }] },
      mark: { type: 'rule', color: limitColour, strokeWidth: 0.75 },
      encoding: { y },
    },
    ...layer,
  ])
}
