import { checkList, checkNumber, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { magnitude, phaseDegrees } from '../systems/series-values.js'
import type { ComplexSeries, Margins } from '../systems/types.js'
import { type ComplexPoint, type ComplexResult, complexPoints } from './complex-points.js'
import { type FigureOptions, figureKeys, note, stackedFigure } from './figure.js'
import { limitColour, lineStyles } from './line-styles.js'
import { linearAxis } from './linear-axis.js'
import { logAxis } from './log-axis.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotChannel, PlotLayer, PlotRow, StackedSpecification } from './vega-lite-specification.js'

/** Options of {@link plotLoop}. `height` is that of each of the two plotting areas. */
export interface PlotLoopOptions extends FigureOptions {
  /** Margins of the loop whose crossovers are marked, or of several by the names of the loops. @defaultValue no marks */
  readonly margins?: Margins | Readonly<Record<string, Margins>>
}

/** Figure of the magnitude and, beneath it, the phase of loops L in 1/(1 + L), with every crossover marked.
 *
 * A circle marks a crossover of |L| = 1, a diamond one of −180°; thin lines stand at 1 and at −180°. The phase is
 * unwrapped along the samples, so that the grid has to resolve it. Samples at 0 Hz and where |L| is 0 or Infinity are
 * left out, as are crossovers outside the range of the samples; the subtitle counts them.
 * @param results - loop, or several by name; at most 56
 * @param options - see {@link PlotLoopOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `dimension-mismatch`; `not-finite` for NaN; `out-of-range` for too many
 * results and where nothing is left to show
 * @source K. J. Åström, R. M. Murray, Feedback Systems, 2008, section 9.3; colours: M. Okabe, K. Ito, 2008
 * @example
 * import { channel, frequencyResponse, logFrequencies, lowPass, margins, plotLoop, series, gain } from 'restmass'
 * const loop = series(gain(20), lowPass({ cutoff: 5, order: 2 }))
 * const response = frequencyResponse(loop, logFrequencies({ from: 1, to: 100, count: 50 }))
 * const figure = plotLoop(channel(response, { input: 'u1', output: 'y1' }), { margins: margins(loop) })
 * figure.vconcat.length // 2
 */
export function plotLoop(
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
  options: PlotLoopOptions = {},
): StackedSpecification {
  const scope = scopeOf('plotLoop')
  checkOptions(scope, options, [...figureKeys(), 'margins'])
  const lines = complexPoints(scope, results)
  const marginsOf = marginsByName(
    scope,
    lines.map(({ name }) => name),
    options.margins,
  )
  let left = 0
  const rows = lines.map(({ name, points }) => {
    const shown = points.filter(({ frequency, re, im }) => frequency > 0 && isLevel(Math.hypot(re, im)))
    left += points.length - shown.length
    return loopRows(name, shown)
  })
  const values = rows.flat()
  refuseEmpty(scope, values)
  const crossings = lines.flatMap(({ name }, k) => crossingsOf(rows[k], marginsOf.get(name)))
  const marks = crossings.filter((row) => row !== null)
  return stackedFigure(
    scope,
    options,
    'Loop',
    [
      ...note(left, 'point', 'left out: not on a logarithmic axis'),
      ...note(crossings.length - marks.length, 'crossover', 'outside the range shown'),
    ],
    [
      panelOf(values, marks, logAxis('magnitude', 'Magnitude [-]', 'decades'), { magnitude: 1 }, lines),
      panelOf(values, marks, linearAxis('phase', 'Phase [degrees]'), { phase: -180 }, lines),
    ],
  )
}

function panelOf(
  values: PlotRow[],
  marks: PlotRow[],
  y: PlotChannel,
  limit: PlotRow,
  lines: readonly { readonly name: string }[],
): PlotLayer[] {
  const x = logAxis('frequency', 'Frequency [Hz]', 'data')
  const points = (kind: string, shape: string): PlotLayer[] => {
    const chosen = marks.filter((row) => row.crossover === kind)
    if (chosen.length === 0) return []
    const mark = { type: 'point', color: limitColour, shape, size: 50, filled: false } as const
    return [{ data: { values: chosen }, mark, encoding: { x, y } }]
  }
  return [
    { data: { values: [limit] }, mark: { type: 'rule', color: limitColour, strokeWidth: 0.75 }, encoding: { y } },
    {
      data: { values },
      mark: { type: 'line', strokeWidth: 2 },
      encoding: { x, y, ...lineStyles(lines.map(({ name }) => name)) },
    },
    ...points('gain', 'circle'),
    ...points('phase', 'diamond'),
  ]
}

function isLevel(value: number): boolean {
  return value > 0 && Number.isFinite(value)
}

interface LoopRow extends Readonly<Record<string, number | string>> {
  readonly name: string
  readonly frequency: number
  readonly magnitude: number
  readonly phase: number
}

function loopRows(name: string, points: readonly ComplexPoint[]): LoopRow[] {
  const list = (key: 'frequency' | 're' | 'im') => Float64Array.from(points, (point) => point[key])
  const loop: ComplexSeries = { kind: 'ComplexSeries', frequency: list('frequency'), re: list('re'), im: list('im') }
  const [size, phase] = [magnitude(loop), phaseDegrees(loop)]
  return points.map(({ frequency }, k) => ({ name, frequency, magnitude: size[k], phase: phase[k] }))
}

/** Crossovers as rows on the turn of the phase that is drawn there; null for those outside the samples. */
function crossingsOf(rows: readonly LoopRow[], margins: Margins | undefined): (PlotRow | null)[] {
  if (margins === undefined) return []
  const place = (crossover: string, frequency: number, magnitude: number, phase: number): PlotRow | null => {
    const after = rows.findIndex((row) => row.frequency >= frequency)
    if (after < 0 || (after === 0 && rows[0].frequency > frequency)) return null
    const near = rows[after].phase
    return { crossover, frequency, magnitude, phase: phase + 360 * Math.round((near - phase) / 360) }
  }
  return [
    ...margins.gainCrossovers.map(({ frequency, phaseMarginDegrees }) =>
      place('gain', frequency, 1, phaseMarginDegrees - 180),
    ),
    ...margins.phaseCrossovers.map(({ frequency, gainMargin }) => place('phase', frequency, 1 / gainMargin, -180)),
  ]
}

function marginsByName(
  scope: Scope,
  names: readonly string[],
  margins: PlotLoopOptions['margins'],
): ReadonlyMap<string, Margins> {
  if (margins === undefined) return new Map()
  const inner = within(scope, 'margins')
  if (typeof margins !== 'object' || margins === null)
    fail('invalid-option', inner, `must be Margins, got ${show(margins)}`)
  const one = (margins as Margins).kind === 'Margins'
  const named = one ? [[names[0], margins as Margins] as const] : Object.entries(margins as Record<string, Margins>)
  for (const [name, each] of named) {
    const at = one ? inner : within(inner, name)
    if (each?.kind !== 'Margins') fail('invalid-option', at, `must be Margins, got ${show(each)}`)
    for (const [key, second] of crossoverLists) {
      checkList<object>(at, key, each[key], 0, Infinity).forEach((crossover, k) => {
        const entry = crossover as Partial<Record<string, number>> | undefined
        const place = within(within(at, key), k)
        checkNumber(place, 'frequency', entry?.frequency, { unit: 'Hz', atLeast: 0 })
        checkNumber(place, second, entry?.[second], {})
      })
    }
    if (!names.includes(name)) fail('invalid-option', at, 'names no loop that is shown')
  }
  return new Map(named)
}

const crossoverLists = [
  ['gainCrossovers', 'phaseMarginDegrees'],
  ['phaseCrossovers', 'gainMargin'],
] as const
