import type { MoveSettling } from '../assessment/move-and-settle.js'
import { checkNumber, checkNumbers, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { type FigureOptions, figureKeys, stackedFigure, widthOf } from './figure.js'
import { limitColour, lineStyles } from './line-styles.js'
import { linearAxis } from './linear-axis.js'
import { namedResults } from './named-results.js'
import { refuseEmpty } from './refuse-empty.js'
import { thinned } from './thinned.js'
import type { PlotChannel, PlotLayer, PlotRow, StackedSpecification } from './vega-lite-specification.js'

/** Options of {@link plotSettling}. `height` is that of each of the two plotting areas. */
export interface PlotSettlingOptions extends FigureOptions {}

/** Figure of the motion of a payload under a stage move [µm] over time [s], whole and, beneath, magnified around the band
 * within which it counts as settled.
 *
 * Motion counts from where the payload comes to rest. Dashed lines are the band, thin ones the end of the move, diamonds the
 * last exit from the band. A long record is thinned to what its width can show, extremes kept.
 * @param results - what `moveAndSettle` returned, or several by name; at most 56
 * @param options - see {@link PlotSettlingOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `out-of-range`; `not-finite`; `dimension-mismatch`
 * @source common practice, no source; colours: M. Okabe, K. Ito, Color universal design, 2008
 * @example
 * import { motionProfile, moveAndSettle, passiveIsolation, plotSettling, springMount } from 'restmass'
 * const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
 * const mount = springMount({ mass: 625, naturalFrequency: 1.8, dampingRatio: 0.07 })
 * const model = passiveIsolation({ payload: { mass: 625 }, mount })
 * const settling = moveAndSettle(model, { move: { profile, movingMass: 25 }, band: 1e-6, sampleTime: 0.01 })
 * plotSettling(settling).title.subtitle // 'settled 9.12 s after the move'
 */
export function plotSettling(
  results: MoveSettling | Readonly<Record<string, MoveSettling>>,
  options: PlotSettlingOptions = {},
): StackedSpecification {
  const scope = scopeOf('plotSettling')
  checkOptions(scope, options, figureKeys())
  const parts = namedResults(scope, results, (value) => (value as MoveSettling).kind === 'MoveSettling')
  const width = Math.ceil(widthOf(scope, options))
  const values = parts.flatMap(({ name, scope: at, result }) => motionOf(at, name, result, width))
  refuseEmpty(scope, values)
  const names = parts.map(({ name }) => name)
  const bands = [...new Set(parts.map(({ result }) => 1e6 * result.band))].flatMap((band) => [-band, band])
  const ends = [...new Set(parts.map(({ result }) => result.moveTime))]
  const exits = parts.flatMap(
    ({ name, result: { settlingTimeFromStart: time, band, restsAt, displacement, time: t } }) => {
      if (time === null || time === 0) return []
      const near = displacement[t.findIndex((sample) => sample >= time)] ?? restsAt
      return [{ name, time, displacement: near < restsAt ? -1e6 * band : 1e6 * band }]
    },
  )
  const reach = 4 * Math.max(...bands)
  const y = (title: string, domain?: number[]): PlotChannel => {
    const axis = linearAxis('displacement', title)
    return domain === undefined ? axis : { ...axis, scale: { ...axis.scale, domain, nice: false } }
  }
  return stackedFigure(
    scope,
    options,
    'Payload under a stage move',
    parts.map(({ name, result }) => (name === '' ? '' : `${name}: `) + inWords(result)),
    [
      panelOf(values, names, bands, ends, exits, y('Motion [µm]')),
      panelOf(values, names, bands, ends, exits, y('Motion near the band [µm]', [-reach, reach])),
    ],
  )
}

function inWords({ settlingTime }: MoveSettling): string {
  return settlingTime === null ? 'not settled' : `settled ${Number(settlingTime.toPrecision(3))} s after the move`
}

function motionOf(scope: Scope, name: string, result: MoveSettling, width: number): PlotRow[] {
  if (result?.kind !== 'MoveSettling') fail('invalid-option', scope, `must be a MoveSettling, got ${show(result)}`)
  const time = checkNumbers(scope, 'time', result.time, { unit: 's' })
  const displacement = checkNumbers(scope, 'displacement', result.displacement, { unit: 'm' })
  checkNumber(scope, 'band', result.band, { unit: 'm', above: 0 })
  checkNumber(scope, 'restsAt', result.restsAt, { unit: 'm' })
  checkNumber(scope, 'moveTime', result.moveTime, { unit: 's', atLeast: 0 })
  for (const key of ['settlingTime', 'settlingTimeFromStart'] as const) {
    if (result[key] !== null) checkNumber(scope, key, result[key], { unit: 's', atLeast: 0 })
  }
  if (time.length !== displacement.length) {
    fail('dimension-mismatch', within(scope, 'displacement'), `must have ${time.length} entries like time`)
  }
  return thinned(displacement, width).map((k) => ({
    name,
    time: time[k],
    displacement: 1e6 * (displacement[k] - result.restsAt),
  }))
}

function panelOf(
  values: PlotRow[],
  names: readonly string[],
  bands: readonly number[],
  ends: readonly number[],
  exits: readonly PlotRow[],
  y: PlotChannel,
): PlotLayer[] {
  const x = linearAxis('time', 'Time from the start of the move [s]')
  const rule = { type: 'rule', color: limitColour, strokeWidth: 1 } as const
  return [
    {
      data: { values: bands.map((displacement) => ({ displacement })) },
      mark: { ...rule, strokeDash: [3, 2] },
      encoding: { y },
    },
    { data: { values: ends.map((time) => ({ time })) }, mark: { ...rule, strokeWidth: 0.5 }, encoding: { x } },
    {
      data: { values },
      mark: { type: 'line', clip: true, strokeWidth: 1.5 },
      encoding: { x, y, ...lineStyles(names) },
    },
    ...(exits.length === 0
      ? []
      : [
          {
            data: { values: [...exits] },
            mark: { type: 'point', color: limitColour, shape: 'diamond', size: 50, filled: false },
            encoding: { x, y },
          } satisfies PlotLayer,
        ]),
  ]
}
