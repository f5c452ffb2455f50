import { must, scopeOf } from '../internal/check.js'
import { complexZeros } from '../linear/complex-lu.js'
import { delayedSolver } from '../linear/delayed-solve.js'
import { denseSystem } from './dense-system.js'
import { relevantPart } from './relevant-states.js'
import type { StateSpace } from './types.js'

/** dG/ds at s = 0 of one channel, which is the limit of G(s)/s where G(0) = 0.
 *
 * With M(s) = [s I − A, −B; −C, e^(sτ) − D] over states and delayed signals, G = [C D₁₂] M⁻¹ [B; D₂₁] + D and
 * G' = −[C D₁₂] M⁻¹ diag(I, τ) M⁻¹ [B; D₂₁].
 */
export function slopeAtZero(system: StateSpace, channel: { readonly input: string; readonly output: string }): number {
  const part = relevantPart(system, system.inputs.indexOf(channel.input), system.outputs.indexOf(channel.output))
  const dense = denseSystem(part)
  const n = dense.A.rows
  const { seconds } = dense
  const says = `the channel ${channel.input} to ${channel.output} has a pole at 0 Hz`
  const solved = (solver: ReturnType<typeof delayedSolver>) =>
    must(solver.at(0, 0), 'singular', scopeOf('compliance'), says)
  const first = solved(delayedSolver(dense))
  const weighted = complexZeros(n + seconds.length, 1)
  first.re.forEach((value, k) => {
    weighted.re[k] = k < n ? value : value * seconds[k - n]
  })
  const second = solved(delayedSolver(dense, weighted))
  let slope = 0
  second.re.forEach((value, k) => {
    slope -= value * (k < n ? dense.C.data[k] : dense.D.data[1 + k - n])
  })
  return slope
}
