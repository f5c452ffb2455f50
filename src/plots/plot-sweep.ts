import type { SweepResult, SweepRow } from '../assessment/sweep.js'
import {
  checkList,
  checkOptions,
  checkRecord,
  checkText,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { type FigureOptions, figure, figureKeys, note } from './figure.js'
import { linearAxis } from './linear-axis.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotChannel, PlotRow, VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotSweep}. */
export interface PlotSweepOptions extends FigureOptions {
  /** Parameter along the horizontal axis */
  readonly x: string
  /** Parameter along the vertical axis. @defaultValue none: the value itself is drawn upwards */
  readonly y?: string
  /** Name of the number in the results that is shown */
  readonly value: string
  /** Titles with units for the two parameters and the value. @defaultValue their names */
  readonly titles?: { readonly [name: string]: string }
}

/** Figure of one number of a sweep: a map of colours over two parameters, or points over one.
 *
 * Colours run from dark to light with the value and stay apart in print. Points of the sweep without a finite number are
 * left blank and counted in the subtitle.
 * @param result - what `sweep` returned
 * @param options - see {@link PlotSweepOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option` for a name that is not in the sweep and where two rows fall on one cell
 * of the map; `out-of-range` where nothing is left to show
 * @source J. R. Nuñez, C. R. Anderton, R. S. Renslow, PLOS ONE 13 (2018) e0199239 (colours)
 * @example
 * import { naturalFrequency, plotSweep, sweep } from 'restmass'
 * const result = sweep({
 *   parameters: { mass: [100, 200], stiffness: [1e4, 2e4, 3e4] },
 *   evaluate: (point) => ({ frequency: naturalFrequency(point) }),
 * })
 * plotSweep(result, { x: 'stiffness', y: 'mass', value: 'frequency' }).layer[0].data.values.length // 6
 */
export function plotSweep(result: SweepResult, options: PlotSweepOptions): VegaLiteSpecification {
  const scope = scopeOf('plotSweep')
  if (result?.kind !== 'SweepResult') fail('invalid-option', scope, `needs a result of sweep, got ${show(result)}`)
  checkOptions(scope, options, [...figureKeys(), 'x', 'y', 'value', 'titles'])
  checkList<Partial<SweepRow> | undefined>(scope, 'rows', result.rows, 0, Infinity).forEach((row, k) => {
    const at = within(within(scope, 'rows'), k)
    const parts = [row?.parameters, row?.result ?? {}]
    if (parts.some((part) => typeof part !== 'object' || part === null)) {
      fail('invalid-option', at, `must be a row of a sweep, got ${show(row)}`)
    }
    if (Object.values(parts[0] as object).some(Number.isNaN))
      fail('not-finite', at, 'must have parameters that are something, got NaN')
  })
  const { x, y, value, titles = {} } = options
  const at = within(scope, 'titles')
  for (const [name, text] of Object.entries(checkRecord(at, titles))) checkText(at, name, text)
  const axes = y === undefined ? [x] : [x, y]
  axes.forEach((name, k) => {
    checkName(scope, k === 0 ? 'x' : 'y', name, result.rows, ({ parameters }) => parameters)
  })
  checkName(scope, 'value', value, result.rows, (row) => row.result ?? {})
  const values = result.rows.flatMap((row) => shownRow(row, axes, value))
  refuseEmpty(scope, values)
  if (y !== undefined) refuseStacked(scope, values, x, y)
  const title = (name: string) => titles[name] ?? name
  const notes = note(result.rows.length - values.length, 'point', 'without a number')
  if (y === undefined) {
    const encoding = { x: linearAxis(x, title(x)), y: linearAxis(value, title(value)) }
    return figure(scope, options, title(value), notes, [
      { data: { values }, mark: { type: 'point', filled: true, size: 40, color: '#0072B2' }, encoding },
    ])
  }
  const cell = (field: string): PlotChannel => ({ field, type: 'ordinal', axis: { title: title(field) } })
  const color: PlotChannel = {
    field: value,
    type: 'quantitative',
    scale: { type: 'linear', scheme: 'cividis' },
    legend: { title: title(value), orient: 'right' },
  }
  return figure(scope, options, title(value), notes, [
    { data: { values }, mark: { type: 'rect' }, encoding: { x: cell(x), y: cell(y), color } },
  ])
}

function checkName(
  scope: Scope,
  key: string,
  name: unknown,
  rows: readonly SweepRow[],
  part: (row: SweepRow) => object,
): void {
  if (typeof name === 'string' && rows.some((row) => Object.hasOwn(part(row), name))) return
  const names = [...new Set(rows.flatMap((row) => Object.keys(part(row))))].join(', ')
  fail('invalid-option', within(scope, key), `must be one of ${names}, got ${show(name)}`)
}

function shownRow({ parameters, result }: SweepRow, axes: readonly string[], value: string): PlotRow[] {
  const level = result?.[value]
  const places = axes.map((name) => [name, parameters[name]] as const)
  const placed = places.every(([, place]) => typeof place === 'number' || typeof place === 'string')
  if (!placed || typeof level !== 'number' || !Number.isFinite(level)) return []
  return [{ ...(Object.fromEntries(places) as PlotRow), [value]: level }]
}

function refuseStacked(scope: Scope, rows: readonly PlotRow[], x: string, y: string): void {
  const seen = new Set<string>()
  for (const row of rows) {
    const cell = `${row[x]}|${row[y]}`
    if (seen.has(cell)) fail('invalid-option', scope, `has several points at ${x} ${row[x]}, ${y} ${row[y]}; keep one`)
    seen.add(cell)
  }
}
