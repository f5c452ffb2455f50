import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { delay } from '../systems/delay.js'
import { series } from '../systems/series.js'
import { actuatorDynamics } from './actuator-dynamics.js'
import { checkNoise } from './check-noise.js'
import type { Actuator, InstrumentNoiseOptions } from './types.js'

/** Options of {@link pneumaticActuator}. */
export interface PneumaticActuatorOptions {
  /** First-order corner of valve and volume together [Hz], above 0; a few hertz as a rule */
  readonly bandwidth: number
  /** Dead time of valve and tube [s], at least 0; the length of the tube over 343 m/s at least. @defaultValue 0 */
  readonly delay?: number
  /** Largest change of the force about the load, either sign [N], above 0. @defaultValue not known */
  readonly maxForce?: number
  /** Fastest change of the force with the valve open [N/s], above 0. @defaultValue not known */
  readonly maxRate?: number
  /** Noise of the force [N/√Hz]. @defaultValue none */
  readonly noise?: InstrumentNoiseOptions
}

/** A servo valve that sets the pressure of an air spring: force over command = e^(−sτ)·ω/(s + ω).
 *
 * The force is the change about the load. Air springs are pressure equipment: follow local codes.
 * @param options - see {@link PneumaticActuatorOptions}
 * @returns an actuator whose output is a force, block role 'actuator'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source common practice, no source: first-order filling of a volume behind a valve, with dead time
 * @example
 * import { pneumaticActuator } from 'restmass'
 * pneumaticActuator({ bandwidth: 3, delay: 0.01 }).dynamics.delays?.seconds // [0.01]
 */
export function pneumaticActuator(options: PneumaticActuatorOptions): Actuator<'force'> {
  const scope = scopeOf('pneumaticActuator')
  checkOptions(scope, options, ['bandwidth', 'delay', 'maxForce', 'maxRate', 'noise'])
  const bandwidth = checkNumber(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0 })
  const seconds = checkOptional(scope, 'delay', options.delay, { unit: 's', atLeast: 0 }, 0)
  const force = checkOptional(scope, 'maxForce', options.maxForce, { unit: 'N', above: 0 }, undefined)
  const rate = checkOptional(scope, 'maxRate', options.maxRate, { unit: 'N/s', above: 0 }, undefined)
  const lag = actuatorDynamics('force', bandwidth)
  return {
    kind: 'Actuator',
    dynamics: seconds === 0 ? lag : { ...series(delay({ seconds, input: 'command' }), lag), role: 'actuator' },
    limits: { ...(force === undefined ? {} : { force }), ...(rate === undefined ? {} : { rate }) },
    noise: checkNoise(scope, options.noise),
  }
}
