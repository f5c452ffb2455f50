import { scopeOf } from '../internal/check.js'
import { closeStorey, type IsolationModel } from './model.js'
import { type IsolationOptions, storeyOf } from './storey-of.js'

/** Model of any concept, from one options object such as JSON gives.
 *
 * @param options - the options of the concept named by `concept`
 * @returns what the function of that concept returns
 * @throws {@link IsolationError} `invalid-option` for an unknown concept, and the errors of that concept
 * @source derived: dispatch by name
 * @example
 * import { isolation } from 'restmass'
 * const model = isolation({ concept: 'passive', payload: { mass: 50 }, mount: { stiffness: 1e5 } })
 * model.concept // 'passive'
 */
export function isolation(options: IsolationOptions): IsolationModel {
  return closeStorey(storeyOf(scopeOf('isolation'), options, null))
}
