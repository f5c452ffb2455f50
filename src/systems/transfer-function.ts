import { checkNumbers, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { balancingScales, scaleColumns, scaleRows, scaleStates } from '../linear/balance.js'
import { denseFrom, rowsOf } from '../linear/dense.js'
import { portName } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link transferFunction}. */
export interface TransferFunctionOptions<I extends string = string, O extends string = string> {
  /** Coefficients in descending powers of s [rad/s], the constant last. */
  readonly numerator: readonly number[] | Float64Array
  /** Coefficients in descending powers of s [rad/s], the constant last; not all zero. */
  readonly denominator: readonly number[] | Float64Array
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** Largest degree: roots of a polynomial of a tenth of it are lost in the rounding of its coefficients already. */
const largestDegree = 500

/** A system with one input and one output from the coefficients of its transfer function.
 *
 *     numerator(s)/denominator(s), each as a list in descending powers of s in rad/s
 *
 * Leading zeros are dropped; common factors stay. The realisation is controllable canonical, in units of time in which the
 * first and the last coefficient are alike, then balanced by powers of two, so that no coefficient stands alone.
 * @param options - see {@link TransferFunctionOptions}
 * @returns a system with as many states as the denominator has degrees
 * @throws {@link IsolationError} `improper` where the numerator has the higher degree, `out-of-range` above degree 500, `not-finite`,
 * `invalid-option`
 * @source T. Kailath, Linear Systems, 1980, section 2.1 (controllable canonical form)
 * @example
 * import { poles, transferFunction } from 'restmass'
 * poles(transferFunction({ numerator: [5], denominator: [2, 8] }))[0].re // -4
 */
export function transferFunction<const I extends string = 'u1', const O extends string = 'y1'>(
  options: TransferFunctionOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('transferFunction')
  checkOptions(scope, options, ['numerator', 'denominator', 'input', 'output'])
  const denominator = coefficients(scope, 'denominator', options.denominator)
  const numerator = coefficients(scope, 'numerator', options.numerator)
  if (denominator.length === 0) fail('invalid-option', within(scope, 'denominator'), 'must not be zero')
  const degree = denominator.length - 1
  if (degree > largestDegree) {
    fail('out-of-range', within(scope, 'denominator'), `must be of degree ${largestDegree} at most, got ${degree}`, {
      value: degree,
      allowed: `0 to ${largestDegree}`,
    })
  }
  if (numerator.length > denominator.length) {
    fail(
      'improper',
      within(scope, 'numerator'),
      `must be of degree ${degree} at most, like the denominator, got ${numerator.length - 1}`,
      { value: numerator.length - 1, allowed: `0 to ${degree}` },
    )
  }
  const { A, B, C, D } = canonicalForm(scope, numerator, denominator)
  return {
    kind: 'StateSpace',
    A,
    B,
    C,
    D,
    inputs: [portName(scope, 'input', options.input, 'u1')],
    outputs: [portName(scope, 'output', options.output, 'y1')],
    states: A.map((_, i) => `x${i + 1}`),
    delays: null,
  }
}

/** The coefficients without leading zeros. */
function coefficients(scope: Scope, key: string, value: unknown): number[] {
  const list = Array.from(checkNumbers(scope, key, value))
  if (list.length === 0) fail('invalid-option', within(scope, key), 'must have at least one coefficient, got none')
  const first = list.findIndex((entry) => entry !== 0)
  return first < 0 ? [] : list.slice(first)
}

/** x1' = … carries the highest derivative, x_n the input divided by the denominator; in time units of 1/α. */
function canonicalForm(
  scope: Scope,
  numerator: number[],
  denominator: number[],
): Pick<StateSpace, 'A' | 'B' | 'C' | 'D'> {
  const n = denominator.length - 1
  const alpha = timeScale(denominator)
  const padded = [...new Array<number>(denominator.length - numerator.length).fill(0), ...numerator]
  const leading = denominator[0]
  const direct = padded[0] / leading
  const a = denominator.map((entry, k) => entry / leading / alpha ** k)
  const b = padded.map((entry, k) => (entry - direct * denominator[k]) / leading / alpha ** k)
  if (!(alpha ** n > 0 && alpha ** n < Infinity && [...a, ...b].every(Number.isFinite))) {
    fail('not-finite', scope, 'has coefficients whose ratios are beyond the range of numbers')
  }
  const A = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => (i === 0 ? -a[j + 1] * alpha : j === i - 1 ? alpha : 0)),
  )
  const scaled = balanced(
    A,
    Array.from({ length: n }, (_, i) => [i === 0 ? alpha : 0]),
    [b.slice(1)],
    n,
  )
  return { ...scaled, D: [[direct]] }
}

/** α [rad/s], a power of two, so that a_n s^n and the last coefficient that is not zero are alike at |s| = α. */
function timeScale(denominator: number[]): number {
  const last = denominator.length - 1 - [...denominator].reverse().findIndex((entry) => entry !== 0)
  if (last === 0) return 1
  return 2 ** Math.round((Math.log2(Math.abs(denominator[last])) - Math.log2(Math.abs(denominator[0]))) / last)
}

function balanced(A: number[][], B: number[][], C: number[][], n: number): Pick<StateSpace, 'A' | 'B' | 'C'> {
  const flatA = denseFrom(A, n)
  const flatB = denseFrom(B, 1)
  const flatC = denseFrom(C, n)
  const scales = balancingScales(flatA, flatB, flatC)
  return {
    A: rowsOf(scaleStates(flatA, scales)),
    B: rowsOf(scaleRows(flatB, scales)),
    C: rowsOf(scaleColumns(flatC, scales)),
  }
}
