import { checkNumber, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { LineCriterion } from './criterion-types.js'
import { type LimitCurveOptions, limitCurve, limitKeys } from './limit-curve.js'

/** Options of {@link lineCriterion}. */
export interface LineCriterionOptions extends LimitCurveOptions {
  /** Width of a line [Hz], 1e-6 to 1e6: the resolution the limit was stated for */
  readonly lineWidth: number
}

/** A limit on every line of a narrow-band analysis, as some machines are specified.
 *
 * Such a limit cannot be turned into one per band without knowing whether the motion is tonal or random; it has to be held
 * against a spectrum with {@link compareLinesToCriterion}. Conversions as in {@link customCriterion}, at each corner.
 * @param options - see {@link LineCriterionOptions}
 * @returns limits [m/s] at the corners
 * @throws {@link IsolationError} as {@link customCriterion}
 * @source common practice, no source
 * @example
 * import { lineCriterion } from 'restmass'
 * const limit = lineCriterion({ frequency: [10, 100], displacement: [1e-8, 1e-9], lineWidth: 1 })
 * Array.from(limit.velocity) // [6.28319e-7, 6.28319e-7]
 */
export function lineCriterion(options: LineCriterionOptions): LineCriterion {
  const scope = scopeOf('lineCriterion')
  const { name, corners, at } = limitCurve(scope, options, [...limitKeys, 'lineWidth'])
  const lineWidth = checkNumber(scope, 'lineWidth', options.lineWidth, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const velocity = corners.map((corner) => finiteResult(scope, 'velocity', at(corner)))
  return { kind: 'LineCriterion', name, lineWidth, frequency: corners, velocity }
}
