import type { Actuator } from '../elements/types.js'
import { checkList, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkModel } from '../isolation/check-model.js'
import { isActuator } from '../isolation/limited-plant.js'
import type { IsolationModel } from '../isolation/model.js'
import { checkPadeOrder } from '../systems/pade-order.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { type ActuatorDrive, currentOf, driveOf, isForce } from './actuator-drive.js'
import { cautionsOf } from './cautions.js'
import type { Move } from './check-move.js'
import { boundedOf, type Effort, type Extents, effort, largestExtents, steadyExtents, type Wanted } from './effort.js'
import { type EffortRecord, extentsInMove, extentsInRecord } from './effort-in-time.js'
import { noiseDrives } from './noise-budget.js'
import { refuseUnstable } from './predict-payload.js'
import { type Site, type SiteAxis, type SpectrumByAxis, siteAxes } from './site.js'
import { undelayed } from './undelayed.js'

/** Options of {@link actuatorEffort}; at least one of floor, record and moves. */
export interface ActuatorEffortOptions {
  /** Motion of the floor: acceleration, velocity or displacement; by axis or one for all, as for `assess`.
   * @defaultValue none */
  readonly floor?: Spectrum | SpectrumLiteral | SpectrumByAxis
  /** Force on the payload [N²/Hz], independent of the floor, which is needed with it. @defaultValue none */
  readonly payloadForce?: Spectrum | SpectrumLiteral | SpectrumByAxis
  /** Which axis a model of one axis stands for. @defaultValue z, or the only one given */
  readonly axis?: SiteAxis
  /** A floor transient, or samples of any other input, joined by straight lines; from rest. @defaultValue none */
  readonly record?: EffortRecord
  /** Moves of a stage on the payload, each by itself, at most 100; the most demanding counts. @defaultValue none */
  readonly moves?: readonly Move[]
  /** Records of the actuators by output, such as `actuatorForce`: their current, and the heat of a coil, follow from it.
   * @defaultValue not known */
  readonly actuators?: { readonly [output: string]: Actuator }
  /** Order of the Padé approximation of delays in record and moves, 1 to 20. @defaultValue 6 */
  readonly padeOrder?: number
}

/** Heat of a voice coil or linear motor, resistance · current². */
export interface CoilHeat {
  readonly output: string
  /** Mean under the spectra [W]; null without any */
  readonly steady: number | null
  /** Mean over the record [W]; null without */
  readonly inRecord: number | null
  /** Mean from one move to the next, or over a single move with all that follows it [W]; null without */
  readonly inMoves: number | null
  /** All together [W] */
  readonly mean: number
  /** At the largest force [W] */
  readonly peak: number
  /** What the coil sheds for good [W]; null where it is not known */
  readonly limit: number | null
  /** Limit over mean, Infinity without heat; null without limit */
  readonly headroom: number | null
}

/** What the actuators of a model have to give. */
export interface ActuatorEffort {
  readonly kind: 'ActuatorEffort'
  /** Force or expansion of each actuator and their rates, then strokes and continuous forces as far as they are bounded, then
   * currents */
  readonly efforts: readonly Effort[]
  readonly heat: readonly CoilHeat[]
  /** Name of the effort with the least headroom; null without limits */
  readonly tightest: string | null
  /** Order of the approximation of delays in record and moves; null for a model without, or without these */
  readonly padeOrder: number | null
  readonly cautions: readonly string[]
}

/** Force, expansion, rate, stroke, current and heat of the actuators of a concept, each with its headroom.
 *
 * Under spectra of floor, force and the noise of the model, a record of any input, and stage moves. The load is taken as all of
 * these at once: three times the rms, and the peaks of record and moves on top; for what heats, the root of the sum of squares.
 * The stroke of a motor is the stretch between its bodies; the expansion of a piezo stack is the free one, which counts what
 * it loses against the spring. Coil: current = force/forceConstant, heat = (force rms/motorConstant)²; piezo: current =
 * capacitance · voltage/stroke · rate. The model is linear: above a limit `simulateWithLimits` shows what comes of it.
 *
 * A loop that runs away moves the load with full force; hot coils burn, and piezo drives carry high voltage: follow local
 * machine and electrical-safety codes.
 * @param model - of any concept with actuators; stable
 * @param options - see {@link ActuatorEffortOptions}
 * @returns see {@link ActuatorEffort}
 * @throws {@link IsolationError} `unstable`; `unsupported` for a model without actuators, `unknown-port`, `invalid-option`,
 * `out-of-range`; `ill-conditioned`, `no-convergence` where the end of a motion cannot be proved
 * @source derived: J. S. Bendat, A. G. Piersol, Random Data, 4th edition 2010, section 6.1; heat i²·R; current C·dV/dt
 * @example
 * import { activelyDampedIsolation, actuatorEffort, spectrum, voiceCoil } from 'restmass'
 * const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50, maxHeat: 30 })
 * const damping = { gain: 2000, actuator: coil }
 * const model = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 16e3 }, damping })
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-4, 1e-4] })
 * actuatorEffort(model, { floor, actuators: { actuatorForce: coil } }).efforts[0].headroom // 67.92
 */
