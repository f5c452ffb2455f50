import { checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { checkedCriterion, checkVelocityBands } from '../vibration/compare-to-criterion.js'
import type { Criterion, CriterionName } from '../vibration/criterion-types.js'
import { lowerEdge, nearestBandIndex } from '../vibration/nominal-bands.js'
import type { BandsLiteral } from '../vibration/types.js'
import { type FigureOptions, figure, figureKeys, note } from './figure.js'
import { limitColour, lineStyles } from './line-styles.js'
import { logAxis } from './log-axis.js'
import { namedResults } from './named-results.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotLayer, PlotRow, VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotBands}. */
export interface PlotBandsOptions extends FigureOptions {
  /** Criterion to hold the bands against, or several, each drawn in black with its name. @defaultValue none */
  readonly criterion?: Criterion | CriterionName | readonly (Criterion | CriterionName)[]
  /** Bands of the noise of the sensor that measured, drawn as a grey area. @defaultValue none */
  readonly sensorNoise?: BandsLiteral
}

/** Figure of one-third-octave rms velocities [µm/s] over frequency, both on logarithmic axes, as one staircase per result.
 *
 * Every band reaches from its lower to its upper edge; one with flags, which rests on too little, is dotted. Within the grey
 * area a level is the sensor's own noise. Bands without level, which a logarithmic axis cannot show, are left out; the
 * subtitle counts both.
 * @param results - bands of velocity, or several by name; at most 56
 * @param options - see {@link PlotBandsOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `unsupported` for bands of another quantity than velocity; `invalid-option`; `out-of-range`
 * for too many results and where nothing is left to show
 * @source IEC 61260-1:2014 (edges of bands); colours: M. Okabe, K. Ito, Color universal design, 2008
 * @example
 * import { plotBands } from 'restmass'
 * const bands = [{ nominal: 8, rms: 5e-6 }, { nominal: 10, rms: 7.5e-6 }]
 * const figure = plotBands({ quantity: 'velocity', bands }, { criterion: 'VC-D' })
 * figure.layer[0].data.values.map((row) => row.velocity) // [5, 5, 7.5, 7.5]
 */
export function plotBands(
  results: BandsLiteral | Readonly<Record<string, BandsLiteral>>,
  options: PlotBandsOptions = {},
): VegaLiteSpecification {
  const scope = scopeOf('plotBands')
  checkOptions(scope, options, [...figureKeys(), 'criterion', 'sensorNoise'])
  const lines = namedResults(scope, results, (value) => Array.isArray((value as BandsLiteral).bands))
  let silent = 0
  let rough = 0
  const heard = (at: Scope, result: BandsLiteral) => {
    const levels = [...checkVelocityBands(at, result)]
    const audible = levels.filter(([, level]) => level > 0)
    silent += levels.length - audible.length
    return audible
  }
  const all = lines.map(({ name, scope: at, result }, group) => {
    const levels = heard(at, result)
    const flagged = new Set(
      result.bands.filter(({ flags = [] }) => flags.length > 0).map(({ nominal }) => nearestBandIndex(nominal)),
    )
    const doubtful = levels.filter(([index]) => flagged.has(index))
    const sure = levels.filter(([index]) => !flagged.has(index))
    rough += doubtful.length
    return { known: staircase(name, group, new Map(sure)), rough: staircase(name, group, new Map(doubtful)) }
  })
  const [known, dotted] = [all.flatMap((each) => each.known), all.flatMap((each) => each.rough)]
  const values = [...known, ...dotted]
  refuseEmpty(scope, values)
  const styles = lineStyles(lines.map(({ name }) => name))
  const { sensorNoise } = options
  const noise =
    sensorNoise === undefined
      ? []
      : staircase('sensor noise', 0, new Map(heard(within(scope, 'sensorNoise'), sensorNoise)))
  const layer: PlotLayer[] = [
    ...(noise.length === 0 ? [] : noiseLayers(noise, values)),
    ...lineLayer(known, { ...steps(), ...styles }, {}),
    ...lineLayer(dotted, { ...steps(), ...styles }, { strokeDash: [1, 3] }),
    ...limitLayers(criteriaOf(options).map((given) => checkedCriterion(scope, given, {}))),
  ]
  const notes = [
    ...note(silent, 'band', 'left out: no level'),
    ...note(rough, 'band', 'dotted: few lines or a short record'),
  ]
  return figure(scope, options, 'Velocity in one-third-octave bands', notes, layer)
}

function criteriaOf({ criterion }: PlotBandsOptions): readonly (Criterion | CriterionName)[] {
  if (criterion === undefined) return []
  return isList(criterion) ? criterion : [criterion]
}

function isList<T>(value: T | readonly T[]): value is readonly T[] {
  return Array.isArray(value)
}

/** Staircases as lines; no layer where there are none. */
function lineLayer(values: PlotRow[], encoding: PlotLayer['encoding'], dash: { strokeDash?: number[] }): PlotLayer[] {
  return values.length === 0 ? [] : [{ data: { values }, mark: { type: 'line', strokeWidth: 2, ...dash }, encoding }]
}

function steps(): PlotLayer['encoding'] {
  return {
    x: logAxis('frequency', 'Frequency [Hz]', 'data'),
    y: logAxis('velocity', 'Velocity, rms in one-third octaves [µm/s]', 'decades'),
    detail: { field: 'piece', type: 'nominal' },
    order: { field: 'step', type: 'quantitative' },
  }
}

/** Levels [m/s] by band index as the corners of a staircase in µm/s, in pieces where bands are missing. */
function staircase(name: string, group: number, levels: ReadonlyMap<number, number>): PlotRow[] {
  let piece = 0
  let previous: number | null = null
  return [...levels.keys()]
    .sort((a, b) => a - b)
    .flatMap((index) => {
      if (previous !== null && index !== previous + 1) piece++
      previous = index
      const row = { name, piece: `${group}.${piece}`, velocity: 1e6 * (levels.get(index) as number) }
      return [
        { ...row, frequency: lowerEdge(index), step: 2 * index },
        { ...row, frequency: lowerEdge(index + 1), step: 2 * index + 1 },
      ]
    })
}

/** The area from a noise floor down to the decade beneath the least level, with its name on the left. */
function noiseLayers(noise: PlotRow[], others: readonly PlotRow[]): PlotLayer[] {
  // Areas follow x by themselves; an order would split them.
  const { x, y, detail } = steps()
  const lowest = Math.min(...[...noise, ...others].map(({ velocity }) => velocity as number))
  const least = 10 ** Math.floor(Math.log10(lowest))
  const rows = noise.map((row) => ({ ...row, least }))
  return [
    {
      data: { values: rows },
      mark: { type: 'area', color: '#999999', opacity: 0.4 },
      encoding: { x, y, y2: { field: 'least' }, detail },
    },
    {
      data: { values: rows.slice(0, 1) },
      mark: { type: 'text', color: '#555555', align: 'left', baseline: 'bottom', dx: 4, fontSize: 11 },
      encoding: { x, y, text: { field: 'name', type: 'nominal' } },
    },
  ]
}

/** Criteria as thin black staircases with their names at the right end. */
function limitLayers(criteria: readonly Criterion[]): PlotLayer[] {
  if (criteria.length === 0) return []
  const stairs = criteria.map(({ name, frequency, velocity }, group) =>
    staircase(name, group, new Map(Array.from(frequency, (f, k) => [nearestBandIndex(f), velocity[k]]))),
  )
  const { x, y, detail, order } = steps()
  const name = { field: 'name', type: 'nominal' } as const
  return [
    {
      data: { values: stairs.flat() },
      mark: { type: 'line', color: limitColour, strokeWidth: 1, strokeDash: [3, 2] },
      encoding: { x, y, detail, order },
    },
    {
      data: { values: stairs.flatMap((rows) => rows.slice(-1)) },
      mark: { type: 'text', color: limitColour, align: 'left', baseline: 'middle', dx: 4, fontSize: 11 },
      encoding: { x, y, text: name },
    },
  ]
}
