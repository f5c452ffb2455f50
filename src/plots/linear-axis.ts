import type { PlotChannel } from './vega-lite-specification.js'

/** A channel on a linear axis that need not begin at zero. */
export function linearAxis(field: string, title: string): PlotChannel {
  return { field, type: 'quantitative', scale: { type: 'linear', zero: false }, axis: { title, format: '.6~g' } }
}
