import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { PiezoStack } from './piezo-stack.js'

/** Electrical side of a piezo stack. */
export interface PiezoDriveOptions {
  /** Capacitance of the stack, large signal [F], above 0 */
  readonly capacitance: number
  /** Whole voltage swing that gives the stroke [V], above 0 */
  readonly voltage: number
  /** Resistance of amplifier and leads [Ω], above 0; its corner 1/(2πRC) replaces `bandwidth`. @defaultValue none */
  readonly resistance?: number
  /** Largest current of the amplifier, either sign [A], above 0; it sets the rate. @defaultValue not known */
  readonly maxCurrent?: number
}

/** Electrical side of a piezo stack, checked. */
export interface PiezoDrive {
  /** [F] */
  readonly capacitance: number
  /** [V] */
  readonly voltage: number
}

/** A drive with what follows from it: corner [Hz] and rate of the free expansion [m/s], where they do. */
export interface CheckedDrive {
  readonly drive: PiezoDrive
  readonly bandwidth: number | null
  readonly rate: number | undefined
}

export function checkDrive(scope: Scope, drive: PiezoDriveOptions, stroke: number): CheckedDrive {
  const at = within(scope, 'drive')
  checkOptions(at, drive, ['capacitance', 'voltage', 'resistance', 'maxCurrent'])
  const capacitance = checkNumber(at, 'capacitance', drive.capacitance, { unit: 'F', above: 0 })
  const voltage = checkNumber(at, 'voltage', drive.voltage, { unit: 'V', above: 0 })
  const resistance = checkOptional(at, 'resistance', drive.resistance, { unit: 'Ω', above: 0 }, null)
  const current = checkOptional(at, 'maxCurrent', drive.maxCurrent, { unit: 'A', above: 0 }, null)
  return {
    drive: { capacitance, voltage },
    bandwidth: resistance === null ? null : 1 / (2 * Math.PI * resistance * capacitance),
    rate: current === null ? undefined : (current * stroke) / (capacitance * voltage),
  }
}

/** Options of {@link piezoCurrent}. */
export interface PiezoCurrentOptions {
  /** Of a sine [Hz], above 0 */
  readonly frequency: number
  /** Free expansion from crest to trough [m], above 0, at most the stroke */
  readonly travel: number
}

/** Peak current of a sine, I = 2π·f·C·V_pp/2 with V_pp the share of the voltage swing.
 *
 * The average of the charging half-waves is that over π. Piezo drives carry high voltage: follow local electrical-safety codes.
 * @param stack - with `drive`
 * @param options - see {@link PiezoCurrentOptions}
 * @returns current [A]
 * @throws {@link IsolationError} `invalid-option` for a stack without drive; `out-of-range`, `not-finite`
 * @source from memory: the current of a capacitor
 * @example
 * import { piezoCurrent, piezoStack } from 'restmass'
 * const stack = piezoStack({ stiffness: 30e6, stroke: 60e-6, drive: { capacitance: 6e-6, voltage: 100 } })
 * piezoCurrent(stack, { frequency: 100, travel: 60e-6 }) // 0.188496
 */
export function piezoCurrent(stack: PiezoStack, options: PiezoCurrentOptions): number {
  const scope = scopeOf('piezoCurrent')
  const drive = stack?.drive
  if (typeof drive !== 'object' || drive === null) {
    fail('invalid-option', within(scope, 'stack.drive'), `must be known, got ${show(drive)}`)
  }
  const at = within(scope, 'stack.drive')
  const capacitance = checkNumber(at, 'capacitance', drive.capacitance, { unit: 'F', above: 0 })
  const voltage = checkNumber(at, 'voltage', drive.voltage, { unit: 'V', above: 0 })
  const stroke = checkNumber(within(scope, 'stack'), 'stroke', stack.stroke, { unit: 'm', above: 0 })
  checkOptions(scope, options, ['frequency', 'travel'])
  const frequency = checkNumber(scope, 'frequency', options.frequency, { unit: 'Hz', above: 0 })
  const travel = checkNumber(scope, 'travel', options.travel, { unit: 'm', above: 0, atMost: stroke })
  return finiteResult(scope, 'current', Math.PI * frequency * capacitance * voltage * (travel / stroke))
}

/** Travel of a piezo stack from end to end of its drive against a spring, stroke·k/(k + k_spring).
 *
 * @param stack - a {@link piezoStack}
 * @param options - stiffness of the spring [N/m], at least 0
 * @returns travel [m]
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source from memory: two springs in series
 * @example
 * import { piezoStack, piezoTravel } from 'restmass'
 * piezoTravel(piezoStack({ stiffness: 30e6, stroke: 60e-6 }), { springStiffness: 3e6 }) // 5.45455e-5
 */
export function piezoTravel(stack: PiezoStack, options: { readonly springStiffness: number }): number {
  const scope = scopeOf('piezoTravel')
  const stiffness = checkNumber(within(scope, 'stack'), 'stiffness', stack?.stiffness, { unit: 'N/m', above: 0 })
  const stroke = checkNumber(within(scope, 'stack'), 'stroke', stack.stroke, { unit: 'm', above: 0 })
  checkOptions(scope, options, ['springStiffness'])
  const spring = checkNumber(scope, 'springStiffness', options.springStiffness, { unit: 'N/m', atLeast: 0 })
  return stroke / (1 + spring / stiffness)
}
