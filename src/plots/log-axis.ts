import type { PlotChannel } from './vega-lite-specification.js'

/** A channel on a logarithmic axis, from the least to the largest value or on to whole decades. */
export function logAxis(field: string, title: string, ends: 'data' | 'decades'): PlotChannel {
  return {
    field,
    type: 'quantitative',
    scale: { type: 'log', nice: ends === 'decades' },
    axis: { title, format: '~g', labelOverlap: 'greedy', labelSeparation: 3 },
  }
}
