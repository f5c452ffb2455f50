import { checkNumber, checkOptions, scopeOf } from '../internal/check.js'
import { stateSpace } from '../systems/state-space.js'
import { checkNoise } from './check-noise.js'
import type { InstrumentNoiseOptions, Sensor } from './types.js'

/** Options of {@link geophone}. */
export interface GeophoneOptions {
  /** Natural frequency of the suspended coil [Hz], above 0 */
  readonly naturalFrequency: number
  /** Fraction of critical damping, the load resistor included, above 0 */
  readonly dampingRatio: number
  /** Noise as ground velocity within the band [(m/s)/√Hz]; it is added to the signal. @defaultValue none */
  readonly noise?: InstrumentNoiseOptions
}

/** An electromagnetic velocity sensor (geophone), signal in m/s within its band.
 *
 * Signal over velocity = s²/(s² + 2ζω₀s + ω₀²), ω₀ = 2π·naturalFrequency. The state is the deflection of the coil in units
 * of 1/ω₀ and its rate, so that A = ω₀·[[0, 1], [−1, −2ζ]] whatever the frequency.
 * @param options - see {@link GeophoneOptions}
 * @returns a sensor that measures velocity, block role 'inertialSensor'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source E. Wielandt, Seismic sensors and their calibration, in: New Manual of Seismological Observatory Practice, chapter 5
 * @example
 * import { channel, frequencyResponse, geophone, magnitude } from 'restmass'
 * const { dynamics } = geophone({ naturalFrequency: 4.5, dampingRatio: 0.56 })
 * const response = channel(frequencyResponse(dynamics, [1]), { input: 'motion', output: 'signal' })
 * magnitude(response)[0] // 0.050254
 */
export function geophone(options: GeophoneOptions): Sensor {
  const scope = scopeOf('geophone')
  checkOptions(scope, options, ['naturalFrequency', 'dampingRatio', 'noise'])
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const dampingRatio = checkNumber(scope, 'dampingRatio', options.dampingRatio, { above: 0 })
  const noise = checkNoise(scope, options.noise)
  const omega = 2 * Math.PI * frequency
  const dynamics = stateSpace({
    A: [
      [0, omega],
      [-omega, -2 * dampingRatio * omega],
    ],
    B: [[0], [omega]],
    C: [[-1, -2 * dampingRatio]],
    D: [[1]],
    inputs: ['motion'],
    outputs: ['signal'],
    states: ['deflection', 'rate'],
    role: 'inertialSensor',
  })
  return { kind: 'Sensor', measures: 'velocity', dynamics, noise }
}
