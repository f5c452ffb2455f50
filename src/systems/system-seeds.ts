import type { Scope } from '../internal/check.js'
import type { DelayedSystem } from '../linear/delayed-solve.js'
import { type Dense, multiply } from '../linear/dense.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { responseKernel, type StateKernel } from '../linear/response-kernel.js'
import { undelayedStateMatrix } from './dense-system.js'
import { eigenvaluesOf, polesOf } from './eigenvalues-of.js'
import { addDelaySteps, landmarkFrequencies, reachOf } from './landmarks.js'

/** Where to start sampling what depends on a system, ascending [rad/s]: around its poles, with the delays cut and with them at
 * zero, and in steps of the delays as far as the transfer between them is above `influence`. */
export function systemSeeds(
  scope: Scope,
  system: DelayedSystem,
  influence: number,
  kernel: StateKernel = responseKernel(system),
): number[] {
  const open = polesOf(scope, kernel)
  if (system.seconds.length === 0) return landmarkFrequencies([open], 1e3, 12)
  const places = landmarkFrequencies([open, eigenvaluesOf(scope, undelayedStateMatrix(system))], 1e3, 12)
  const gain = delayGain(system.seconds.length, kernel, influence)
  const reach = reachOf(gain, places, influence, 1e3 * places[places.length - 1])
  const seconds = system.seconds.reduce((sum, tau) => sum + tau, 0)
  return addDelaySteps(places, seconds, 2 * reach)
}

/** Largest gain once around a ring of delays, moduli along the way multiplied, as a function of ω; where it is below `least`,
 * anything below. Delays that only follow each other make no ring. */
function delayGain(d: number, kernel: StateKernel, least: number): (omega: number) => number {
  return (omega) => {
    const value = kernel.between(0, omega, least)
    if (value === null) return Number.POSITIVE_INFINITY
    if (d === 1) return hypotenuse(value.re[0], value.im[0])
    const step: Dense = { rows: d, columns: d, data: value.re.map((re, k) => hypotenuse(re, value.im[k])) }
    let largest = 0
    let walks = step
    for (let length = 1; length <= d; length++) {
      for (let i = 0; i < d; i++) largest = Math.max(largest, walks.data[i * d + i])
      if (length < d) walks = multiply(walks, step)
    }
    return largest
  }
}
