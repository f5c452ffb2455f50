import type { PlotChannel, PlotLegend } from './vega-lite-specification.js'

/** Colours that people with any common colour vision tell apart, the darkest on white first; black is kept for limits.
 * @source M. Okabe, K. Ito, Color universal design, 2008 (revised set of eight colours)
 */
const colours = ['#0072B2', '#D55E00', '#009E73', '#CC79A7', '#56B4E9', '#E69F00', '#F0E442'] as const

/** Dashes [px] that tell lines apart in print without colour. */
const dashes: readonly (readonly number[])[] = [
  [],
  [8, 3],
  [2, 2],
  [8, 3, 2, 3],
  [14, 4],
  [8, 3, 2, 3, 2, 3],
  [4, 6],
  [1, 5],
]

/** As many lines as no two look the same in: seven colours and eight dashes go round one beside the other. */
export const mostLines = 56

/** Colour of what is no result but a bound to hold results against. */
export const limitColour = '#000000'

const legend: PlotLegend = {
  title: null,
  orient: 'bottom',
  direction: 'vertical',
  symbolType: 'stroke',
  symbolSize: 900,
  symbolStrokeWidth: 2,
  symbolLimit: mostLines,
  labelLimit: 400,
}

/** Colour and dash by name; a single line without a name needs no legend. */
export function lineStyles(names: readonly string[]): {
  readonly color: PlotChannel
  readonly strokeDash: PlotChannel
} {
  const shown = names.length === 1 && names[0] === '' ? null : legend
  const domain = [...names]
  return {
    color: {
      field: 'name',
      type: 'nominal',
      scale: { type: 'ordinal', domain, range: names.map((_, i) => colours[i % colours.length]) },
      legend: shown,
    },
    strokeDash: {
      field: 'name',
      type: 'nominal',
      scale: { type: 'ordinal', domain: [...names], range: names.map((_, i) => [...dashes[i % dashes.length]]) },
      legend: shown,
    },
  }
}
