import { scopeOf } from '../internal/check.js'
import { closeStorey, type IsolationModel } from './model.js'
import { type StackedIsolationOptions, storeyOf } from './storey-of.js'

/** Model of one isolation on top of another, coupled in both directions.
 *
 *     payload of upper      unprefixed ports
 *       | upper
 *     payload of lower      ports lower_…
 *       | lower
 *     floor
 *
 * The upper storey stands on the payload of the lower one: its forces react there, its floor is that payload. Multiplying
 * the two transmissibilities would be wrong near the resonances. High stacks tip: check stability and seismic restraint
 * with local codes.
 *
 * Storeys of `sixAxisIsolation` stand in one common frame: positions of both count from the same origin. Each has its ports
 * at its own reference. The lower storey carries the weight of both, its air springs too, and tips the sooner the softer the
 * upper one is sideways, since that leans over with it; `unstable` where the two together tip at rest.
 *
 * Either storey may itself be stacked: ports and blocks of the chain are then named from the top down, without prefix,
 * `lower_`, `lower_lower_` and so on, whichever way it was put together.
 * @param options - see {@link StackedIsolationOptions}; air springs below must carry everything above them
 * @returns the diagram, with block prefixes `lower_` and `upper_`, and the closed model; loops of the upper storey first
 * @throws {@link IsolationError} those of the two concepts, with paths that begin with `lower` or `upper`; `unsupported` for
 * one axis on six or six on one
 * @source derived: force balance of the whole chain
 * @example
 * import { isolationSummary, stackedIsolation } from 'restmass'
 * const mount = { stiffness: 1e5, damping: 600 }
 * const storey = { concept: 'passive' as const, payload: { mass: 500 }, mount }
 * isolationSummary(stackedIsolation({ lower: storey, upper: storey })).resonances.length // 2
 */
export function stackedIsolation(options: StackedIsolationOptions): IsolationModel {
  return closeStorey(storeyOf(scopeOf('stackedIsolation'), { ...options, concept: 'stacked' }, null))
}
