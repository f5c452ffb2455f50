import { checkGrid, checkNumbers, checkOptions, fail, scopeOf, show, within } from '../internal/check.js'
import { checkSameLength } from './check.js'
import { bandIndices, nominalFrequency } from './nominal-bands.js'
import type { Criterion } from './types.js'

/** Options of {@link customCriterion}. */
export interface CustomCriterionOptions {
  /** Corner frequencies [Hz], ascending, 1e-6 to 1e6; bands outside are not limited */
  readonly frequency: readonly number[] | Float64Array
  /** Allowed rms velocity at each corner [m/s], above 0 */
  readonly velocity: readonly number[] | Float64Array
  /** Name of the curve. @defaultValue `'custom'` */
  readonly name?: string
}

/** A criterion from a table of corners, such as the floor specification of a machine.
 *
 * Straight lines in log-log scale between the corners, read at each nominal one-third-octave frequency from the first
 * corner to the last.
 * @param options - see {@link CustomCriterionOptions}
 * @returns limits [m/s] at nominal band frequencies
 * @throws {@link IsolationError} `invalid-option` if no nominal frequency lies between the corners; `dimension-mismatch`;
 * `out-of-range`; `not-finite`
 * @source common practice, no source
 * @example
 * import { customCriterion } from 'restmass'
 * const limit = customCriterion({ frequency: [4, 8, 80], velocity: [4e-6, 2e-6, 2e-6], name: 'microscope' })
 * Array.from(limit.velocity.slice(0, 4)) // [4e-6, 3.2e-6, 2.539683e-6, 2e-6]
 */
export function customCriterion(options: CustomCriterionOptions): Criterion {
  const scope = scopeOf('customCriterion')
  checkOptions(scope, options, ['frequency', 'velocity', 'name'])
  const corners = checkGrid(scope, 'frequency', options.frequency, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const values = Float64Array.from(checkNumbers(scope, 'velocity', options.velocity, { unit: 'm/s', above: 0 }))
  checkSameLength(scope, 'velocity', values, corners)
  const name = options.name ?? 'custom'
  if (typeof name !== 'string' || name === '') {
    fail('invalid-option', within(scope, 'name'), `must be a text that is not empty, got ${show(name)}`)
  }
  const frequency = Float64Array.from(bandIndices(corners[0], corners[corners.length - 1]), nominalFrequency)
  if (frequency.length === 0) {
    fail(
      'invalid-option',
      within(scope, 'frequency'),
      'must reach over at least one nominal one-third-octave frequency',
    )
  }
  return {
    kind: 'Criterion',
    name,
    edition: null,
    frequency,
    velocity: frequency.map((f) => between(corners, values, f)),
  }
}

function between(corners: Float64Array, values: Float64Array, frequency: number): number {
  const right = corners.findIndex((corner) => corner >= frequency)
  if (corners[right] === frequency) return values[right]
  const share = Math.log(frequency / corners[right - 1]) / Math.log(corners[right] / corners[right - 1])
  return values[right - 1] * (values[right] / values[right - 1]) ** share
}
