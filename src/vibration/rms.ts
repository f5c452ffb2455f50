import { checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkSpectrum } from './check.js'
import { checkCovered, coveredRange, meanSquare } from './mean-square.js'
import type { SpectrumLiteral } from './types.js'

/** Options of {@link rms}. */
export interface RmsOptions {
  /** Lower limit [Hz], at least 0. @defaultValue all that the spectrum covers, with its lines whole */
  readonly from?: number
  /** Upper limit [Hz], above `from`. @defaultValue all that the spectrum covers, with its lines whole */
  readonly to?: number
}

/** Root mean square of what a spectrum holds between two frequencies.
 *
 * √∫S df. Lines count as constant over half a spacing on both sides, shared where a limit falls inside; without limits
 * every line counts whole. Points are joined by power laws and integrated exactly; a piece that touches zero frequency or
 * zero density is linear.
 * @param spectrum - a {@link SpectrumLiteral}
 * @param options - see {@link RmsOptions}
 * @returns rms [unit of the quantity]
 * @throws {@link IsolationError} `out-of-range` for limits outside of what the spectrum covers; `invalid-option` and others
 * for a malformed spectrum
 * @source common practice, no source
 * @example
 * import { rms } from 'restmass'
 * const density = { quantity: 'acceleration', frequency: [1, 10, 100], density: [1e-12, 1e-10, 1e-10] } as const
 * rms(density, { from: 1, to: 100 }) // 9.6607e-5
 */
export function rms(spectrum: SpectrumLiteral, options: RmsOptions = {}): number {
  const scope = scopeOf('rms')
  const checked = checkSpectrum(within(scope, 'spectrum'), spectrum)
  checkOptions(scope, options, ['from', 'to'])
  const [start, end] = coveredRange(checked)
  const from = checkOptional(scope, 'from', options.from, { unit: 'Hz', atLeast: 0 }, start)
  const to = checkOptional(scope, 'to', options.to, { unit: 'Hz', above: 0 }, end)
  if (from > to) fail('invalid-option', within(scope, 'from'), `must not be above to, got ${from} and ${to} Hz`)
  checkCovered(scope, checked, from, to)
  return Math.sqrt(meanSquare(checked, from, to))
}
