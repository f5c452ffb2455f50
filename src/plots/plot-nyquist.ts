import { checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { type ComplexResult, complexPoints } from './complex-points.js'
import { type FigureOptions, figure, figureKeys, note } from './figure.js'
import { limitColour, lineStyles } from './line-styles.js'
import { refuseEmpty } from './refuse-empty.js'
import type { PlotChannel, PlotLayer, PlotRow, VegaLiteSpecification } from './vega-lite-specification.js'

/** Options of {@link plotNyquist}. The window is square, so that `width` sets the height too. */
export interface PlotNyquistOptions extends Omit<FigureOptions, 'height'> {
  /** Radius of the circle around −1 that no loop should enter, above 0 to 1. @defaultValue 0.5 */
  readonly modulusMargin?: number
  /** The window reaches from −reach to reach on both axes, above 1. @defaultValue 3 */
  readonly reach?: number
}

/** Figure of loops L in 1/(1 + L) in the complex plane, with −1 and a circle of given modulus margin around it.
 *
 * Only frequencies from 0 up are drawn, both axes with the same scale. What lies outside the window is clipped, and what
 * lies more than a million times its reach away is left out; the subtitle counts both.
 * @param results - loop, or several by name; at most 56
 * @param options - see {@link PlotNyquistOptions}
 * @returns a Vega-Lite specification with its data
 * @throws {@link IsolationError} `invalid-option`; `dimension-mismatch`; `not-finite` for NaN; `out-of-range` for too many
 * results and where nothing is left to show
 * @source K. J. Åström, R. M. Murray, Feedback Systems, 2008, section 9.3; colours: M. Okabe, K. Ito, 2008
 * @example
 * import { channel, frequencyResponse, lowPass, plotNyquist } from 'restmass'
 * const loop = frequencyResponse(lowPass({ cutoff: 5 }), [1, 5, 25])
 * const figure = plotNyquist(channel(loop, { input: 'u1', output: 'y1' }))
 * figure.title.subtitle // 'circle: modulus margin 0.5'
 */
export function plotNyquist(
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
  options: PlotNyquistOptions = {},
): VegaLiteSpecification {
  const scope = scopeOf('plotNyquist')
  const keys = figureKeys().filter((key) => key !== 'height')
  checkOptions(scope, options, [...keys, 'modulusMargin', 'reach'])
  const radius = checkOptional(scope, 'modulusMargin', options.modulusMargin, { above: 0, atMost: 1 }, 0.5)
  const reach = checkOptional(scope, 'reach', options.reach, { above: 1, atMost: 1e6 }, 3)
  const lines = complexPoints(scope, results)
  const all = lines.flatMap(({ name, points }) => points.map(({ frequency, re, im }) => ({ name, frequency, re, im })))
  const far = ({ re, im }: { re: number; im: number }) => Math.max(Math.abs(re), Math.abs(im))
  const values: PlotRow[] = all.filter((point) => far(point) <= 1e6 * reach)
  refuseEmpty(scope, values)
  const outside = all.filter((point) => far(point) > reach).length - (all.length - values.length)
  const size = options.width ?? 420
  return figure(
    scope,
    { ...options, width: size, height: size },
    'Loop in the complex plane',
    [
      `circle: modulus margin ${radius}`,
      ...note(outside, 'point', 'outside the window'),
      ...note(all.length - values.length, 'point', 'left out: too far away'),
    ],
    [
      ...bounds(radius, reach),
      {
        data: { values },
        mark: { type: 'line', clip: true, strokeWidth: 2 },
        encoding: {
          ...plane(reach),
          order: { field: 'frequency', type: 'quantitative' },
          ...lineStyles(lines.map(({ name }) => name)),
        },
      },
    ],
  )
}

function plane(reach: number): { readonly x: PlotChannel; readonly y: PlotChannel } {
  const axis = (field: string, title: string): PlotChannel => ({
    field,
    type: 'quantitative',
    scale: { type: 'linear', domain: [-reach, reach], nice: false, zero: false },
    axis: { title, format: '~g' },
  })
  return { x: axis('re', 'Real part [-]'), y: axis('im', 'Imaginary part [-]') }
}

/** The point −1 and the circle around it. */
function bounds(radius: number, reach: number): PlotLayer[] {
  const circle = Array.from({ length: 121 }, (_, step) => {
    const angle = (step * Math.PI) / 60
    return { step, re: -1 + radius * Math.cos(angle), im: radius * Math.sin(angle) }
  })
  return [
    {
      data: { values: circle },
      mark: { type: 'line', clip: true, color: limitColour, strokeWidth: 1, strokeDash: [3, 2] },
      encoding: { ...plane(reach), order: { field: 'step', type: 'quantitative' } },
    },
    {
      data: { values: [{ re: -1, im: 0 }] },
      mark: { type: 'point', color: limitColour, shape: 'cross', size: 60, filled: true },
      encoding: plane(reach),
    },
  ]
}
