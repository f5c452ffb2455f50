import { fail, scopeOf, within } from '../internal/check.js'
import type { Criterion } from './criterion-types.js'
import { type LimitCurveOptions, limitCurve, limitKeys } from './limit-curve.js'
import { bandIndices, nominalFrequency } from './nominal-bands.js'

/** Options of {@link customCriterion}. */
export type CustomCriterionOptions = LimitCurveOptions

/** A criterion from a table of corners, such as the floor specification of a machine.
 *
 * Straight lines in log-log scale between the corners, in the quantity they are given in, read at each nominal
 * one-third-octave frequency from the first corner to the last, and turned into rms velocity there: v = 2πf·x, v = a/(2πf),
 * rms = peak/crestFactor = peak-to-peak/(2·crestFactor). Limits per line of a narrow-band analysis: {@link lineCriterion}.
 * @param options - see {@link CustomCriterionOptions}
 * @returns limits [m/s] at nominal band frequencies
 * @throws {@link IsolationError} `invalid-option` if no nominal frequency lies between the corners, for none or several of
 * velocity, displacement and acceleration, and for a peak without crest factor; `dimension-mismatch`; `out-of-range`;
 * `not-finite`
 * @source common practice, no source
 * @example
 * import { customCriterion } from 'restmass'
 * const limit = customCriterion({ frequency: [4, 8, 80], velocity: [4e-6, 2e-6, 2e-6], name: 'microscope' })
 * Array.from(limit.velocity.slice(0, 4)) // [4e-6, 3.2e-6, 2.539683e-6, 2e-6]
 */
export function customCriterion(options: CustomCriterionOptions): Criterion {
  const scope = scopeOf('customCriterion')
  const { name, corners, at } = limitCurve(scope, options, limitKeys)
  const frequency = Float64Array.from(bandIndices(corners[0], corners[corners.length - 1]), nominalFrequency)
  if (frequency.length === 0) {
    fail(
      'invalid-option',
      within(scope, 'frequency'),
      'must reach over at least one nominal one-third-octave frequency',
    )
  }
  return { kind: 'Criterion', name, edition: null, frequency, velocity: frequency.map(at) }
}
