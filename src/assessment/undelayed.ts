import { fail, type Scope, within } from '../internal/check.js'
import { pade } from '../systems/pade.js'
import { checkPadeOrder } from '../systems/pade-order.js'
import { stability } from '../systems/stability.js'
import type { StateSpace } from '../systems/types.js'

/** A stable system as it can be followed in time, with the order of the Padé approximation of its delays; null without. */
export function undelayed(
  scope: Scope,
  closed: StateSpace,
  padeOrder: number | undefined,
): { readonly system: StateSpace; readonly padeOrder: number | null } {
  const order = checkPadeOrder(scope, padeOrder)
  if (closed.delays === null) return { system: closed, padeOrder: null }
  const system = pade(closed, { order })
  if (stability(system).verdict === 'stable') return { system, padeOrder: order }
  fail('unstable', within(scope, 'padeOrder'), `of ${order} does not keep the model stable; raise it`)
}
