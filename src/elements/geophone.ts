import { checkNumber, checkOptional, checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { stateSpace } from '../systems/state-space.js'
import { coilNoise } from './coil-noise.js'
import { sensorRecord } from './sensor-record.js'
import type { Sensor, SensorNoiseOptions } from './types.js'

/** Options of {@link geophone}: what it does, or what its coil is made of. */
export type GeophoneOptions = GeophoneBehaviour | GeophoneCoil

/** A geophone by what it does. */
export interface GeophoneBehaviour {
  /** Natural frequency of the suspended coil [Hz], above 0 */
  readonly naturalFrequency: number
  /** Fraction of critical damping, the load resistor included, above 0 */
  readonly dampingRatio: number
  /** Noise of the signal, ground velocity within the band [(m/s)/√Hz]. @defaultValue none */
  readonly noise?: SensorNoiseOptions
}

/** A geophone by its coil, from which electrical damping and noise follow. */
export interface GeophoneCoil {
  /** Natural frequency of the suspended coil [Hz], above 0 */
  readonly naturalFrequency: number
  /** Fraction of critical damping without a load, above 0 */
  readonly openCircuitDampingRatio: number
  /** Mass that the springs carry [kg], above 0 */
  readonly movingMass: number
  /** Open-circuit voltage per velocity, and force per current [V/(m/s)], above 0 */
  readonly voltagePerVelocity: number
  /** Resistance of the coil [Ω], above 0 */
  readonly coilResistance: number
  /** Resistance across the coil [Ω], above 0. @defaultValue none, open circuit */
  readonly loadResistance?: number
  /** Temperature of coil and load [K], above 0. @defaultValue 293.15 */
  readonly temperature?: number
  /** White voltage noise at the input of the amplifier [V/√Hz], at least 0. @defaultValue 0 */
  readonly amplifierVoltageNoise?: number
  /** White current noise at the input of the amplifier [A/√Hz], at least 0. @defaultValue 0 */
  readonly amplifierCurrentNoise?: number
}

/** An electromagnetic velocity sensor; made by {@link geophone}. */
export interface Geophone extends Sensor {
  /** Fraction of critical damping, load included */
  readonly dampingRatio: number
  /** Voltage at the load per velocity in band [V/(m/s)]; null where the coil is not known */
  readonly loadedVoltagePerVelocity: number | null
}

/** An electromagnetic velocity sensor (geophone), signal in m/s within its band.
 *
 * Signal over velocity = s²/(s² + 2ζω₀s + ω₀²), ω₀ = 2π·naturalFrequency. The state is the deflection of the coil in units
 * of 1/ω₀ and its rate, so that A = ω₀·[[0, 1], [−1, −2ζ]] whatever the frequency. From a coil, ζ = ζ₀ + G²/(2mω₀(R_c + R_L))
 * and the noise voltage is 4·k_B·T·Re Z + e² + i²·|Z|² with Z = R_L ∥ (R_c + G²s/(m(s² + 2ζ₀ω₀s + ω₀²))), which holds the
 * suspension's Brownian motion and the resistors with their correlation; tabulated from 0.01 to 1000 natural frequencies.
 * @param options - see {@link GeophoneOptions}
 * @returns a sensor that measures velocity, block role 'inertialSensor'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source E. Wielandt, Seismic sensors and their calibration, in: New Manual of Seismological Observatory Practice, chapter 5;
 * H. Nyquist, Phys. Rev. 32 (1928) 110, for the noise of an impedance
 * @example
 * import { channel, frequencyResponse, geophone, magnitude } from 'restmass'
 * const { dynamics } = geophone({ naturalFrequency: 4.5, dampingRatio: 0.56 })
 * const response = channel(frequencyResponse(dynamics, [1]), { input: 'motion', output: 'signal' })
 * magnitude(response)[0] // 0.050254
 */
export function geophone(options: GeophoneOptions): Geophone {
  const scope = scopeOf('geophone')
  checkOptions(scope, options, [...behaviourKeys, ...coilKeys])
  return 'movingMass' in options ? byCoil(scope, options) : byBehaviour(scope, options)
}

const behaviourKeys = ['naturalFrequency', 'dampingRatio', 'noise']
const coilKeys = [
  'naturalFrequency',
  'openCircuitDampingRatio',
  'movingMass',
  'voltagePerVelocity',
  'coilResistance',
  'loadResistance',
  'temperature',
  'amplifierVoltageNoise',
  'amplifierCurrentNoise',
]

function byBehaviour(scope: Scope, options: GeophoneBehaviour): Geophone {
  checkOptions(scope, options, behaviourKeys)
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const dampingRatio = checkNumber(scope, 'dampingRatio', options.dampingRatio, { above: 0 })
  const sensor = sensorRecord(scope, 'velocity', suspendedCoil(frequency, dampingRatio), options.noise)
  return { ...sensor, dampingRatio, loadedVoltagePerVelocity: null }
}

function byCoil(scope: Scope, options: GeophoneCoil): Geophone {
  checkOptions(scope, options, coilKeys)
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const open = checkNumber(scope, 'openCircuitDampingRatio', options.openCircuitDampingRatio, { above: 0 })
  const mass = checkNumber(scope, 'movingMass', options.movingMass, { unit: 'kg', above: 0 })
  const G = checkNumber(scope, 'voltagePerVelocity', options.voltagePerVelocity, { unit: 'V/(m/s)', above: 0 })
  const coil = checkNumber(scope, 'coilResistance', options.coilResistance, { unit: 'Ω', above: 0 })
  const load = checkOptional(scope, 'loadResistance', options.loadResistance, { unit: 'Ω', above: 0 }, Infinity)
  const loadedVoltagePerVelocity = G / (1 + coil / load)
  const dampingRatio = open + G ** 2 / (4 * Math.PI * frequency * mass * (coil + load))
  const dynamics = suspendedCoil(frequency, dampingRatio)
  const noise = coilNoise({
    frequency,
    open,
    mass,
    G,
    coil,
    load,
    temperature: checkOptional(scope, 'temperature', options.temperature, { unit: 'K', above: 0 }, 293.15),
    voltage: checkOptional(
      scope,
      'amplifierVoltageNoise',
      options.amplifierVoltageNoise,
      { unit: 'V/√Hz', atLeast: 0 },
      0,
    ),
    current: checkOptional(
      scope,
      'amplifierCurrentNoise',
      options.amplifierCurrentNoise,
      { unit: 'A/√Hz', atLeast: 0 },
      0,
    ),
  })
  return { ...sensorRecord(scope, 'velocity', dynamics, noise), dampingRatio, loadedVoltagePerVelocity }
}

function suspendedCoil(frequency: number, dampingRatio: number) {
  const omega = 2 * Math.PI * frequency
  return stateSpace({
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
}
