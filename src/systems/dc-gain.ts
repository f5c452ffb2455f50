import { scopeOf, within } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { checkSystem } from './check.js'
import { denseSystem } from './dense-system.js'
import { relevantPart } from './relevant-states.js'
import type { StateSpace } from './types.js'

/** Gain of every channel at 0 Hz, where it exists, and ±Infinity where the channel integrates.
 *
 * G(0) = D − C A⁻¹ B, delays included. Where A is singular, each channel is judged alone: it integrates if G(s) grows as
 * s → 0 along the positive real axis, and has the sign it grows with; otherwise its limit is extrapolated from two values
 * near 0, which costs about six digits.
 * @param system - p outputs, m inputs
 * @returns p × m gains [output unit / input unit], `[output][input]`
 * @throws {@link IsolationError} errors of a malformed system
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { dcGain, stateSpace } from 'restmass'
 * dcGain(stateSpace({ A: [[-2]], B: [[1]], C: [[4]] }))[0][0] // 2
 */
export function dcGain(system: StateSpace): number[][] {
  checkSystem(within(scopeOf('dcGain'), 'system'), system)
  const m = system.inputs.length
  const value = responseKernel(denseSystem(system)).at(0, 0)
  return system.outputs.map((_, o) =>
    system.inputs.map((_, i) => (value === null ? channelGain(relevantPart(system, i, o)) : value.re[o * m + i] + 0)),
  )
}

function channelGain(channel: StateSpace): number {
  const kernel = responseKernel(denseSystem(channel))
  const exact = kernel.at(0, 0)
  if (exact !== null) return exact.re[0] + 0
  const step = 1e-5 * slowestRate(channel)
  const [near, far] = [step, 2 * step].map((s) => kernel.at(s, 0)?.re[0] ?? Number.POSITIVE_INFINITY)
  if (Math.abs(near) > 1.5 * Math.abs(far)) return near > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY
  return 2 * near - far
}

/** A rate [rad/s] below which nothing of the channel moves: the smallest non-zero entry of its balanced dynamics, roughly. */
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
