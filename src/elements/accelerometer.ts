import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { cascade, firstOrderHighPass, type Section, secondOrder } from '../systems/section.js'
import { sensorRecord } from './sensor-record.js'
import type { Sensor, SensorNoiseOptions } from './types.js'

/** Options of {@link accelerometer}. */
export interface AccelerometerOptions {
  /** Resonance of the sensing mass [Hz], above 0, needs `dampingRatio`. @defaultValue none, no limit at high frequency */
  readonly naturalFrequency?: number
  /** Fraction of critical damping of that resonance, above 0 */
  readonly dampingRatio?: number
  /** First-order corner below which the signal falls, as with piezo elements [Hz], above 0. @defaultValue none */
  readonly lowerCorner?: number
  /** Noise of the signal [(m/s²)/√Hz]. @defaultValue none */
  readonly noise?: SensorNoiseOptions
}

/** An accelerometer, signal in m/s² within its band.
 *
 * Signal over acceleration = s/(s + ω_l) · ω₀²/(s² + 2ζω₀s + ω₀²), each factor only where it is given.
 * @param options - see {@link AccelerometerOptions}
 * @returns a sensor that measures acceleration, block role 'inertialSensor'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source ISO 2041:2018, seismic transducer; common practice, no source, for the lower corner
 * @example
 * import { accelerometer, poles } from 'restmass'
 * const { dynamics } = accelerometer({ naturalFrequency: 400, dampingRatio: 0.7, lowerCorner: 0.1 })
 * poles(dynamics).length // 3
 */
export function accelerometer(options: AccelerometerOptions): Sensor {
  const scope = scopeOf('accelerometer')
  checkOptions(scope, options, ['naturalFrequency', 'dampingRatio', 'lowerCorner', 'noise'])
  const { naturalFrequency, dampingRatio } = options
  if (naturalFrequency === undefined && dampingRatio !== undefined) {
    fail('invalid-option', within(scope, 'dampingRatio'), 'needs naturalFrequency')
  }
  const corner = checkOptional(scope, 'lowerCorner', options.lowerCorner, { unit: 'Hz', above: 0 }, null)
  const sections: Section[] = corner === null ? [] : [firstOrderHighPass(2 * Math.PI * corner)]
  if (naturalFrequency !== undefined) {
    const frequency = checkNumber(scope, 'naturalFrequency', naturalFrequency, { unit: 'Hz', above: 0 })
    const damping = checkNumber(scope, 'dampingRatio', dampingRatio, { above: 0 })
    sections.push(secondOrder(2 * Math.PI * frequency, damping, { level: 1 }))
  }
  const block = cascade(scope, sections, { input: 'motion', output: 'signal' })
  return sensorRecord(scope, 'acceleration', { ...block, role: 'inertialSensor' }, options.noise)
}