export function actuatorEffort(model: IsolationModel, options: ActuatorEffortOptions): ActuatorEffort {
  const scope = scopeOf('actuatorEffort')
  checkModel(scope, model)
  const keys = ['floor', 'payloadForce', 'axis', 'record', 'moves', 'actuators', 'padeOrder'] as const
  const { floor, record, moves, actuators = {} } = checkOptions(scope, options, keys)
  checkPadeOrder(scope, options.padeOrder)
  if (floor === undefined && record === undefined && moves === undefined)
    fail('invalid-option', scope, 'needs floor, record or moves')
  if (floor === undefined && options.payloadForce !== undefined)
    fail('invalid-option', within(scope, 'floor'), 'is needed with payloadForce')
  refuseUnstable(scope, model)
  const outputs = model.closed.outputs.filter(isActuator)
  if (outputs.length === 0) fail('unsupported', within(scope, 'model'), 'has no actuators')
  checkOptions(within(scope, 'actuators'), actuators, outputs)
  const drivesBy = outputs
    .filter((output) => actuators[output] !== undefined)
    .map((output) => ({ output, ...driveOf(within(within(scope, 'actuators'), output), output, actuators[output]) }))
  const wanted = wantedOf(model, outputs)
  const names = [...new Set(wanted.map(({ output }) => output))]
  const inTime = record === undefined && moves === undefined ? null : undelayed(scope, model.closed, options.padeOrder)
  const system = inTime?.system ?? model.closed
  const loads: Loads = [
    floor === undefined
      ? null
      : steadyExtents(scope, model.closed, wanted, [
          ...siteAxes(scope, model, options as Site).drives,
          ...noiseDrives(model.noiseSources, 'nothing'),
        ]),
    record === undefined ? null : extentsInRecord(within(scope, 'record'), system, record, names),
    moves === undefined
      ? null
      : largestExtents(
          checkList(scope, 'moves', moves, 1, 100).map((move, k) =>
            extentsInMove(within(within(scope, 'moves'), k), model, system, move, names),
          ),
        ),
  ]
  const mechanical = wanted.map((each) => effort(each, ...loads))
  const followed = (output: string, of: Effort['of']) =>
    mechanical.find((each) => each.output === output && each.of === of) as Effort
  const efforts = [
    ...mechanical,
    ...drivesBy.map(({ output, of, current }) => currentOf(scope, followed(output, of), current)),
  ]
  const held = efforts.filter(({ headroom }) => headroom !== null)
  return {
    kind: 'ActuatorEffort',
    efforts,
    heat: drivesBy.flatMap(({ output, coil }) =>
      coil === null
        ? []
        : [
            heatOf(
              scope,
              effort({ ...followed(output, 'value'), of: 'rms' }, ...loads),
              followed(output, 'value').peak,
              coil,
            ),
          ],
    ),
    tightest:
      held.length === 0 ? null : held.reduce((a, b) => ((b.headroom as number) < (a.headroom as number) ? b : a)).name,
    padeOrder: inTime?.padeOrder ?? null,
    cautions: [...cautionsOf(model, moves !== undefined), ...drivesBy.flatMap(({ cautions }) => cautions)],
  }
}

type Loads = [steady: Extents, record: Extents, moves: Extents]

/** Value and rate of every actuator, then what else is bounded. */
function wantedOf(model: IsolationModel, outputs: readonly string[]): Wanted[] {
  const bounded = boundedOf(model)
  const own = outputs.flatMap((output): Wanted[] => {
    const unit = isForce(output) ? 'N' : 'm'
    const all: Wanted[] = [
      { name: output, output, of: 'value', limit: null, unit },
      { name: `${output}Rate`, output, of: 'rate', limit: null, unit: `${unit}/s` },
    ]
    return all.map((each) => bounded.find(({ output, of }) => output === each.output && of === each.of) ?? each)
  })
  return [...own, ...bounded.filter((each) => !own.includes(each))]
}

/** Heat by the rms of a force. */
function heatOf(
  scope: Scope,
  { output, rms, inRecord, inMoves, peak: together }: Effort,
  peak: number,
  { motorConstant, heat: limit }: NonNullable<ActuatorDrive['coil']>,
): CoilHeat {
  const heat = (force: number) => finiteResult(scope, 'heat', (force / motorConstant) ** 2)
  const mean = heat(together)
  return {
    output,
    steady: rms === null ? null : heat(rms),
    inRecord: inRecord === null ? null : heat(inRecord),
    inMoves: inMoves === null ? null : heat(inMoves),
    mean,
    peak: heat(peak),
    limit,
    headroom: limit === null ? null : limit / mean,
  }
}
