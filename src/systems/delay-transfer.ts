import { fail, type Scope } from '../internal/check.js'
import { complexLu, complexLuSolve, complexZeros, determinantAngle } from '../linear/complex-lu.js'
import { denseFrom } from '../linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../linear/eigenvalues.js'
import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import { relevantPart } from './relevant-states.js'
import type { InternalDelays, StateSpace } from './types.js'
import { scaledZeros } from './zeros.js'

/** The transfer W = e^(−sτ) P from the delayed signals of a system back to themselves; det(I − W) has the zeros of its
 * characteristic function, and poles where the system with its delays cut has them. */
export interface DelayTransfer {
  /** Number of delays */
  readonly count: number
  readonly seconds: readonly number[]
  /** Zeros and poles of each entry of P, row by row */
  readonly roots: readonly EntryRoots[]
  /** Value at s = re + j·im; null at a pole */
  at(re: number, im: number): DelaySample | null
}

/** Roots of one entry [rad/s]. */
export interface EntryRoots {
  readonly zeros: Eigenvalues
  readonly poles: Eigenvalues
}

/** What {@link DelayTransfer} says at one s, entries row by row. */
export interface DelaySample {
  readonly re: number
  readonly im: number
  /** arg det(I − W), to a multiple of 2π */
  readonly angle: number
  /** |W| */
  readonly size: Float64Array
  /** |(I − W)⁻¹| */
  readonly inverse: Float64Array
}

/** The transfer between the delays of a system, with the roots of every entry. */
export function delayTransfer(scope: Scope, system: StateSpace, delays: InternalDelays): DelayTransfer {
  const { seconds } = delays
  const d = seconds.length
  const names = seconds.map((_, k) => `w${k}`)
  const inner: StateSpace = {
    kind: 'StateSpace',
    A: system.A,
    B: delays.B,
    C: delays.C,
    D: delays.D22,
    inputs: names,
    outputs: names,
    states: system.states,
    delays: null,
  }
  const roots = Array.from({ length: d * d }, (_, k) => rootsOf(scope, inner, k % d, Math.floor(k / d)))
  const kernel = responseKernel(denseSystem(inner))
  const at = (re: number, im: number): DelaySample | null => {
    const value = kernel.at(re, im)
    if (value === null) return null
    const M = complexZeros(d, d)
    const size = new Float64Array(d * d)
    for (let k = 0; k < d * d; k++) {
      const i = Math.floor(k / d)
      const decay = Math.exp(-re * seconds[i])
      const [turnRe, turnIm] = [decay * Math.cos(im * seconds[i]), -decay * Math.sin(im * seconds[i])]
      M.re[k] = (i === k % d ? 1 : 0) - (turnRe * value.re[k] - turnIm * value.im[k])
      M.im[k] = -(turnRe * value.im[k] + turnIm * value.re[k])
      size[k] = decay * Math.hypot(value.re[k], value.im[k])
    }
    const lu = complexLu(M)
    const X = complexZeros(d, d)
    for (let k = 0; k < d; k++) X.re[k * (d + 1)] = 1
    complexLuSolve(lu, X)
    const inverse = X.re.map((real, k) => Math.hypot(real, X.im[k]))
    return { re, im, angle: determinantAngle(lu), size, inverse }
  }
  return { count: d, seconds, roots, at }
}

function rootsOf(scope: Scope, inner: StateSpace, input: number, output: number): EntryRoots {
  const part = relevantPart(inner, input, output)
  const poles = eigenvalues(denseFrom(part.A, part.A.length))
  const zeros = scaledZeros(part)
  if (poles === null || zeros === null) fail('no-convergence', scope, 'could not find the roots between two delays')
  return { poles, zeros }
}
