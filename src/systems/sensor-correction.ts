import { checkNumber, checkOneOf, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import { secondOrder } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link sensorCorrection}. */
export interface SensorCorrectionOptions {
  /** Corner above which the floor is taken out [Hz], above 0 */
  readonly corner: number
  /** Fraction of critical damping at the corner, above 0. @defaultValue 1/√2 */
  readonly dampingRatio?: number
  /** What the floor sensor gives. @defaultValue 'velocity' */
  readonly floor?: 'velocity' | 'displacement'
  /** Share of the floor that is added; 1 is perfect. @defaultValue 1 */
  readonly gain?: number
}

/** Correction of a relative sensor by one on the floor, so that it reads motion in space above a corner.
 *
 *     corrected = relative + gain·H·x_floor,  H = s²/(s² + 2ζωs + ω²)
 *
 * With the velocity of the floor H is s/(…), which integrates it. What the relative sensor sees of the floor, −x_floor, is
 * left as 1 − gain·H. Below the corner noise and tilt of the floor sensor are kept out.
 * @param options - see {@link SensorCorrectionOptions}
 * @returns a block with the inputs `relative` [m] and `floor` and the output `corrected` [m]
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source from memory: sensor correction, common practice in seismic isolation
 * @example
 * import { dcGain, sensorCorrection } from 'restmass'
 * dcGain(sensorCorrection({ corner: 0.1, floor: 'displacement' }))[0] // [1, 0]
 */
export function sensorCorrection(options: SensorCorrectionOptions): StateSpace<'relative' | 'floor', 'corrected'> {
  const scope = scopeOf('sensorCorrection')
  checkOptions(scope, options, ['corner', 'dampingRatio', 'floor', 'gain'])
  const omega = 2 * Math.PI * checkNumber(scope, 'corner', options.corner, cornerRange)
  const damping = checkOptional(scope, 'dampingRatio', options.dampingRatio, { above: 0 }, Math.SQRT1_2)
  const share = checkOptional(scope, 'gain', options.gain, {}, 1)
  const gives = checkOneOf(scope, 'floor', options.floor ?? 'velocity', ['velocity', 'displacement'])
  const parts = gives === 'velocity' ? { rate: share / omega } : { direct: share }
  const { A, B, C, D } = secondOrder(omega, damping, parts)
  return {
    kind: 'StateSpace',
    A,
    B: B.map((entry) => [0, entry]),
    C: [C],
    D: [[1, D]],
    inputs: ['relative', 'floor'],
    outputs: ['corrected'],
    states: ['x1', 'x2'],
    delays: null,
  }
}
