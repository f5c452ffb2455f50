import type { Scope } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import type { StateSpace } from './types.js'

/** Value of a one-channel system at s = re + j·im, where its state matrix is singular.
 *
 * Judged from two values a little to the right: if they grow as the distance shrinks, the channel has a pole there and the
 * value nearer to it is returned with `pole`; otherwise the pole is hidden from this channel and the limit is
 * extrapolated, which costs about six digits.
 */
export function axisLimit(
  scope: Scope,
  channel: StateSpace,
  re: number,
  im: number,
): { re: number; im: number; pole: boolean } {
  const kernel = responseKernel(denseSystem(channel), 3)
  const exact = kernel.at(re, im)
  if (exact !== null) return { re: exact.re[0], im: exact.im[0], pole: false }
  const step = 1e-5 * nextPole(scope, channel, re, im)
  const near = valueAt(kernel.at(re + step, im))
  const far = valueAt(kernel.at(re + 2 * step, im))
  const size = hypotenuse(near.re, near.im)
  const pole = !(size < Number.POSITIVE_INFINITY && size <= 1.5 * hypotenuse(far.re, far.im))
  return pole ? { ...near, pole } : { re: 2 * near.re - far.re, im: 2 * near.im - far.im, pole }
}

function valueAt(value: { re: Float64Array; im: Float64Array } | null): { re: number; im: number } {
  return value === null ? { re: Number.POSITIVE_INFINITY, im: 0 } : { re: value.re[0], im: value.im[0] }
}

/** Distance of the nearest pole that is not at this place itself, within which the response is as good as straight. */
function nextPole(scope: Scope, { A, delays }: StateSpace, re: number, im: number): number {
  const poles = eigenvaluesOf(scope, denseFrom(A, A.length))
  const distances = Array.from(poles.re, (real, k) => hypotenuse(real - re, poles.im[k] - im))
  const size = Math.max(...distances, 0)
  // Several poles at this place come out around it, at distances that differ little.
  const here = 100 * Math.min(...distances, size) + 16 * Number.EPSILON * size
  const others = [...distances.filter((distance) => distance > here), ...(delays?.seconds ?? []).map((tau) => 1 / tau)]
  return others.length === 0 ? hypotenuse(re, im) || 1 : Math.min(...others)
}
