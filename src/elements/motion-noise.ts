import { checkGrid, checkOneOf, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkSensor } from './filtered-sensor.js'
import { densityAt, finiteNoise, gains, motionFactors } from './noise-table.js'
import { motionQuantities } from './sensor-record.js'
import type { InstrumentNoise, MotionQuantity, Sensor } from './types.js'

/** Options of {@link motionNoise}. */
export interface MotionNoiseOptions {
  /** Kind of motion to state the noise in. @defaultValue what the sensor measures */
  readonly quantity?: MotionQuantity
  /** Grid [Hz], ascending, within the table of the sensor. @defaultValue that of the table */
  readonly frequencies?: readonly number[] | Float64Array
}

/** Noise of a sensor as the motion that would give the same signal, the way instruments are compared.
 *
 * The noise of the signal over the modulus of the dynamics, times a power of ω for another kind of motion; between the
 * entries of the table straight in log-log.
 * @param sensor - with noise
 * @param options - see {@link MotionNoiseOptions}
 * @returns one-sided amplitude density, [m/√Hz] for displacement
 * @throws {@link IsolationError} `invalid-option` for a sensor without noise; `out-of-range` outside of its table
 * @source E. Wielandt, Seismic sensors and their calibration, in: New Manual of Seismological Observatory Practice, section 5.5
 * @example
 * import { accelerometer, motionNoise } from 'restmass'
 * const sensor = accelerometer({ noise: { frequency: [1, 10], amplitudeDensity: [1e-7, 1e-7] } })
 * motionNoise(sensor, { quantity: 'displacement' }).amplitudeDensity[1] // 2.53303e-11
 */
export function motionNoise(sensor: Sensor, options: MotionNoiseOptions = {}): InstrumentNoise {
  const scope = scopeOf('motionNoise')
  const { measures, noise, dynamics } = checkSensor(within(scope, 'sensor'), sensor)
  checkOptions(scope, options, ['quantity', 'frequencies'])
  if (noise === null) fail('invalid-option', within(scope, 'sensor.noise'), 'is not known')
  const to = checkOneOf(scope, 'quantity', options.quantity ?? measures, motionQuantities)
  const frequency = checkGrid(scope, 'frequencies', options.frequencies ?? noise.frequency, {
    unit: 'Hz',
    atLeast: noise.frequency[0],
    atMost: noise.frequency[noise.frequency.length - 1],
  })
  const factors = motionFactors(frequency, measures, to)
  const size = gains(dynamics, frequency)
  const amplitudeDensity = frequency.map((place, k) => (densityAt(noise, place) * factors[k]) / size[k])
  return finiteNoise(scope, { frequency, amplitudeDensity })
}
