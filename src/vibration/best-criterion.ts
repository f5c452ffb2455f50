import { checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkVelocityBands, comparisonOf } from './compare-to-criterion.js'
import { criterionKeys, namedCriterion, vibrationCurves } from './criterion.js'
import type { CriterionConvention, CriterionEdition, VibrationCurve } from './criterion-types.js'
import type { BandsLiteral } from './types.js'

/** Options of {@link bestCriterion}. */
export interface BestCriterionOptions {
  /** Form of the curves. @defaultValue `'2005'` */
  readonly edition?: CriterionEdition
  /** Round numbers of the curves. @defaultValue `'metric'` */
  readonly convention?: CriterionConvention
}

/** Name of the tightest generic vibration criterion that band levels meet.
 *
 * Only the bands given are judged, each curve over its own range: in the edition of 2005 bands below 4 Hz count for VC-C
 * and tighter only.
 * @param bands - one-third-octave bands of velocity
 * @param options - see {@link BestCriterionOptions}
 * @returns `'VC-A'` to `'VC-M'`, or null if not even VC-A is met
 * @throws {@link IsolationError} `unsupported` for bands of another quantity than velocity; `invalid-option` for bands that
 * no curve limits and for malformed bands
 * @source H. Amick, M. Gendreau, T. Busch, C. Gordon, Proc. SPIE 5933 (2005)
 * @example
 * import { bestCriterion } from 'restmass'
 * const bands = [{ nominal: 8, rms: 5e-6 }, { nominal: 10, rms: 7.5e-6 }]
 * bestCriterion({ quantity: 'velocity', bands }) // 'VC-C'
 */
export function bestCriterion(bands: BandsLiteral, options: BestCriterionOptions = {}): VibrationCurve | null {
  const scope = scopeOf('bestCriterion')
  const levels = checkVelocityBands(within(scope, 'bands'), bands)
  checkOptions(scope, options, criterionKeys)
  const comparisons = vibrationCurves.map((name) =>
    comparisonOf(levels, namedCriterion(scope, 'edition', name, options)),
  )
  if (comparisons.every((comparison) => comparison === null)) {
    fail('invalid-option', within(scope, 'bands'), 'must hold a band that a curve limits, from 1 to 80 Hz')
  }
  const best = comparisons.map((comparison) => comparison?.verdict).lastIndexOf('pass')
  return best < 0 ? null : vibrationCurves[best]
}
