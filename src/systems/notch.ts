import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import { cascade, secondOrder } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link notch}. */
export interface NotchOptions<I extends string = string, O extends string = string> {
  /** Frequency that is taken out [Hz], above 0. */
  readonly frequency: number
  /** Width [Hz], above 0, at most 1e6 × frequency: with `depth` 0, between the two points at which 1/√2 passes. */
  readonly bandwidth: number
  /** Gain left at `frequency` [1], from 0 to 1. @defaultValue 0 */
  readonly depth?: number
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** A notch filter with unit gain away from its frequency.
 *
 *     (s² + depth·b s + ω²)/(s² + b s + ω²)      b = 2π·bandwidth, ω = 2π·frequency
 * @param options - see {@link NotchOptions}
 * @returns a block with one input and one output
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source common practice, no source
 * @example
 * import { channel, frequencyResponse, magnitude, notch } from 'restmass'
 * const response = frequencyResponse(notch({ frequency: 30, bandwidth: 4, depth: 0.1 }), [30])
 * magnitude(channel(response, { input: 'u1', output: 'y1' }))[0] // 0.1
 */
export function notch<const I extends string = 'u1', const O extends string = 'y1'>(
  options: NotchOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('notch')
  checkOptions(scope, options, ['frequency', 'bandwidth', 'depth', 'input', 'output'])
  const frequency = checkNumber(scope, 'frequency', options.frequency, cornerRange)
  const widest = 1e6 * frequency
  const bandwidth = checkNumber(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0, atMost: widest })
  const depth = checkOptional(scope, 'depth', options.depth, { atLeast: 0, atMost: 1 }, 0)
  const relative = bandwidth / frequency
  const section = secondOrder(2 * Math.PI * frequency, relative / 2, { direct: 1, rate: depth * relative, level: 1 })
  return cascade(scope, [section], options)
}
