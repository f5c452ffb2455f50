import type { RigidMode, RigidPayload } from '../elements/rigid-payload-types.js'
import {
  checkNumber,
  checkNumbers,
  checkOptions,
  checkText,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { type FigureOptions, figure, figureKeys } from './figure.js'
import type { PlotChannel, PlotRow, VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotModes}. */
export interface PlotModesOptions extends FigureOptions {}

const axes = ['x', 'y', 'z', 'about x', 'about y', 'about z'] as const

/** Figure of the modes of a rigid payload: one row per mode with its frequency, damping ratio and name, one column per axis,
 * and a disc whose area is the part of the kinetic energy that moves along, or turns about, that axis.
 *
 * Parts of at least 5 % stand beside their disc in percent.
 * @param payload - what `rigidPayload` returned, or its modes
 * @param options - see {@link PlotModesOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `out-of-range` for a list without modes; `not-finite`
 * @source common practice, no source (kinetic energy of modes)
 * @example
 * import { plotModes, rigidPayload } from 'restmass'
 * const mount = { stiffness: 1e5, damping: 500, lateral: { stiffness: 5e4, damping: 300 } }
 * const supports = [[-1, -1], [1, -1], [-1, 1], [1, 1]].map(([x, y]) => ({ position: [x, y, 0] as const, mount }))
 * const payload = rigidPayload({ mass: 800, inertia: [90, 150, 200], centreOfMass: [0, 0, 0], supports })
 * plotModes(payload).layer[0].data.values[0].mode // '2.52 Hz, damping 0.047: along x'
 */
export function plotModes(
  payload: RigidPayload | readonly RigidMode[],
  options: PlotModesOptions = {},
): VegaLiteSpecification {
  const scope = scopeOf('plotModes')
  checkOptions(scope, options, figureKeys())
  const modes: unknown = Array.isArray(payload) ? payload : (payload as RigidPayload)?.modes
  if (!Array.isArray(modes)) fail('invalid-option', scope, `needs a RigidPayload or its modes, got ${show(payload)}`)
  if (modes.length === 0) fail('out-of-range', scope, 'needs at least one mode')
  const checked = Array.from(modes as RigidMode[], (mode, row) => checkedMode(within(scope, row), mode))
  const names = checked.map(inWords)
  const values = checked.flatMap(({ energy }, row): PlotRow[] =>
    Array.from(checkNumbers(within(scope, row), 'energy', energy, { atLeast: 0 }), (part, k) => ({
      mode: names[row],
      axis: axes[k],
      part,
      percent: `${Math.round(100 * part)} %`,
    })),
  )
  const place = (field: string, title: string, domain: readonly string[]): PlotChannel => ({
    field,
    type: 'ordinal',
    scale: { domain: [...domain] },
    axis: { title, labelAngle: 0, labelLimit: 400 },
  })
  const x = place('axis', 'Axis through the centre of mass', axes)
  const y = place('mode', 'Mode', names)
  const size: PlotChannel = {
    field: 'part',
    type: 'quantitative',
    scale: { domain: [0, 1], rangeMax: 700 },
    legend: null,
  }
  const text = { field: 'percent', type: 'nominal' } as const
  const shown = { height: 50 * modes.length, width: 480, ...options }
  return figure(
    scope,
    shown,
    'Modes by kinetic energy',
    [],
    [
      {
        data: { values: values.filter(({ part }) => (part as number) >= 0.001) },
        mark: { type: 'point', filled: true, color: '#0072B2', opacity: 0.8 },
        encoding: { x, y, size },
      },
      {
        data: { values: values.filter(({ part }) => (part as number) >= 0.05) },
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 16, fontSize: 10 },
        encoding: { x, y, text },
      },
    ],
  )
}

function checkedMode(scope: Scope, mode: RigidMode): RigidMode {
  checkText(scope, 'name', mode?.name)
  if (mode.frequency !== null) checkNumber(scope, 'frequency', mode.frequency, { unit: 'Hz', atLeast: 0 })
  if (mode.dampingRatio !== null) checkNumber(scope, 'dampingRatio', mode.dampingRatio, {})
  return mode
}

function inWords({ name, frequency, dampingRatio }: RigidMode): string {
  const digits = (value: number) => `${Number(value.toPrecision(3))}`
  if (frequency === null) return `falls over: ${name}`
  return `${digits(frequency)} Hz${dampingRatio === null ? '' : `, damping ${Number(dampingRatio.toPrecision(2))}`}: ${name}`
}
