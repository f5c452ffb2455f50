import { checkOptional, type Scope } from '../internal/check.js'

/** The order by which delays are approximated where a motion is followed in time. */
export function checkPadeOrder(scope: Scope, padeOrder: number | undefined): number {
  return checkOptional(scope, 'padeOrder', padeOrder, { integer: true, atLeast: 1, atMost: 20 }, 6)
}
