import type { PiezoStack } from '../elements/piezo-stack.js'
import type { Actuator } from '../elements/types.js'
import type { VoiceCoil } from '../elements/voice-coil.js'
import { checkNumber, checkOptional, checkRecord, fail, type Scope, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { Effort } from './effort.js'

/** What the output of an actuator costs in current. */
export interface ActuatorDrive {
  /** Which of the output the current follows */
  readonly of: 'value' | 'rate'
  /** Current per unit of it [A] */
  readonly current: number
  /** Force per root of heat [N/√W], and heat that it sheds [W]; null where it is not a coil */
  readonly coil: { readonly motorConstant: number; readonly heat: number | null } | null
  readonly cautions: readonly string[]
}

/** Whether an output of an actuator is a force, and not an expansion. */
export function isForce(output: string): boolean {
  return /Force\d*$/.test(output)
}

/** The electrical side of the actuator behind an output. */
export function driveOf(scope: Scope, output: string, actuator: Actuator): ActuatorDrive {
  checkRecord(scope, actuator, ['limits'])
  const { forceConstant, motorConstant, backEmf } = actuator as VoiceCoil
  const limits = checkRecord(within(scope, 'limits'), (actuator as VoiceCoil).limits)
  const { drive, stroke } = actuator as PiezoStack
  const pushes = isForce(output)
  if (pushes && forceConstant !== undefined) {
    const constant = checkNumber(scope, 'motorConstant', motorConstant, { unit: 'N/√W', above: 0 })
    const force = checkOptional(
      within(scope, 'limits'),
      'continuousForce',
      limits.continuousForce,
      { unit: 'N', above: 0 },
      null,
    )
    const heat = force === null ? null : finiteResult(scope, 'heat', (force / constant) ** 2)
    return {
      of: 'value',
      current: finiteResult(
        scope,
        'current',
        1 / checkNumber(scope, 'forceConstant', forceConstant, { unit: 'N/A', above: 0 }),
      ),
      coil: { motorConstant: constant, heat },
      cautions:
        backEmf == null
          ? []
          : [`The current that motion drives through the coil behind ${output} is not counted (back-EMF).`],
    }
  }
  if (!pushes && typeof drive === 'object' && drive !== null) {
    const at = within(scope, 'drive')
    const capacitance = checkNumber(at, 'capacitance', drive.capacitance, { unit: 'F', above: 0 })
    const voltage = checkNumber(at, 'voltage', drive.voltage, { unit: 'V', above: 0 })
    const current = (capacitance * voltage) / checkNumber(scope, 'stroke', stroke, { unit: 'm', above: 0 })
    return { of: 'rate', current: finiteResult(scope, 'current', current), coil: null, cautions: [] }
  }
  fail(
    'unsupported',
    scope,
    `must be a ${pushes ? 'voice coil' : 'piezo stack with its drive'}, whose current is known`,
  )
}

/** The current of an actuator, by what it follows. */
export function currentOf(scope: Scope, followed: Effort, current: number): Effort {
  // A rate may be infinite, and the current with it.
  const follow = (value: number) =>
    value === Number.POSITIVE_INFINITY ? value : finiteResult(scope, 'current', current * value)
  const times = (value: number | null) => (value === null ? null : follow(value))
  const { output, rms, inRecord, inMoves, peak, limit } = followed
  return {
    ...followed,
    name: `${output}Current`,
    rms: times(rms),
    inRecord: times(inRecord),
    inMoves: times(inMoves),
    peak: follow(peak),
    limit: times(limit),
    unit: 'A',
  }
}
