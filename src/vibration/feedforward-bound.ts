import { checkGrid, checkNumbers, fail, scopeOf, within } from '../internal/check.js'

/** Least part of the amplitude that any feedforward can leave: √(1 − γ²), γ² the coherence of what it senses and what it is
 * to cancel.
 *
 * @param estimate - frequencies [Hz], ascending, and the coherence at each, 0 to 1, such as a transfer estimate has; its
 * random error is that of the coherence, and few averages make it look better than it is
 * @returns the bound at each frequency, 0 to 1
 * @throws {@link IsolationError} `out-of-range`, `dimension-mismatch`, and errors of a malformed grid
 * @source J. S. Bendat, A. G. Piersol, Random Data, 4th edition 2010, section 6.1 (coherent output power)
 * @example
 * import { feedforwardBound } from 'restmass'
 * feedforwardBound({ frequency: [1, 2], coherence: [0.9, 0.99] })[1] // 0.1
 */
export function feedforwardBound(estimate: {
  readonly frequency: ArrayLike<number>
  readonly coherence: ArrayLike<number>
}): Float64Array {
  const scope = scopeOf('feedforwardBound')
  const at = within(scope, 'estimate')
  const frequency = checkGrid(at, 'frequency', estimate?.frequency, { unit: 'Hz', atLeast: 0 })
  const coherence = checkNumbers(at, 'coherence', estimate.coherence, { atLeast: 0, atMost: 1 })
  if (coherence.length !== frequency.length) {
    fail(
      'dimension-mismatch',
      within(at, 'coherence'),
      `must have ${frequency.length} entries, got ${coherence.length}`,
    )
  }
  return Float64Array.from(coherence, (value) => Math.sqrt(1 - value))
}
