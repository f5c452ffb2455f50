import type { NoiseBudget } from '../assessment/noise-budget.js'
import {
  checkList,
  checkNumbers,
  checkOptions,
  checkRecord,
  checkText,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import type { Spectrum } from '../vibration/types.js'
import { type FigureOptions, figureKeys, note, stackedFigure } from './figure.js'
import { lineStyles } from './line-styles.js'
import { logAxis } from './log-axis.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotChannel, PlotLayer, PlotRow, StackedSpecification } from './vega-lite-specification.js'

/** Options of {@link plotNoiseBudget}. `height` is that of each of the two plotting areas. */
export interface PlotNoiseBudgetOptions extends FigureOptions {}

/** Figure of what each source contributes to the velocity of a payload: amplitude densities [(µm/s)/√Hz] and, beneath, the
 * rms of what lies at and above each frequency [µm/s], both over frequency on logarithmic axes.
 *
 * The subtitle names noise sources without a table, which are missing in the total, and the ranges where the total is above
 * that of the same hardware without control. A running rms ends at 0, which a logarithmic axis cannot show.
 * @param budget - what `noiseBudget` returned
 * @param options - see {@link PlotNoiseBudgetOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `out-of-range` where nothing is left to show
 * @source common practice, no source; colours: M. Okabe, K. Ito, Color universal design, 2008
 * @example
 * import { noiseBudget, passiveIsolation, plotNoiseBudget, spectrum, springMount } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-6, 1e-6] })
 * const mount = springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0.1 })
 * const figure = plotNoiseBudget(noiseBudget(passiveIsolation({ payload: { mass: 100 }, mount }), { floor }))
 * figure.vconcat[0]?.layer[0]?.encoding.color?.scale?.domain // ['total', 'floor']
 */
export function plotNoiseBudget(budget: NoiseBudget, options: PlotNoiseBudgetOptions = {}): StackedSpecification {
  const scope = scopeOf('plotNoiseBudget')
  if (budget?.kind !== 'NoiseBudget') fail('invalid-option', scope, `needs a NoiseBudget, got ${show(budget)}`)
  checkOptions(scope, options, figureKeys())
  const { runningRms } = budget
  const contributions = checkRecord(within(scope, 'contributions'), budget.contributions)
  const running = checkRecord(within(scope, 'runningRms'), runningRms).contributions
  const parts: Part[] = [
    partOf(within(scope, 'total'), 'total', budget.total, runningRms.total),
    ...Object.entries(contributions).map(([source, spectrum]) =>
      partOf(within(scope, `contributions.${source}`), inWords(source), spectrum, running?.[source]),
    ),
  ]
  const rows = (field: string, of: (part: (typeof parts)[number]) => ArrayLike<number>) =>
    parts.flatMap((part) => {
      const [name, { frequency }] = part
      return Array.from(of(part), (value, k): PlotRow => ({ name, frequency: frequency[k], [field]: 1e6 * value }))
    })
  const all = rows('density', ([, { density }]) => Float64Array.from(density, Math.sqrt))
  const densities = all.filter(({ density }) => (density as number) > 0)
  const runs = rows('rms', ([, , values]) => values).filter(({ rms }) => (rms as number) > 0)
  refuseEmpty(scope, densities)
  const names = parts.map(([name]) => name)
  return stackedFigure(
    scope,
    options,
    'Noise budget, velocity of the payload',
    [
      ...note(all.length - densities.length, 'point', 'left out: no density'),
      ...checkList(scope, 'unknown', budget.unknown, 0, 1000).map(
        (source, i) => `${inWords(checkText(within(scope, 'unknown'), i, source))} unknown`,
      ),
      ...checkList(scope, 'worseThanPassive', budget.worseThanPassive, 0, Infinity).map((range) => {
        const [from, to] = checkNumbers(scope, 'worseThanPassive', range) as number[]
        return `worse than without control: ${short(from)} to ${short(to)} Hz`
      }),
    ],
    [
      panelOf(densities, logAxis('density', 'Density [(µm/s)/√Hz]', 'decades'), names),
      panelOf(runs, logAxis('rms', 'Running rms [µm/s]', 'decades'), names),
    ],
  )
}

function panelOf(values: PlotRow[], y: PlotChannel, names: readonly string[]): PlotLayer[] {
  const x = logAxis('frequency', 'Frequency [Hz]', 'data')
  return [{ data: { values }, mark: { type: 'line', strokeWidth: 2 }, encoding: { x, y, ...lineStyles(names) } }]
}

type Part = readonly [name: string, spectrum: Spectrum, running: ArrayLike<number>]

function partOf(scope: Scope, name: string, spectrum: Spectrum, running: unknown): Part {
  const { length } = checkNumbers(scope, 'frequency', spectrum?.frequency, { unit: 'Hz', atLeast: 0 })
  const lists = [
    checkNumbers(scope, 'density', spectrum.density, { unit: '(m/s)²/Hz', atLeast: 0 }),
    checkNumbers(scope, 'runningRms', running, { unit: 'm/s', atLeast: 0 }),
  ]
  if (lists.some((list) => list.length !== length)) fail('dimension-mismatch', scope, `must have ${length} entries`)
  return [name, spectrum, lists[1]]
}

function short(frequency: number): string {
  return `${Number(frequency.toPrecision(3))}`
}

/** `lower_sensorNoise` as `lower sensor noise`. */
function inWords(name: string): string {
  return name.replace(/_|(?<=[a-z])(?=[A-Z])/g, ' ').toLowerCase()
}
