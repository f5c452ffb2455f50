import { checkNumber, checkOneOf, checkOptional, checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { actuatorDynamics } from './actuator-dynamics.js'
import { mountRecord } from './check-mount.js'
import { checkNoise } from './check-noise.js'
import type { Actuator, ActuatorLimits, InstrumentNoiseOptions, MountRecord } from './types.js'

/** Options of {@link voiceCoil}. */
export interface VoiceCoilOptions {
  /** Force per current, and voltage per velocity [N/A], above 0 */
  readonly forceConstant: number
  /** Resistance of the coil [Ω], above 0 */
  readonly resistance: number
  /** Inductance of the coil [H], at least 0. @defaultValue 0 */
  readonly inductance?: number
  /** A current amplifier takes away the back-EMF; with a voltage amplifier the coil sets the lag. @defaultValue 'current' */
  readonly drive?: 'current' | 'voltage'
  /** First-order corner of the amplifier [Hz], above 0; refused with 'voltage'. @defaultValue none */
  readonly bandwidth?: number
  /** Largest force, either sign [N], above 0. @defaultValue not known */
  readonly maxForce?: number
  /** Largest current, either sign [A], above 0. @defaultValue not known */
  readonly maxCurrent?: number
  /** Largest voltage, either sign [V], above 0: bounds the force at rest, and its rate through the inductance.
   * @defaultValue not known */
  readonly maxVoltage?: number
  /** Heat that the coil sheds for good [W], above 0; it sets the continuous force motorConstant·√maxHeat.
   * @defaultValue not known */
  readonly maxHeat?: number
  /** Whole travel from end to end [m], above 0. @defaultValue not known */
  readonly stroke?: number
  /** Noise of the force [N/√Hz]. @defaultValue none */
  readonly noise?: InstrumentNoiseOptions
}

/** An electrodynamic force actuator; made by {@link voiceCoil}. */
export interface VoiceCoil extends Actuator<'force'> {
  /** [N/A] */
  readonly forceConstant: number
  /** forceConstant/√resistance [N/√W]; a steady force F costs (F/motorConstant)² watts */
  readonly motorConstant: number
  /** What the coil does between the same two bodies without a command, to be set parallel to the mount; null with 'current'. */
  readonly backEmf: MountRecord | null
}

/** A voice coil, command and output a force [N].
 *
 * Current drive: force over command = ω/(s + ω) with the corner of the amplifier, or 1. Voltage drive, command scaled to
 * the force at rest: R/(R + L·s), and the back-EMF resists motion with forceConstant²/(R + L·s) newtons per m/s: a dashpot,
 * with inductance a relaxing branch of stiffness forceConstant²/L and time L/R. The smaller of `maxForce` and
 * forceConstant·maxCurrent is the limit.
 * @param options - see {@link VoiceCoilOptions}
 * @returns an actuator, block role 'actuator'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source derived: F = k·i and L·di/dt + R·i + k·v = V
 * @example
 * import { voiceCoil } from 'restmass'
 * const coil = voiceCoil({ forceConstant: 20, resistance: 4, drive: 'voltage' })
 * coil.backEmf?.damping // 100
 */
export function voiceCoil(options: VoiceCoilOptions): VoiceCoil {
  const scope = scopeOf('voiceCoil')
  const electrical = ['forceConstant', 'resistance', 'inductance', 'drive', 'noise']
  const drive = checkOneOf(
    scope,
    'drive',
    checkOptions(scope, options, [...electrical, 'bandwidth', ...limitKeys()]).drive ?? 'current',
    ['current', 'voltage'],
  )
  if (drive === 'voltage') checkOptions(scope, options, [...electrical, ...limitKeys()])
  const forceConstant = checkNumber(scope, 'forceConstant', options.forceConstant, { unit: 'N/A', above: 0 })
  const resistance = checkNumber(scope, 'resistance', options.resistance, { unit: 'Ω', above: 0 })
  const inductance = checkOptional(scope, 'inductance', options.inductance, { unit: 'H', atLeast: 0 }, 0)
  const amplifier = checkOptional(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0 }, null)
  const coil = inductance === 0 ? null : resistance / inductance / (2 * Math.PI)
  return {
    kind: 'Actuator',
    dynamics: actuatorDynamics('force', drive === 'current' ? amplifier : coil),
    limits: limitsOf(scope, options, { forceConstant, resistance, inductance }),
    noise: checkNoise(scope, options.noise),
    forceConstant,
    motorConstant: finiteResult(scope, 'motor constant', forceConstant / Math.sqrt(resistance)),
    backEmf: drive === 'current' ? null : backEmf(scope, forceConstant, resistance, inductance),
  }
}

function limitKeys(): string[] {
  return ['maxForce', 'maxCurrent', 'maxVoltage', 'maxHeat', 'stroke']
}

interface Coil {
  readonly forceConstant: number
  readonly resistance: number
  readonly inductance: number
}

function limitsOf(scope: Scope, options: VoiceCoilOptions, coil: Coil): ActuatorLimits {
  const { forceConstant, resistance, inductance } = coil
  const maxForce = checkOptional(scope, 'maxForce', options.maxForce, { unit: 'N', above: 0 }, Infinity)
  const maxCurrent = checkOptional(scope, 'maxCurrent', options.maxCurrent, { unit: 'A', above: 0 }, Infinity)
  const maxVoltage = checkOptional(scope, 'maxVoltage', options.maxVoltage, { unit: 'V', above: 0 }, Infinity)
  const maxHeat = checkOptional(scope, 'maxHeat', options.maxHeat, { unit: 'W', above: 0 }, Infinity)
  const stroke = checkOptional(scope, 'stroke', options.stroke, { unit: 'm', above: 0 }, undefined)
  const force = Math.min(maxForce, forceConstant * Math.min(maxCurrent, maxVoltage / resistance))
  const continuousForce = forceConstant * Math.sqrt(maxHeat / resistance)
  const rate = (forceConstant * maxVoltage) / inductance
  return {
    ...(Number.isFinite(force) ? { force } : {}),
    ...(Number.isFinite(continuousForce) ? { continuousForce } : {}),
    ...(Number.isFinite(rate) ? { rate } : {}),
    ...(stroke === undefined ? {} : { stroke }),
  }
}

function backEmf(scope: Scope, forceConstant: number, resistance: number, inductance: number): MountRecord {
  const damping = forceConstant ** 2 / resistance
  if (inductance === 0) return mountRecord(scope, { stiffness: 0, damping, relaxations: [] })
  const branch = { stiffness: forceConstant ** 2 / inductance, time: inductance / resistance }
  return mountRecord(scope, { stiffness: 0, damping: 0, relaxations: [branch] })
}
