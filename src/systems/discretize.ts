import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import {
  block,
  type Dense,
  denseFrom,
  identity,
  multiply,
  rowsOf,
  sum,
  times,
  transpose,
  zeros,
} from '../linear/dense.js'
import { matrixExponential } from '../linear/matrix-exponential.js'
import { solve } from '../linear/solve.js'
import { blockSystem } from './block.js'
import { angularFrequency } from './frequency-response.js'
import { refuseDelays } from './poles.js'
import type { ContinuousSystem, DiscreteStateSpace, StateSpace } from './types.js'

/** Ways to make a continuous system discrete. */
export type DiscretizationMethod = 'zero-order-hold' | 'first-order-hold' | 'bilinear'

/** Options of {@link discretize}. */
export interface DiscretizeOptions {
  /** [s], above 0 */
  readonly sampleTime: number
  /** What the input does between samples: stays, or joins them by a straight line; or the bilinear map of the s-plane */
  readonly method: DiscretizationMethod
  /** Frequency at which the bilinear map is exact [Hz], above 0 and below half the sample rate. @defaultValue 0 Hz */
  readonly prewarp?: number
}

/** Discrete equivalent of a continuous system.
 *
 * Holds: x' = A x + B u is solved over one sample by the exponential of an augmented matrix, so a singular A (an
 * integrator) is no special case; at the samples the outputs are exact for inputs of that shape. With the first-order hold
 * the state is shifted by −G₂ u so that no future input appears. Bilinear: s = α (z − 1)/(z + 1) with α = 2/T, or
 * ω/tan(ωT/2) with prewarp.
 * @param plant - continuous, without delays
 * @param options - see {@link DiscretizeOptions}
 * @returns x[k+1] = A x[k] + B u[k], y[k] = C x[k] + D u[k], with the same ports
 * @throws {@link IsolationError} `unsupported` with delays; `singular` where the bilinear map meets a pole at α;
 * `out-of-range` where the exponential overflows; `invalid-option`
 * @source C. F. Van Loan, IEEE Trans. Automatic Control 23 (1978) 395; G. F. Franklin, J. D. Powell, M. L. Workman, Digital
 * Control of Dynamic Systems, 3rd edition 1998, chapters 4 and 6
 * @example
 * import { discretize, integrator } from 'restmass'
 * discretize(integrator(), { sampleTime: 0.01, method: 'zero-order-hold' }).B[0][0] // 0.01
 */
export function discretize<I extends string, O extends string>(
  plant: ContinuousSystem<I, O>,
  options: DiscretizeOptions,
): DiscreteStateSpace<I, O> {
  const scope = scopeOf('discretize')
  checkOptions(scope, options, ['sampleTime', 'method', 'prewarp'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const method = checkOneOf(scope, 'method', options.method, ['zero-order-hold', 'first-order-hold', 'bilinear'])
  const system = blockSystem(within(scope, 'system'), plant)
  refuseDelays(scope, system)
  if (options.prewarp !== undefined && method !== 'bilinear') {
    fail('invalid-option', within(scope, 'prewarp'), "belongs to the method 'bilinear' only")
  }
  const range = { unit: 'Hz', above: 0, below: 1 / (2 * sampleTime) }
  const prewarp = checkOptional(scope, 'prewarp', options.prewarp, range, null)
  const matrices =
    method === 'bilinear' ? bilinear(scope, system, sampleTime, prewarp) : held(scope, system, sampleTime, method)
  return {
    kind: 'DiscreteStateSpace',
    A: rowsOf(matrices.A),
    B: rowsOf(matrices.B),
    C: rowsOf(matrices.C),
    D: rowsOf(matrices.D),
    inputs: [...system.inputs],
    outputs: [...system.outputs],
    states: [...system.states],
    sampleTime,
  }
}

interface Matrices {
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
}

function held(scope: Scope, system: StateSpace, sampleTime: number, method: DiscretizationMethod): Matrices {
  const step = heldStep(scope, system, sampleTime)
  const { C, D } = matricesOf(system)
  if (method === 'zero-order-hold') return { A: step.A, B: sum(step.now, step.next), C, D }
  const B = sum(step.now, multiply(step.A, step.next))
  return { A: step.A, B, C, D: sum(D, multiply(C, step.next)) }
}

/** One sample of x' = A x + B u with u linear between u[k] and u[k+1]: x[k+1] = A x[k] + now u[k] + next u[k+1].
 *
 * exp [A T, B T, 0; 0, 0, I; 0, 0, 0] = [·, G₁, G₂; …] with now = G₁ − G₂ and next = G₂; their sum is the zero-order hold.
 */
export function heldStep(scope: Scope, system: StateSpace, sampleTime: number): { A: Dense; now: Dense; next: Dense } {
  const { A, B } = matricesOf(system)
  const n = A.rows
  const m = B.columns
  const M = zeros(n + 2 * m, n + 2 * m)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) M.data[i * M.columns + j] = A.data[i * n + j] * sampleTime
    for (let j = 0; j < m; j++) M.data[i * M.columns + n + j] = B.data[i * m + j] * sampleTime
  }
  for (let j = 0; j < m; j++) M.data[(n + j) * M.columns + n + m + j] = 1
  const E = matrixExponential(M)
  if (E === null) {
    fail(
      'out-of-range',
      within(scope, 'sampleTime'),
      `is too long for this system: its exponential overflows in ${sampleTime} s`,
      {
        value: sampleTime,
        unit: 's',
      },
    )
  }
  const next = block(E, 0, n + m, n, m)
  return { A: block(E, 0, 0, n, n), now: sum(block(E, 0, n, n, m), times(next, -1)), next }
}

/** x = (α I − A)⁻¹ (…): the bilinear map, with the state scaled so that B and C share the factor. */
function bilinear(scope: Scope, system: StateSpace, sampleTime: number, prewarp: number | null): Matrices {
  const omega = prewarp === null ? 0 : angularFrequency(prewarp)
  const alpha = prewarp === null ? 2 / sampleTime : omega / Math.tan((omega * sampleTime) / 2)
  const { A, B, C, D } = matricesOf(system)
  const shifted = sum(times(identity(A.rows), alpha), times(A, -1))
  const states = solve(shifted, sum(times(identity(A.rows), alpha), A))
  const inputs = solve(shifted, B)
  const outputs = solve(transpose(shifted), transpose(C))
  if (states === null || inputs === null || outputs === null)
    fail('singular', scope, `meets a pole at ${alpha} rad/s; choose another sample time`)
  const through = multiply(C, inputs)
  return { A: states, B: times(inputs, 2), C: times(transpose(outputs), alpha), D: sum(D, through) }
}

function matricesOf(system: StateSpace): Matrices {
  const n = system.A.length
  const m = system.inputs.length
  return { A: denseFrom(system.A, n), B: denseFrom(system.B, m), C: denseFrom(system.C, n), D: denseFrom(system.D, m) }
}
