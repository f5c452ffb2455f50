import {
  checkGrid,
  checkList,
  checkOneOf,
  checkOptions,
  fail,
  listed,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import type { Points } from '../linear/partial-fractions.js'
import { pointByPoint } from '../linear/point-by-point.js'
import type { ResponseKernel } from '../linear/response-kernel.js'
import { axisLimit } from './axis-limit.js'
import { anySystem, plainSystem } from './block.js'
import { continuousForm } from './dense-system.js'
import { kernelOf, preparedKernel } from './kernel-of.js'
import { relevantPart } from './relevant-states.js'
import type { DiscreteStateSpace, FrequencyResponse, LinearSystem, MechanicalSystem, StateSpace } from './types.js'

/** Options of {@link frequencyResponse}. */
export interface FrequencyResponseOptions<I extends string = string, O extends string = string> {
  /** Inputs wanted, in this order. @defaultValue all of the system */
  readonly inputs?: readonly I[]
  /** Outputs wanted, in this order. @defaultValue all of the system */
  readonly outputs?: readonly O[]
  /** Whether each value comes with a bound on its error, which takes several times as long. @defaultValue `'none'` */
  readonly errorBound?: 'none' | 'residual'
}

/** Most values of one response: they take 0.8 GB. */
const mostValues = 5e7

/** Complex response of a system over a grid of frequencies.
 *
 * G(jω) = C (jω I − A)⁻¹ B + D with ω = 2πf; delays enter exactly as e^(−jωτ). The states are balanced, reduced to
 * Hessenberg form once, and each solution is refined once against the unreduced matrix. On request each value comes with a
 * bound on its error, from the residual and the inverse; the data of the system count as exact.
 * A mechanical system is solved by its dynamic stiffness; a discrete one is evaluated at z = e^(jωT).
 * @param system - any; n states, m inputs, p outputs
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
  system: LinearSystem<I, O>,
  frequencies: ArrayLike<number>,
  options: FrequencyResponseOptions<I, O> = {},
): FrequencyResponse<I, O> {
  const scope = scopeOf('frequencyResponse')
  checkOptions(scope, options, ['inputs', 'outputs', 'errorBound'])
  const bounded =
    options.errorBound !== undefined &&
    checkOneOf(scope, 'errorBound', options.errorBound, ['none', 'residual']) === 'residual'
  const plain = plainSystem(within(scope, 'system'), system)
  const grid = checkGrid(scope, 'frequencies', frequencies, { unit: 'Hz', atLeast: 0 })
  const inputs = options.inputs ?? plain.inputs
  const outputs = options.outputs ?? plain.outputs
  const columns = indices(scope, 'inputs', plain.inputs, inputs)
  const rows = indices(scope, 'outputs', plain.outputs, outputs)
  const count = grid.length
  const channels = rows.length * columns.length
  if (channels * count > mostValues) {
    const allowed = `at most ${Math.floor(mostValues / channels)} frequencies for ${channels} channels`
    const says = `must be ${allowed}, got ${count}; ask for fewer inputs and outputs`
    fail('out-of-range', within(scope, 'frequencies'), says, { value: count, allowed })
  }
  const { kernel, entries } = channelKernel(system, plain, rows, columns, bounded ? 0 : count)
  const size = channels * count
  const [re, im] = [new Float64Array(size), new Float64Array(size)]
  const errorBound = bounded ? new Float64Array(size) : null
  const poles = errorBound
    ? boundedAlong(kernel, axisPoints(plain, grid), entries, { re, im }, errorBound)
    : kernel.along(axisPoints(plain, grid), entries, rows.length, { re, im })
  for (const k of poles) {
    for (let c = 0; c < channels; c++) {
      const [row, column] = [rows[Math.floor(c / columns.length)], columns[c % columns.length]]
      const entry = channelValue(scope, plain, column, row, grid[k])
      re[c * count + k] = entry.re
      im[c * count + k] = entry.im
      // A value extrapolated past a hidden pole keeps about six digits.
      if (errorBound) errorBound[c * count + k] = 1e-6 * hypotenuse(entry.re, entry.im)
    }
  }
  const response = { inputs: [...inputs], outputs: [...outputs], frequency: grid, re, im }
  return { kind: 'FrequencyResponse', ...response, ...(errorBound === null ? {} : { errorBound }) }
}

type PlainSystem = StateSpace | DiscreteStateSpace | MechanicalSystem

/** Responses and their bounds, channel after channel; returns the points that are poles. */
function boundedAlong(
  kernel: ResponseKernel,
  points: Points,
  entries: readonly number[],
  into: Points,
  errorBound: Float64Array,
): number[] {
  const count = points.re.length
  let k = 0
  const at = (re: number, im: number) => {
    const found = kernel.boundedAt(re, im)
    for (let c = 0; c < entries.length && found !== null; c++) errorBound[c * count + k] = found.bound[entries[c]]
    k++
    return found?.value ?? null
  }
  return pointByPoint(at, points, entries, into)
}

/** The kernel that answers for the channels wanted, and where each channel stands in its answer, output after output. */
function channelKernel(
  system: LinearSystem,
  plain: PlainSystem,
  rows: readonly number[],
  columns: readonly number[],
  points: number,
) {
  if (system.kind === 'PreparedSystem') {
    const entries = rows.flatMap((row) => columns.map((column) => row * plain.inputs.length + column))
    return { kernel: preparedKernel(system), entries }
  }
  return {
    kernel: kernelOf(plain, rows, columns, points),
    entries: rows.flatMap((_, o) => columns.map((_, i) => o * columns.length + i)),
  }
}

/** ω = 2πf: the one place where hertz become rad/s. */
export function angularFrequency(frequency: number): number {
  return 2 * Math.PI * frequency
}

/** Position of each wanted name among the names there are. */
function indices(scope: Scope, key: string, names: readonly string[], wanted: readonly string[]): number[] {
  return checkList(scope, key, wanted, 0, 1000).map((name, k) => {
    const index = names.indexOf(name)
    if (index < 0) fail('unknown-port', within(within(scope, key), k), `is ${show(name)}; there are ${listed(names)}`)
    return index
  })
}

/** Where a frequency lies: s = jω, or z = e^(jωT) for a discrete system. */
export function axisPoint(system: PlainSystem, frequency: number): { re: number; im: number } {
  const omega = angularFrequency(frequency)
  if (system.kind !== 'DiscreteStateSpace') return { re: 0, im: omega }
  return { re: Math.cos(omega * system.sampleTime), im: Math.sin(omega * system.sampleTime) }
}

function axisPoints(system: PlainSystem, grid: Float64Array): Points {
  const points = { re: new Float64Array(grid.length), im: new Float64Array(grid.length) }
  for (let k = 0; k < grid.length; k++) {
    const { re, im } = axisPoint(system, grid[k])
    points.re[k] = re
    points.im[k] = im
  }
  return points
}

/** One channel at a frequency that is a pole of the system, though perhaps not of this channel. */
function channelValue(scope: Scope, plain: PlainSystem, input: number, output: number, frequency: number) {
  const system = anySystem(scope, plain)
  const form = system.kind === 'DiscreteStateSpace' ? continuousForm(system) : system
  const point = axisPoint(plain, frequency)
  const value = axisLimit(scope, relevantPart(form, input, output), point.re, point.im)
  if (value.pole) {
    const name = `${system.inputs[input]} to ${system.outputs[output]}`
    fail('singular', within(scope, 'frequencies'), `hit a pole of the channel ${name} at ${frequency} Hz`, {
      value: frequency,
      unit: 'Hz',
    })
  }
  return value
}
