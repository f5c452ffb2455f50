import { type Scope, scopeOf, within } from '../internal/check.js'
import { responseKernel } from '../linear/response-kernel.js'
import { axisLimit } from './axis-limit.js'
import { blockSystem } from './block.js'
import { denseSystem } from './dense-system.js'
import { relevantPart } from './relevant-states.js'
import type { ContinuousSystem, StateSpace } from './types.js'

/** Gain of every channel at 0 Hz, where it exists, and ±Infinity where the channel integrates.
 *
 * G(0) = D − C A⁻¹ B, delays included. Where A is singular, each channel is judged alone: it integrates if G(s) grows as
 * s → 0 along the positive real axis, and has the sign it grows with; otherwise its limit is extrapolated from two values
 * near 0, which costs about six digits.
 * @param plant - p outputs, m inputs
 * @returns p × m gains [output unit / input unit], `[output][input]`
 * @throws {@link IsolationError} errors of a malformed system
 * @source T. Kailath, Linear Systems, 1980, section 2.1
 * @example
 * import { dcGain, stateSpace } from 'restmass'
 * dcGain(stateSpace({ A: [[-2]], B: [[1]], C: [[4]] }))[0][0] // 2
 */
export function dcGain(plant: ContinuousSystem): number[][] {
  const scope = scopeOf('dcGain')
  const system = blockSystem(within(scope, 'system'), plant)
  const m = system.inputs.length
  const value = responseKernel(denseSystem(system), 1).at(0, 0)
  return system.outputs.map((_, o) =>
    system.inputs.map((_, i) =>
      value === null ? channelGain(scope, relevantPart(system, i, o)) : value.re[o * m + i] + 0,
    ),
  )
}

function channelGain(scope: Scope, channel: StateSpace): number {
  const { re, pole } = axisLimit(scope, channel, 0, 0)
  if (!pole) return re + 0
  return re > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY
}
