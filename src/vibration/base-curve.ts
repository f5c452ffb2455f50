import { checkOneOf, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import type { Criterion } from './criterion-types.js'
import { bandIndices, nominalFrequency } from './nominal-bands.js'

/** Options of {@link baseCurve}. */
export interface BaseCurveOptions {
  /** Direction of the motion; `'horizontal'` is felt more below 3 Hz, less above. */
  readonly direction: 'vertical' | 'horizontal'
  /** Factor on the curve, 0.01 to 1000: 1 for critical working areas, 1.4 for homes at night, 2 to 4 by day, 4 for offices,
   * 8 for workshops. @defaultValue 1 */
  readonly multiplier?: number
}

/** The base curve of human response as a criterion: about the threshold of feeling, times a multiplier for the use.
 *
 * Vertical rms acceleration: 0.01/√f m/s² from 1 to 4 Hz, 0.005 to 8 Hz, 0.005·f/8 to 80 Hz (99.5 µm/s). Horizontal:
 * 0.0036 m/s² from 1 to 2 Hz, 0.0036·f/2 to 80 Hz (286 µm/s). Local codes rule what is acceptable in a building.
 * @param options - see {@link BaseCurveOptions}
 * @returns limits [m/s] at the nominal band frequencies from 1 to 80 Hz
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`
 * @source ISO 2631-2:1989 and ISO 10137:2007, annex C (numbers from memory)
 * @example
 * import { baseCurve } from 'restmass'
 * const { velocity } = baseCurve({ direction: 'vertical', multiplier: 4 })
 * velocity[velocity.length - 1] // 3.97887e-4
 */
export function baseCurve(options: BaseCurveOptions): Criterion {
  const scope = scopeOf('baseCurve')
  checkOptions(scope, options, ['direction', 'multiplier'])
  const direction = checkOneOf(scope, 'direction', options.direction, ['vertical', 'horizontal'])
  const multiplier = checkOptional(scope, 'multiplier', options.multiplier, { atLeast: 0.01, atMost: 1000 }, 1)
  const acceleration = direction === 'vertical' ? vertical : horizontal
  const frequency = Float64Array.from(bandIndices(1, 80), nominalFrequency)
  const velocity = frequency.map((f) => (multiplier * acceleration(f)) / (2 * Math.PI * f))
  return { kind: 'Criterion', name: `${direction} base curve x ${multiplier}`, edition: null, frequency, velocity }
}

function vertical(frequency: number): number {
  if (frequency < 4) return 0.01 / Math.sqrt(frequency)
  return frequency < 8 ? 0.005 : (0.005 * frequency) / 8
}

function horizontal(frequency: number): number {
  return 0.0036 * Math.max(1, frequency / 2)
}
