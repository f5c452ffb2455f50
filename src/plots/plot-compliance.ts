import { checkOptions, scopeOf } from '../internal/check.js'
import type { ComplexResult } from './complex-points.js'
import { type FigureOptions, figure, figureKeys } from './figure.js'
import { magnitudeLayers } from './magnitude-layers.js'
import type { VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotCompliance}. */
export interface PlotComplianceOptions extends FigureOptions {}

/** Figure of compliance, payload displacement per force, over frequency, both on logarithmic axes, one line per result.
 *
 * Samples at 0 Hz and values of 0 or Infinity, which a logarithmic axis cannot show, are left out; the subtitle counts
 * them.
 * @param results - compliance of a model [m/N], or several by name; at most 56
 * @param options - see {@link PlotComplianceOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `dimension-mismatch`; `not-finite` for NaN; `out-of-range` for too many
 * results and where nothing is left to show
 * @source common practice, no source; colours: M. Okabe, K. Ito, Color universal design, 2008
 * @example
 * import { compliance, passiveIsolation, plotCompliance } from 'restmass'
 * const model = passiveIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e5, damping: 600 } })
 * plotCompliance(compliance(model, [1, 5, 50])).layer[0].data.values.length // 3
 */
export function plotCompliance(
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
  options: PlotComplianceOptions = {},
): VegaLiteSpecification {
  const scope = scopeOf('plotCompliance')
  checkOptions(scope, options, figureKeys())
  const { layer, notes } = magnitudeLayers(scope, results, 'compliance', 'Compliance [m/N]')
  return figure(scope, options, 'Compliance', notes, layer)
}
