import { scopeOf } from '../internal/check.js'
import { marginsKnowing } from '../systems/margins.js'
import { openedAt } from '../systems/open-loop.js'
import { stability } from '../systems/stability.js'
import type { Margins, StabilityVerdict } from '../systems/types.js'
import { checkModel } from './check-model.js'
import type { IsolationModel, ModelLoop } from './model.js'

/** A loop of a model with its margins, all other loops closed. */
export interface LoopMargins extends ModelLoop {
  readonly margins: Margins
}

/** Margins of every loop of a model, each opened at its port while the others stay closed.
 *
 * L is the loop in 1/(1 + L).
 * @param model - of any concept, stable or not
 * @returns one record per loop, main loop first, levelling last; none without loops
 * @throws {@link IsolationError} as `openLoop` and `margins`
 * @source K. J. Åström, R. M. Murray, Feedback Systems, 2008, section 9.3
 * @example
 * import { activelyDampedIsolation, loopMargins } from 'restmass'
 * const damping = { gain: 2000, delay: 0.002 }
 * const model = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e4 }, damping })
 * loopMargins(model).map(({ name }) => name) // ['damping']
 */
export function loopMargins(model: IsolationModel): LoopMargins[] {
  return loopMarginsOf(checkModel(scopeOf('loopMargins'), model))
}

/** The same for a model that has been checked. Every loop when closed is the model, so that one verdict serves for all. */
export function loopMarginsOf(
  { loops, diagram, closed }: IsolationModel,
  known: StabilityVerdict | undefined = loops.length > 1 ? stability(closed).verdict : undefined,
): LoopMargins[] {
  return loops.map(({ name, port }) => ({
    name,
    port,
    margins: marginsKnowing(openedAt(scopeOf('openLoop'), diagram, port), known),
  }))
}
