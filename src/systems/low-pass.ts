import { scopeOf } from '../internal/check.js'
import { checkCutoff } from './butterworth.js'
import { cascade, firstOrderLowPass, secondOrder } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link lowPass}. */
export interface LowPassOptions<I extends string = string, O extends string = string> {
  /** Corner frequency [Hz], above 0; a Butterworth filter passes 1/√2 of the amplitude there. */
  readonly cutoff: number
  /** Whole number from 1 to 20. @defaultValue 1, or 2 where `dampingRatio` is given */
  readonly order?: number
  /** Of a filter of order 2 [1], above 0. @defaultValue 1/√2 (Butterworth) */
  readonly dampingRatio?: number
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** A low-pass filter with unit gain below its corner: Butterworth of any order, or second order with a damping ratio.
 *
 *     order 1: ω/(s + ω)      order 2: ω²/(s² + 2ζω s + ω²)      ω = 2π·cutoff
 *
 * Higher orders are cascades of such sections, the flattest first; every state is of the magnitude of the signal.
 * @param options - see {@link LowPassOptions}
 * @returns a block with one input and one output
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source S. Butterworth, On the theory of filter amplifiers, Experimental Wireless 7, 1930
 * @example
 * import { channel, frequencyResponse, lowPass, magnitude } from 'restmass'
 * const filter = lowPass({ cutoff: 10, order: 2 })
 * const response = channel(frequencyResponse(filter, [20]), { input: 'u1', output: 'y1' })
 * magnitude(response)[0] // 0.24254
 */
export function lowPass<const I extends string = 'u1', const O extends string = 'y1'>(
  options: LowPassOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('lowPass')
  const { omega, dampingRatios, odd } = checkCutoff(scope, options)
  const pairs = dampingRatios.map((dampingRatio) => secondOrder(omega, dampingRatio, { level: 1 }))
  return cascade(scope, odd ? [firstOrderLowPass(omega), ...pairs] : pairs, options)
}
