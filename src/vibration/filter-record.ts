import type { Scope } from '../internal/check.js'
import type { Section } from '../systems/section.js'
import { runningFilter } from './digital-section.js'

/** A record through second-order sections one behind the other, as {@link runningFilter} makes them, exact at `exactAt`. */
export function filteredRecord(
  scope: Scope,
  samples: Float64Array,
  sampleRate: number,
  sections: readonly Section[],
  exactAt: number,
): Float64Array {
  const result = samples.slice()
  runningFilter(scope, sections, sampleRate, exactAt)(result)
  return result
}
