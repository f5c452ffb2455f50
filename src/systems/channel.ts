import { checkNumbers, checkOptions, fail, listed, scopeOf, show, within } from '../internal/check.js'
import { checkSeries } from './series-values.js'
import type { ComplexSeries, FrequencyResponse } from './types.js'

/** Options of {@link channel}. */
export interface ChannelOptions<I extends string = string, O extends string = string> {
  /** Name of an input of the response */
  readonly input: I
  /** Name of an output of the response */
  readonly output: O
}

/** One channel of a response, without copying it.
 *
 * @param response - of {@link frequencyResponse}
 * @param options - see {@link ChannelOptions}
 * @returns views on the samples from `input` to `output`
 * @throws {@link IsolationError} `unknown-port`, `invalid-option`
 * @source derived: entry (o, i, k) stands at (o · inputs + i) · n + k
 * @example
 * import { channel, frequencyResponse, stateSpace } from 'restmass'
 * const system = stateSpace({ A: [], B: [], C: [[], []], D: [[3], [4]], inputs: ['u'], outputs: ['a', 'b'] })
 * channel(frequencyResponse(system, [1]), { input: 'u', output: 'b' }).re[0] // 4
 */
export function channel<I extends string, O extends string>(
  response: FrequencyResponse<I, O>,
  options: ChannelOptions<NoInfer<I>, NoInfer<O>>,
): ComplexSeries {
  const scope = scopeOf('channel')
  checkOptions(scope, options, ['input', 'output'])
  const isResponse = response?.kind === 'FrequencyResponse'
  if (!isResponse || !Array.isArray(response.inputs) || !Array.isArray(response.outputs)) {
    fail('invalid-option', scope, `needs a FrequencyResponse, got ${show(response)}`)
  }
  const i = response.inputs.indexOf(options.input)
  const o = response.outputs.indexOf(options.output)
  const missing = i < 0 ? (['input', response.inputs] as const) : (['output', response.outputs] as const)
  if (i < 0 || o < 0) {
    fail(
      'unknown-port',
      within(scope, missing[0]),
      `is ${show(options[missing[0]])}; there are ${listed(missing[1].map(show))}`,
    )
  }
  const { frequency, re, im } = response
  const n = checkNumbers(scope, 'frequency', frequency).length
  const size = response.inputs.length * response.outputs.length * n
  if (!(re instanceof Float64Array && im instanceof Float64Array && re.length === size && im.length === size)) {
    fail('dimension-mismatch', scope, `needs ${size} real and imaginary parts as Float64Array`)
  }
  const start = (o * response.inputs.length + i) * n
  const samples: ComplexSeries = {
    kind: 'ComplexSeries',
    frequency,
    re: re.subarray(start, start + n),
    im: im.subarray(start, start + n),
  }
  checkSeries(scope, samples)
  return samples
}
