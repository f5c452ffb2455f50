import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'

/** Options of {@link levellingValve}. */
export interface LevellingValveOptions {
  /** Volume flow into one spring chamber per height error [m³/s per m], above 0 */
  readonly flowGain: number
  /** Height error on either side that moves no air [m], at least 0. @defaultValue 0 */
  readonly deadBand?: number
  /** Time between a height error and the flow it causes [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** A height control that feeds air in proportion to the height error; made by {@link levellingValve}. */
export interface LevellingValve {
  readonly kind: 'LevellingValve'
  /** [m³/s per m] */
  readonly flowGain: number
  /** [m] */
  readonly deadBand: number
  /** [s] */
  readonly delay: number
}

/** A levelling valve, to be given as `levelling` of a concept with air springs.
 *
 * The gas part of the air spring becomes K·(1 + κ/s), κ = flowGain/area; the height error counts positive where the
 * payload is low. The linear model has no dead band: the value is carried for judging how well a height repeats.
 * @param options - see {@link LevellingValveOptions}
 * @returns the valve
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: mass balance of the spring chamber, p₁' = n·p_abs·(A·z' + flowGain·z)/V₁ for compression z
 * @example
 * import { levellingValve } from 'restmass'
 * levellingValve({ flowGain: 0.006 }).deadBand // 0
 */
export function levellingValve(options: LevellingValveOptions): LevellingValve {
  const scope = scopeOf('levellingValve')
  checkOptions(scope, options, ['flowGain', 'deadBand', 'delay'])
  return {
    kind: 'LevellingValve',
    flowGain: checkNumber(scope, 'flowGain', options.flowGain, { unit: 'm³/s per m', above: 0 }),
    deadBand: checkOptional(scope, 'deadBand', options.deadBand, { unit: 'm', atLeast: 0 }, 0),
    delay: checkOptional(scope, 'delay', options.delay, { unit: 's', atLeast: 0 }, 0),
  }
}
