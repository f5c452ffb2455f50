import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import type { StateSpace } from './types.js'

/** Value of a one-channel system at s = re + j·im, where its state matrix is singular.
 *
 * Judged from two values a little to the right: if they grow as the distance shrinks, the channel has a pole there and the
 * value nearer to it is returned with `pole`; otherwise the pole is hidden from this channel and the limit is
 * extrapolated, which costs about six digits.
 */
export function axisLimit(channel: StateSpace, re: number, im: number): { re: number; im: number; pole: boolean } {
  const kernel = responseKernel(denseSystem(channel), 1)
  const exact = kernel.at(re, im)
  if (exact !== null) return { re: exact.re[0], im: exact.im[0], pole: false }
  const step = 1e-5 * Math.min(slowestRate(channel), Math.hypot(re, im) || Number.POSITIVE_INFINITY)
  const near = valueAt(kernel.at(re + step, im))
  const far = valueAt(kernel.at(re + 2 * step, im))
  const pole = !(Math.hypot(near.re, near.im) <= 1.5 * Math.hypot(far.re, far.im))
  return pole ? { ...near, pole } : { re: 2 * near.re - far.re, im: 2 * near.im - far.im, pole }
}

function valueAt(value: { re: Float64Array; im: Float64Array } | null): { re: number; im: number } {
  return value === null ? { re: Number.POSITIVE_INFINITY, im: 0 } : { re: value.re[0], im: value.im[0] }
}

/** A rate [rad/s] below which nothing of the channel moves, roughly: the smallest loop between two states. */
function slowestRate({ A }: StateSpace): number {
  let smallest = Number.POSITIVE_INFINITY
  for (let i = 0; i < A.length; i++) {
    for (let j = 0; j < A.length; j++) {
      const loop = Math.sqrt(Math.abs(A[i][j] * A[j][i]))
      if (loop > 0) smallest = Math.min(smallest, loop)
    }
  }
  return smallest === Number.POSITIVE_INFINITY ? 1 : smallest
}
