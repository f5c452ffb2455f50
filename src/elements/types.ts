import type { StateSpace } from '../systems/types.js'

/** A relaxing (Maxwell) branch of a mount: a spring in series with a dashpot, K(s) = stiffness · time·s / (1 + time·s). */
export interface Relaxation {
  /** Stiffness of the branch at high frequency [N/m] */
  readonly stiffness: number
  /** Relaxation time, dashpot over spring [s], above 0 */
  readonly time: number
}

/** Internal resonances of a coil spring, whose own mass vibrates between its ends; see {@link springMount}. */
export interface CoilSurge {
  /** Mass of the coils that move [kg], above 0 */
  readonly mass: number
  /** First resonance with both ends held [Hz], above 0; the others are its multiples */
  readonly naturalFrequency: number
  /** Damping ratio of each resonance, at least 0 */
  readonly dampingRatio: number
  /** How many of them are in the model, 1 to 20 */
  readonly modes: number
}

/** Any passive mount: K(s) = stiffness + damping·s + Σ stiffnessᵢ·timeᵢ·s / (1 + timeᵢ·s).
 *
 * May be written as a literal. Negative values are allowed where they are physical, such as a magnetic spring; what is
 * assembled must have positive static stiffness.
 */
export interface Mount {
  /** Which function made it; absent in a literal. */
  readonly kind?: string
  /** Static stiffness [N/m] */
  readonly stiffness: number
  /** Dashpot across the mount [N·s/m]. @defaultValue 0 */
  readonly damping?: number
  /** Relaxing branches. @defaultValue none */
  readonly relaxations?: readonly Relaxation[]
  /** Coil springs in the mount whose mass counts. @defaultValue none */
  readonly surge?: readonly CoilSurge[]
  /** The same mount sideways. @defaultValue not known */
  readonly lateral?: Mount
}

/** A mount with nothing left to default but what it need not have. */
export interface CanonicalMount extends Mount {
  readonly damping: number
  readonly relaxations: readonly Relaxation[]
}

/** The record of a mount without further data. */
export interface MountRecord extends CanonicalMount {
  readonly kind: 'Mount'
}

/** An air spring and the data that load sharing and levelling need; made by {@link airSpring}. */
export interface AirSpring extends CanonicalMount {
  readonly kind: 'AirSpring'
  /** Effective area [m²] */
  readonly area: number
  /** Volume of the spring chamber [m³] */
  readonly volume: number
  /** Pressure above ambient [Pa] */
  readonly gaugePressure: number
  /** Ambient pressure [Pa] */
  readonly ambientPressure: number
  /** gaugePressure + ambientPressure [Pa] */
  readonly absolutePressure: number
  /** What one spring carries, gaugePressure · area [N] */
  readonly load: number
  /** Pressure above ambient for which it is rated [Pa]; null where none is known. */
  readonly ratedGaugePressure: number | null
  /** Exponent n of the vibration model */
  readonly polytropicExponent: number
  /** Thermal time at constant volume [s]; null where the exponent holds at every frequency. */
  readonly heatExchange: null | { readonly time: number }
  /** Growth of the effective area with compression [m²/m] */
  readonly areaGradient: number
  /** Stiffness of the diaphragm beside the gas [N/m] */
  readonly diaphragmStiffness: number
  /** Volume [m³] and flow resistance [Pa·s/m³] of the damping chamber, 'optimal' worked out; null without one. */
  readonly dampingChamber: null | { readonly volume: number; readonly flowResistance: number }
  /** The gas part of the mount alone, the n·p·A²/V terms; levelling acts on it. */
  readonly gas: { readonly stiffness: number; readonly relaxations: readonly Relaxation[] }
  /** Isothermal stiffness [N/m], both chambers, n = 1: slow motion and stability against tipping */
  readonly staticStiffness: number
  /** Natural frequency [Hz] of `stiffness` on the spring's own load */
  readonly naturalFrequency: number
  /** What is unsafe about it, such as a pressure above the rating */
  readonly cautions: readonly string[]
}

/** A rubber-like mount with a constant loss factor; made by {@link elastomerMount}. */
export interface ElastomerMount extends CanonicalMount {
  readonly kind: 'ElastomerMount'
  /** Loss factor Im K / Re K asked for */
  readonly lossFactor: number
  /** Band over which it holds [Hz] */
  readonly band: readonly [number, number]
  /** Re K at the geometric mean of the band over K(0) */
  readonly staticRatio: number
  /** Largest relative deviations from the model inside the band */
  readonly fit: { readonly stiffnessDeviation: number; readonly lossFactorDeviation: number }
}

/** Noise of an instrument as a table, joined by straight lines in log-log. */
export interface InstrumentNoise {
  /** Grid [Hz], ascending, above 0 */
  readonly frequency: Float64Array
  /** One-sided amplitude density at the output of the instrument, in the unit of that output per √Hz */
  readonly amplitudeDensity: Float64Array
}

/** Noise as it may be written: lists of numbers or `Float64Array`s. */
export interface InstrumentNoiseOptions {
  /** Grid [Hz], ascending, above 0 */
  readonly frequency: readonly number[] | Float64Array
  /** One-sided amplitude density in the unit of the output per √Hz, at least 0, one entry per frequency */
  readonly amplitudeDensity: readonly number[] | Float64Array
}

/** A kind of motion. */
export type MotionQuantity = 'velocity' | 'acceleration' | 'displacement'

/** Noise of a sensor as it may be written; it ends as noise of the signal. */
export interface SensorNoiseOptions extends InstrumentNoiseOptions {
  /** Kind of motion that the densities are in, [m/√Hz] for displacement. @defaultValue what the sensor measures */
  readonly quantity?: MotionQuantity
  /** `'signal'`: in the unit of the motion, but after the dynamics of the sensor. `'motion'`: as motion that would give the
   * same signal, the way instruments are published; it is multiplied by the dynamics. @defaultValue 'signal' */
  readonly referredTo?: 'signal' | 'motion'
}

/** A motion sensor. */
export interface Sensor {
  readonly kind: 'Sensor'
  readonly measures: MotionQuantity
  /** From the motion to the signal, unit gain in band */
  readonly dynamics: StateSpace<'motion', 'signal'>
  readonly noise: InstrumentNoise | null
}

/** What an actuator can give at most; absent where nothing is known. */
export interface ActuatorLimits {
  /** Largest force, either sign [N] */
  readonly force?: number
  /** Largest root mean square force over long times, from heat [N] */
  readonly continuousForce?: number
  /** Whole travel from end to end [m] */
  readonly stroke?: number
  /** Largest rate of the output, either sign [N/s] or [m/s] */
  readonly rate?: number
}

/** An actuator that turns a command into a force [N] or a free expansion [m]. */
export interface Actuator<O extends 'force' | 'expansion' = 'force' | 'expansion'> {
  readonly kind: 'Actuator'
  /** From the command to the output, unit gain in band */
  readonly dynamics: StateSpace<'command', O>
  readonly limits: ActuatorLimits
  readonly noise: InstrumentNoise | null
}
