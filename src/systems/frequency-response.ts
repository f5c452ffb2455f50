import { checkGrid, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { checkAnySystem } from './check.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { relevantPart } from './relevant-states.js'
import type { DiscreteStateSpace, FrequencyResponse, StateSpace } from './types.js'

/** Options of {@link frequencyResponse}. */
export interface FrequencyResponseOptions<I extends string = string, O extends string = string> {
  /** Inputs wanted, in this order. @defaultValue all of the system */
  readonly inputs?: readonly I[]
  /** Outputs wanted, in this order. @defaultValue all of the system */
  readonly outputs?: readonly O[]
}

/** Complex response of a system over a grid of frequencies.
 *
 * G(jω) = C (jω I − A)⁻¹ B + D with ω = 2πf; delays enter exactly as e^(−jωτ). The states are balanced, reduced to
 * Hessenberg form once, and each solution is refined once against the unreduced matrix.
 * A discrete system is evaluated at z = e^(jωT).
 * @param system - continuous or discrete; n states, m inputs, p outputs
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @param options - see {@link FrequencyResponseOptions}
 * @returns p × m × n response [output unit / input unit], frequency fastest, channels in the order asked
 * @throws {@link IsolationError} `singular` where a requested channel has a pole on the grid; `unknown-port`;
 * `invalid-option`, `not-finite`, `out-of-range`, `dimension-mismatch` for malformed input
 * @source A. J. Laub, IEEE Trans. Automatic Control 26 (1981) 407-408
 * @example
 * import { channel, frequencyResponse, magnitude, stateSpace } from 'restmass'
 * const lag = stateSpace({ A: [[-2 * Math.PI]], B: [[2 * Math.PI]], C: [[1]] })
 * const response = frequencyResponse(lag, [0, 1])
 * Array.from(magnitude(channel(response, { input: 'u1', output: 'y1' }))) // [1, 0.70711]
 */
export function frequencyResponse<I extends string, O extends string>(
  system: StateSpace<I, O> | DiscreteStateSpace<I, O>,
  frequencies: ArrayLike<number>,
  options: FrequencyResponseOptions<I, O> = {},
): FrequencyResponse<I, O> {
  const scope = scopeOf('frequencyResponse')
  checkOptions(scope, options, ['inputs', 'outputs'])
  checkAnySystem(within(scope, 'system'), system)
  const grid = checkGrid(scope, 'frequencies', frequencies, { unit: 'Hz', atLeast: 0 })
  const inputs = options.inputs ?? system.inputs
  const outputs = options.outputs ?? system.outputs
  const columns = indices(scope, 'inputs', system.inputs, inputs)
  const rows = indices(scope, 'outputs', system.outputs, outputs)
  const form = system.kind === 'DiscreteStateSpace' ? continuousForm(system) : system
  const kernel = responseKernel(denseSystem(form, columns, rows))
  const count = grid.length
  const channels = rows.length * columns.length
  const re = new Float64Array(channels * count)
  const im = new Float64Array(channels * count)
  for (let k = 0; k < count; k++) {
    const at = axisPoint(system, grid[k])
    const value = kernel.at(at.re, at.im)
    for (let c = 0; c < channels; c++) {
      const [output, input] = [Math.floor(c / columns.length), c % columns.length]
      const entry = value ?? channelValue(scope, form, columns[input], rows[output], at, grid[k])
      re[c * count + k] = entry.re[value === null ? 0 : c]
      im[c * count + k] = entry.im[value === null ? 0 : c]
    }
  }
  return { kind: 'FrequencyResponse', inputs: [...inputs], outputs: [...outputs], frequency: grid, re, im }
}

/** ω = 2πf: the one place where hertz become rad/s. */
export function angularFrequency(frequency: number): number {
  return 2 * Math.PI * frequency
}

/** Position of each wanted name among the names there are. */
function indices(scope: Scope, key: string, names: readonly string[], wanted: readonly string[]): number[] {
  if (!Array.isArray(wanted))
    fail('invalid-option', within(scope, key), `must be an array of names, got ${show(wanted)}`)
  return wanted.map((name: string, k) => {
    const index = names.indexOf(name)
    if (index < 0)
      fail('unknown-port', within(within(scope, key), k), `is ${show(name)}; there are ${names.join(', ')}`)
    return index
  })
}

/** Where a frequency lies: s = jω, or z = e^(jωT) for a discrete system. */
export function axisPoint(system: StateSpace | DiscreteStateSpace, frequency: number): { re: number; im: number } {
  const omega = angularFrequency(frequency)
  if (system.kind === 'StateSpace') return { re: 0, im: omega }
  return { re: Math.cos(omega * system.sampleTime), im: Math.sin(omega * system.sampleTime) }
}

/** One channel at a frequency that is a pole of the system, though perhaps not of this channel. */
function channelValue(
  scope: Scope,
  system: StateSpace,
  input: number,
  output: number,
  at: { re: number; im: number },
  frequency: number,
) {
  const value = responseKernel(denseSystem(relevantPart(system, input, output))).at(at.re, at.im)
  if (value === null) {
    const name = `${system.inputs[input]} to ${system.outputs[output]}`
    fail('singular', within(scope, 'frequencies'), `hit a pole of the channel ${name} at ${frequency} Hz`, {
      value: frequency,
      unit: 'Hz',
    })
  }
  return value
}
