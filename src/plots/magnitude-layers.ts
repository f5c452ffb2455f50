import type { Scope } from '../internal/check.js'
import { type ComplexResult, complexPoints } from './complex-points.js'
import { note } from './figure.js'
import { lineStyles } from './line-styles.js'
import { logAxis } from './log-axis.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotChannel, PlotLayer, PlotRow } from './vega-lite-specification.js'

/** Lines of |z| over frequency on logarithmic axes. */
export interface MagnitudeLayers {
  readonly layer: PlotLayer[]
  readonly y: PlotChannel
  /** What is left out */
  readonly notes: string[]
}

/** One line per result, and beneath each estimate the range of two standard deviations of its random error. */
export function magnitudeLayers(
  scope: Scope,
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
  field: string,
  axisTitle: string,
): MagnitudeLayers {
  const lines = complexPoints(scope, results)
  const all = lines.flatMap(({ name, points }) =>
    points.map(({ frequency, re, im, error }) => ({ name, frequency, value: Math.hypot(re, im), error })),
  )
  const shown = all.filter(({ frequency, value }) => frequency > 0 && value > 0 && Number.isFinite(value))
  const values: PlotRow[] = shown.map(({ name, frequency, value }) => ({ name, frequency, [field]: value }))
  refuseEmpty(scope, values)
  const x = logAxis('frequency', 'Frequency [Hz]', 'data')
  const y = logAxis(field, axisTitle, 'decades')
  const styles = lineStyles(lines.map(({ name }) => name))
  const bands = errorBands(shown)
  return {
    y,
    notes: note(all.length - shown.length, 'point', 'left out: not on a logarithmic axis'),
    layer: [
      ...(bands.length === 0
        ? []
        : [
            {
              data: { values: bands },
              mark: { type: 'area', opacity: 0.25 },
              encoding: { x, y: { ...y, field: 'low' }, y2: { field: 'high' }, color: styles.color },
            } satisfies PlotLayer,
          ]),
      {
        data: { values },
        mark: { type: 'line', strokeWidth: 2 },
        encoding: { x, y, ...styles },
      },
    ],
  }
}

/** |z| divided and multiplied by 1 + 2ε, which stays positive where ε is large; nothing where there is no finite ε. */
function errorBands(
  rows: readonly { name: string; frequency: number; value: number; error: number | null }[],
): PlotRow[] {
  return rows.flatMap(({ name, frequency, value, error }) =>
    error === null ? [] : [{ name, frequency, low: value / (1 + 2 * error), high: value * (1 + 2 * error) }],
  )
}
