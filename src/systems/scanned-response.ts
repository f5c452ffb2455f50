import type { Scope } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import { type ComplexFunction, refinedScan, type Scan } from './refined-scan.js'
import { relevantPart } from './relevant-states.js'
import { systemSeeds } from './system-seeds.js'
import type { StateSpace } from './types.js'

/** One channel of a system as a function of ω [rad/s], with samples dense enough to show all it does. */
export interface Response {
  readonly at: ComplexFunction
  readonly scan: Scan
}

const delayInfluence = 0.1

/** The response from one input to one output, sampled around every pole of that channel and refined between;
 * within a range [rad/s] and from its ends, where they are given, and where its modulus is not below `negligible`. */
export function scannedResponse(
  scope: Scope,
  system: StateSpace,
  input: string,
  output: string,
  [from, to]: readonly [number, number] = [0, Number.POSITIVE_INFINITY],
  negligible = 0,
): Response {
  const part = relevantPart(system, system.inputs.indexOf(input), system.outputs.indexOf(output))
  const dense = denseSystem(part)
  const kernel = responseKernel(dense)
  const at: ComplexFunction = (omega, least) => {
    const value = kernel.at(0, omega, least)
    return value === null ? null : { re: value.re[0], im: value.im[0] }
  }
  const seeds = systemSeeds(scope, dense, delayInfluence, kernel)
  const within = [from, ...seeds.filter((omega) => omega > from && omega < to), to].filter(
    (omega) => omega > 0 && Number.isFinite(omega),
  )
  return { at, scan: refinedScan(scope, at, within, negligible) }
}
