import type { Scope } from '../internal/check.js'
import type { DelayedSystem } from '../linear/delayed-solve.js'
import { block, type Dense, multiply } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { responseKernel } from '../linear/response-kernel.js'
import { undelayedStateMatrix } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { addDelaySteps, landmarkFrequencies } from './landmarks.js'

/** Frequencies to sample, with the roots they were made from. */
export interface SystemSeeds {
  /** Poles with every delay cut [rad/s] */
  readonly open: Eigenvalues
  /** Modulus of the fastest pole [rad/s] */
  readonly fastest: number
  /** Ascending [rad/s] */
  readonly seeds: number[]
}

/** Where to start sampling what depends on a system: around its poles, with the delays cut and with them at zero, and in
 * steps of the delays as far as the transfer between them is above `influence`. */
export function systemSeeds(scope: Scope, system: DelayedSystem, influence: number): SystemSeeds {
  const open = eigenvaluesOf(scope, system.A)
  const closed = eigenvaluesOf(scope, undelayedStateMatrix(system))
  const fastest = Math.max(
    ...[open, closed].flatMap(({ re, im }) => Array.from(re, (x, k) => hypotenuse(x, im[k]))),
    1e-3,
  )
  const places = landmarkFrequencies([open, closed], 1e3, 12)
  if (system.seconds.length === 0) return { open, fastest, seeds: places }
  const gain = delayGain(system, influence)
  let reach = 0
  for (const omega of places) if (gain(omega) > influence) reach = omega
  while (reach > 0 && gain(2 * reach) > influence && reach < 1e6 * fastest) reach *= 2
  const seconds = system.seconds.reduce((sum, tau) => sum + tau, 0)
  return { open, fastest, seeds: addDelaySteps(places, seconds, 2 * reach) }
}

/** Largest gain once around a ring of delays, moduli along the way multiplied, as a function of ω; where it is below `least`,
 * anything below. Delays that only follow each other make no ring. */
function delayGain({ A, B, C, D, seconds }: DelayedSystem, least: number): (omega: number) => number {
  const d = seconds.length
  const delayed: DelayedSystem = {
    A,
    B: block(B, 0, B.columns - d, B.rows, d),
    C: block(C, C.rows - d, 0, d, C.columns),
    D: block(D, D.rows - d, D.columns - d, d, d),
    seconds: [],
  }
  const kernel = responseKernel(delayed)
  return (omega) => {
    const value = kernel.at(0, omega, least)
    if (value === null) return Number.POSITIVE_INFINITY
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
