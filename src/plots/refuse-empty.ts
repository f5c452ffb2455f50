import { fail, type Scope } from '../internal/check.js'
import type { PlotRow } from './vega-lite-specification.js'

/** Refuses a figure without anything in it. */
export function refuseEmpty(scope: Scope, rows: readonly PlotRow[]): void {
  if (rows.length === 0) fail('out-of-range', scope, 'has no point that the figure can show')
}
