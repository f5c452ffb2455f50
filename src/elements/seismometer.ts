import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { cascade, secondOrder } from '../systems/section.js'
import { sensorRecord } from './sensor-record.js'
import type { Sensor, SensorNoiseOptions } from './types.js'

/** Options of {@link seismometer}. */
export interface SeismometerOptions {
  /** Lower corner, the natural frequency that the feedback makes [Hz], above 0: 1/120 for a 120 s instrument */
  readonly lowerCorner: number
  /** Fraction of critical damping at the lower corner, above 0. @defaultValue 1/√2 */
  readonly dampingRatio?: number
  /** Second-order Butterworth corner at the upper end of the band [Hz], above 0. @defaultValue none */
  readonly upperCorner?: number
  /** Noise of the signal [(m/s)/√Hz]. @defaultValue none */
  readonly noise?: SensorNoiseOptions
}

/** A broadband force-balance seismometer, signal in m/s within its band.
 *
 * Signal over velocity = s²/(s² + 2ζω₀s + ω₀²) · ω_u²/(s² + √2·ω_u·s + ω_u²), the second factor only with `upperCorner`.
 * @param options - see {@link SeismometerOptions}
 * @returns a sensor that measures velocity, block role 'inertialSensor'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source E. Wielandt, Seismic sensors and their calibration, in: New Manual of Seismological Observatory Practice, chapter 5
 * @example
 * import { poles, seismometer } from 'restmass'
 * poles(seismometer({ lowerCorner: 1 / 120, upperCorner: 50 }).dynamics).length // 4
 */
export function seismometer(options: SeismometerOptions): Sensor {
  const scope = scopeOf('seismometer')
  checkOptions(scope, options, ['lowerCorner', 'dampingRatio', 'upperCorner', 'noise'])
  const lower = checkNumber(scope, 'lowerCorner', options.lowerCorner, { unit: 'Hz', above: 0 })
  const damping = checkOptional(scope, 'dampingRatio', options.dampingRatio, { above: 0 }, Math.SQRT1_2)
  const upper = checkOptional(scope, 'upperCorner', options.upperCorner, { unit: 'Hz', above: 0 }, null)
  const sections = [secondOrder(2 * Math.PI * lower, damping, { direct: 1 })]
  if (upper !== null) sections.push(secondOrder(2 * Math.PI * upper, Math.SQRT1_2, { level: 1 }))
  const block = cascade(scope, sections, { input: 'motion', output: 'signal' })
  return sensorRecord(scope, 'velocity', { ...block, role: 'inertialSensor' }, options.noise)
}
