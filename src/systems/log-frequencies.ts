import { checkNumber, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { inRatio } from '../internal/log-ratio.js'

/** Options of {@link logFrequencies}. */
export interface LogFrequenciesOptions {
  /** First frequency [Hz], above 0 */
  readonly from: number
  /** Last frequency [Hz], above `from` */
  readonly to: number
  /** Number of frequencies, 2 to a million */
  readonly count: number
}

/** Frequencies equally spaced in the logarithm, both ends exact.
 *
 * @param options - see {@link LogFrequenciesOptions}
 * @returns `count` ascending frequencies [Hz]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: f_k = from · (to/from)^(k/(count − 1))
 * @example
 * import { logFrequencies } from 'restmass'
 * Array.from(logFrequencies({ from: 1, to: 100, count: 3 })) // [1, 10, 100]
 */
export function logFrequencies(options: LogFrequenciesOptions): Float64Array {
  const scope = scopeOf('logFrequencies')
  checkOptions(scope, options, ['from', 'to', 'count'])
  const from = checkNumber(scope, 'from', options.from, { unit: 'Hz', above: 0 })
  const to = checkNumber(scope, 'to', options.to, { unit: 'Hz', above: from })
  const count = checkNumber(scope, 'count', options.count, { atLeast: 2, atMost: 1e6, integer: true })
  const grid = Float64Array.from({ length: count }, (_, k) => inRatio(from, to, k / (count - 1)))
  grid[count - 1] = to
  const repeated = grid.findIndex((frequency, k) => k > 0 && !(frequency > grid[k - 1]))
  if (repeated >= 0) {
    fail('out-of-range', within(scope, 'count'), `must leave ${from} to ${to} Hz distinct frequencies, got ${count}`, {
      value: count,
    })
  }
  return grid
}
