import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { actuatorDynamics } from './actuator-dynamics.js'
import { checkNoise } from './check-noise.js'
import { checkDrive, type PiezoDrive, type PiezoDriveOptions } from './piezo-drive.js'
import type { Actuator, InstrumentNoiseOptions } from './types.js'

/** Options of {@link piezoStack}. */
export interface PiezoStackOptions {
  /** Stiffness with the drive held [N/m], above 0 */
  readonly stiffness: number
  /** Dashpot beside the stack [N·s/m], at least 0. @defaultValue 0 */
  readonly damping?: number
  /** Free expansion from end to end of the drive range [m], above 0 */
  readonly stroke: number
  /** First-order corner of amplifier and capacitance [Hz], above 0. @defaultValue none */
  readonly bandwidth?: number
  /** Largest rate of the free expansion, from the current of the amplifier [m/s], above 0. @defaultValue not known */
  readonly rate?: number
  /** Electrical side, from which bandwidth and rate may follow. @defaultValue not known */
  readonly drive?: PiezoDriveOptions
  /** Noise of the free expansion [m/√Hz]. @defaultValue none */
  readonly noise?: InstrumentNoiseOptions
}

/** A piezo stack: a stiff spring whose free length follows the command; made by {@link piezoStack}. */
export interface PiezoStack extends Actuator<'expansion'> {
  /** [N/m] */
  readonly stiffness: number
  /** [N·s/m] */
  readonly damping: number
  /** Whole travel from end to end [m] */
  readonly stroke: number
  /** Electrical side; null where it is not known */
  readonly drive: PiezoDrive | null
}

/** A piezo stack, command and output a free expansion [m].
 *
 * Expansion over command = ω/(s + ω), or 1. Force on the bodies at its ends, positive in tension:
 * (stiffness + damping·s)·stretch − stiffness·expansion. The blocked force stiffness·stroke is kept as limit; against a
 * spring k the travel falls to stroke·stiffness/(stiffness + k), see {@link piezoTravel}. Hysteresis and creep are left out.
 * Piezo drives carry high voltage: follow local electrical-safety codes.
 * @param options - see {@link PiezoStackOptions}
 * @returns an actuator with its spring, block role 'actuator'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source common practice, no source: linear stack, blocked force = stiffness · free stroke
 * @example
 * import { piezoStack } from 'restmass'
 * piezoStack({ stiffness: 30e6, stroke: 60e-6 }).limits.force // 1800.0
 */
export function piezoStack(options: PiezoStackOptions): PiezoStack {
  const scope = scopeOf('piezoStack')
  checkOptions(scope, options, ['stiffness', 'damping', 'stroke', 'bandwidth', 'rate', 'drive', 'noise'])
  const stiffness = checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 })
  const damping = checkOptional(scope, 'damping', options.damping, { unit: 'N·s/m', atLeast: 0 }, 0)
  const stroke = checkNumber(scope, 'stroke', options.stroke, { unit: 'm', above: 0 })
  const electrical = options.drive === undefined ? null : checkDrive(scope, options.drive, stroke)
  for (const key of ['bandwidth', 'rate'] as const) {
    const known = electrical?.[key] ?? null
    if (known !== null && options[key] !== undefined) fail('invalid-option', within(scope, key), 'follows from drive')
  }
  const corner = electrical?.bandwidth ?? null
  const bandwidth = checkOptional(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0 }, corner)
  const rate = checkOptional(scope, 'rate', options.rate, { unit: 'm/s', above: 0 }, electrical?.rate)
  const force = finiteResult(scope, 'blocked force', stiffness * stroke)
  return {
    kind: 'Actuator',
    dynamics: actuatorDynamics('expansion', bandwidth),
    limits: { force, stroke, ...(rate === undefined ? {} : { rate }) },
    noise: checkNoise(scope, options.noise),
    stiffness,
    damping,
    stroke,
    drive: electrical?.drive ?? null,
  }
}
