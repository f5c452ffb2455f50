import { fail, scopeOf } from '../internal/check.js'
import {
  type SimultaneousMargin,
  type SimultaneousMarginOptions,
  simultaneousMargin,
} from '../systems/simultaneous-margin.js'
import { checkModel } from './check-model.js'
import type { IsolationModel } from './model.js'

/** Gain, phase and delay that all loops of a model bear at once, height control and active loops together.
 *
 * Margins of one loop at a time say nothing about changes in several; this bound does. See `simultaneousMargin` for what it
 * guarantees. A loop that runs away moves a heavy load: limit force and stroke in hardware.
 * @param model - of any concept, with at least one loop
 * @param options - see {@link SimultaneousMarginOptions}
 * @returns see {@link SimultaneousMargin}, ports in the order of `model.loops`
 * @throws {@link IsolationError} `invalid-option` for a model without loops
 * @source P. Seiler, A. Packard, P. Gahinet, IEEE Control Systems 40 (2020) 78
 * @example
 * import { activelyDampedIsolation, simultaneousLoopMargin } from 'restmass'
 * const damping = { gain: 2000 }
 * const model = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e4 }, damping })
 * simultaneousLoopMargin(model).diskMargin // 2.000
 */
export function simultaneousLoopMargin(
  model: IsolationModel,
  options: SimultaneousMarginOptions = {},
): SimultaneousMargin {
  const scope = scopeOf('simultaneousLoopMargin')
  const { diagram, loops } = checkModel(scope, model)
  if (loops.length === 0) fail('invalid-option', scope, 'needs a model with a loop, got one without')
  return simultaneousMargin(
    diagram,
    loops.map(({ port }) => port),
    options,
  )
}
