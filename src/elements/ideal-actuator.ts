import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { actuatorDynamics } from './actuator-dynamics.js'
import type { Actuator } from './types.js'

/** Options of {@link idealActuator}. */
export interface IdealActuatorOptions {
  /** Corner of a first-order lag [Hz], above 0. @defaultValue none, the force is the command */
  readonly bandwidth?: number
}

/** A force actuator without limits or noise: force over command = ω/(s + ω), ω = 2π·bandwidth, or exactly 1.
 *
 * @param options - see {@link IdealActuatorOptions}
 * @returns an actuator whose output is a force, block role 'actuator'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: unit gain with a first-order lag
 * @example
 * import { idealActuator, poles } from 'restmass'
 * poles(idealActuator({ bandwidth: 30 }).dynamics)[0].naturalFrequency // 30.0000
 */
export function idealActuator(options: IdealActuatorOptions = {}): Actuator<'force'> {
  const scope = scopeOf('idealActuator')
  checkOptions(scope, options, ['bandwidth'])
  const given = options.bandwidth
  const bandwidth = given === undefined ? null : checkNumber(scope, 'bandwidth', given, { unit: 'Hz', above: 0 })
  return { kind: 'Actuator', dynamics: actuatorDynamics('force', bandwidth), limits: {}, noise: null }
}
