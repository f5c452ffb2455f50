import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { channel } from '../systems/channel.js'
import { angularFrequency, frequencyResponse } from '../systems/frequency-response.js'
import { series } from '../systems/series.js'
import type { ComplexSeries } from '../systems/types.js'
import { type ActuatorOptions, actuatorBlock, type SensorOptions, sensorBlock } from './inertial-path.js'

/** Options of {@link feedforwardResidual}. */
export interface FeedforwardResidualOptions {
  /** Share that is cancelled; 1 is perfect, 1 + e has the gain error e */
  readonly gain: number
  /** Delay of the path [s], at least 0. @defaultValue 0 */
  readonly delay?: number
  /** Time by which the signal is known ahead, as that of a planned move [s], at least 0. @defaultValue 0 */
  readonly preview?: number
  /** Sensor of the signal, with its corner. @defaultValue an exact one, or a known signal */
  readonly sensor?: SensorOptions
  /** Actuator, with its lag. @defaultValue an exact one */
  readonly actuator?: ActuatorOptions
}

/** What feedforward leaves of the disturbance it cancels: 1 − M with the match M = gain · S A e^(−s(τ − preview)).
 *
 * It multiplies the transmissibility of a floor that is fed forward and the response to a reaction force that is. With gain
 * error e and phase φ, |1 − M|² = e² + 4 (1 + e) sin²(φ/2); beyond 60° of phase it makes things worse.
 * @param options - see {@link FeedforwardResidualOptions}
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @returns complex residual, no unit
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`; errors of a malformed grid
 * @source derived: superposition of disturbance and counter-action; |1 − M| as in M. A. Beijen et al., self-tuning
 * feedforward control for active vibration isolation of precision machines
 * @example
 * import { feedforwardResidual, magnitude } from 'restmass'
 * magnitude(feedforwardResidual({ gain: 1.03, delay: 1.5e-3 }, [30]))[0] // 0.288
 */
export function feedforwardResidual(
  options: FeedforwardResidualOptions,
  frequencies: ArrayLike<number>,
): ComplexSeries {
  const scope = scopeOf('feedforwardResidual')
  checkOptions(scope, options, ['gain', 'delay', 'preview', 'sensor', 'actuator'])
  const gain = checkNumber(scope, 'gain', options.gain, {})
  const late =
    checkOptional(scope, 'delay', options.delay, { unit: 's', atLeast: 0 }, 0) -
    checkOptional(scope, 'preview', options.preview, { unit: 's', atLeast: 0 }, 0)
  const sensor = sensorBlock(scope, options.sensor).block
  const actuator = actuatorBlock(scope, options.actuator, 'output').block
  const path = channel(frequencyResponse(series(sensor, actuator), frequencies), {
    input: 'velocity',
    output: 'output',
  })
  const { re, im } = path
  const highest = path.frequency[path.frequency.length - 1]
  if (!Number.isFinite(angularFrequency(highest) * late)) {
    const key = late > 0 ? 'delay' : 'preview'
    const says = `must be short enough for its phase at ${highest} Hz to be a number, got ${options[key]}`
    fail('out-of-range', within(scope, key), says, { value: options[key], unit: 's' })
  }
  path.frequency.forEach((frequency, k) => {
    const angle = angularFrequency(frequency) * late
    const [real, imaginary] = [re[k], im[k]]
    re[k] = 1 - gain * (real * Math.cos(angle) + imaginary * Math.sin(angle))
    im[k] = -gain * (imaginary * Math.cos(angle) - real * Math.sin(angle))
  })
  return path
}
