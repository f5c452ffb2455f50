import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import type { StateSpace } from './types.js'

/** Options of {@link complementaryFilters}. */
export interface ComplementaryFiltersOptions {
  /** Where both inputs count alike [Hz], above 0 */
  readonly blend: number
  /** Powers of s with which the low input falls above it, and the high one below, 1 to 4. @defaultValue 2 */
  readonly order?: number
}

/** Coefficients of a, a², … in the low-pass, a = ω/(s + ω): the terms of (a + (1 − a))^(2n−1) with at least n factors a. */
const lowPassTerms: readonly (readonly number[])[] = [[1], [0, 3, -2], [0, 0, 10, -15, 6], [0, 0, 0, 35, -84, 70, -20]]

/** Blend of a sensor that is good at low frequencies with one that is good at high frequencies.
 *
 *     blended = L·low + (1 − L)·high
 *
 * L holds the upper n powers of ω of (s + ω)^(2n−1), over it: two inputs that agree pass unchanged at every frequency. A
 * relative sensor as `low` brings the floor in through L, an inertial one as `high` its noise and tilt through 1 − L.
 * @param options - see {@link ComplementaryFiltersOptions}
 * @returns a block with the inputs `low` and `high` and the output `blended`, 2n − 1 states
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source from memory: complementary filters by binomial expansion, common practice in seismic isolation
 * @example
 * import { complementaryFilters, dcGain } from 'restmass'
 * dcGain(complementaryFilters({ blend: 0.5 }))[0] // [1, 0]
 */
export function complementaryFilters(options: ComplementaryFiltersOptions): StateSpace<'low' | 'high', 'blended'> {
  const scope = scopeOf('complementaryFilters')
  checkOptions(scope, options, ['blend', 'order'])
  const omega = 2 * Math.PI * checkNumber(scope, 'blend', options.blend, cornerRange)
  const order = checkOptional(scope, 'order', options.order, { integer: true, atLeast: 1, atMost: 4 }, 2)
  const terms = lowPassTerms[order - 1]
  return {
    kind: 'StateSpace',
    A: terms.map((_, i) => terms.map((_, j) => (j === i ? -omega : j === i - 1 ? omega : 0))),
    B: terms.map((_, i) => (i === 0 ? [omega, -omega] : [0, 0])),
    C: [terms],
    D: [[0, 1]],
    inputs: ['low', 'high'],
    outputs: ['blended'],
    states: terms.map((_, i) => `x${i + 1}`),
    delays: null,
  }
}
