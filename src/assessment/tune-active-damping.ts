import { checkOptional, checkOptions, checkRecord, scopeOf, within } from '../internal/check.js'
import { fourDigits } from '../internal/four-digits.js'
import {
  type ActiveDampingOptions,
  type ActivelyDampedIsolationOptions,
  activelyDampedIsolation,
} from '../isolation/actively-damped-isolation.js'
import { loopMargins } from '../isolation/loop-margins.js'
import { checkRange, objectiveOf, type Trial, type Tuning, type TuningObjective, tunedValue } from './tuning.js'

/** A payload on mounts with an active damper whose gain is to be found. */
export interface ActiveDampingDesign extends Omit<ActivelyDampedIsolationOptions, 'damping'> {
  /** The loop, without its gain */
  readonly damping: Omit<ActiveDampingOptions, 'gain' | 'dampingRatio'>
}

/** Options of {@link tuneActiveDamping}. */
export interface TuneActiveDampingOptions extends TuningObjective {
  /** Least modulus margin of every loop, above 0 and below 1. @defaultValue 0.5 */
  readonly modulusMargin?: number
  /** Damping ratios to search, lowest and highest, above 0. @defaultValue [0.01, 3] */
  readonly range?: readonly [number, number]
}

/** Gain of an active damper that leaves the least peak of |T|, or the least rms velocity on a floor, at a given margin.
 *
 * The margin is held by every loop, and by every mode of payload and floor that the model contains; where one of them is in
 * the way, `limitedBy` names it by its path. Above the stated gain the loop may sing: keep the margin in hardware too.
 * @param design - see {@link ActiveDampingDesign}
 * @param options - see {@link TuneActiveDampingOptions}
 * @returns parameters `gain` [N·s/m], outcome `objective` and `modulusMargin`, and the curve over the gain
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, and those of `activelyDampedIsolation`
 * @source common practice, no source: margin 0.5 and gain 6 dB below the first mode that would sing
 * @example
 * import { tuneActiveDamping } from 'restmass'
 * const mount = { stiffness: 1.6e5, damping: 300 }
 * const mode = { modalMass: 6000, naturalFrequency: 42, dampingRatio: 0.01, mountShape: 0, sensorShape: -1 }
 * const tuned = tuneActiveDamping({ payload: { mass: 1000, appendages: [mode] }, mount, damping: {} })
 * tuned.limitedBy // 'payload.appendages[0]'
 */
export function tuneActiveDamping(design: ActiveDampingDesign, options: TuneActiveDampingOptions = {}): Tuning {
  const scope = scopeOf('tuneActiveDamping')
  checkRecord(within(scope, 'design'), design)
  checkRecord(within(within(scope, 'design'), 'damping'), design.damping)
  checkOptions(scope, options, ['modulusMargin', 'range', 'objective', 'floor'])
  const least = checkOptional(scope, 'modulusMargin', options.modulusMargin, { above: 0, below: 1 }, 0.5)
  const objective = objectiveOf(scope, options)
  const modelOf = (gain: number) => activelyDampedIsolation({ ...design, damping: { ...design.damping, gain } })
  const unit = activelyDampedIsolation({ ...design, damping: { ...design.damping, dampingRatio: 1 } })
  const critical = (unit.diagram.blocks.controller as { readonly D: readonly (readonly number[])[] }).D[0][0]
  const evaluate = (gain: number): Trial => {
    const model = modelOf(gain)
    const loops = loopMargins(model)
    const tightest = loops.reduce((a, b) => (b.margins.modulusMargin < a.margins.modulusMargin ? b : a))
    const { modulusMargin, modulusMarginFrequency: frequency } = tightest.margins
    const isStable = loops.every(({ margins }) => margins.closedLoop === 'stable')
    const mode = modeAt(design, frequency)
    const violates =
      isStable && modulusMargin >= least
        ? null
        : {
            name: mode ?? 'modulusMargin',
            says: `${mode === null ? `loop ${tightest.name}` : mode} at ${fourDigits(frequency)} Hz allows no more`,
          }
    return {
      objective: isStable ? () => objective(model) : null,
      modulusMargin: loops[0].margins.modulusMargin,
      violates,
    }
  }
  const [from, to] = checkRange(scope, 'range', options.range ?? [0.01, 3])
  return tunedValue('gain', [from * critical, to * critical], 31, evaluate)
}

/** Path of the mode of payload or floor that lies within a quarter of a frequency [Hz]; null where there is none. */
function modeAt({ payload, floor }: ActiveDampingDesign, frequency: number): string | null {
  const modes: [string, number][] = (payload.appendages ?? []).map((appendage, i) => {
    // A hanging part resonates against the payload above its own frequency.
    const raised = 'modalMass' in appendage ? 1 : Math.sqrt(1 + appendage.mass / payload.mass)
    return [`payload.appendages[${i}]`, raised * appendage.naturalFrequency]
  })
  if (floor !== undefined && 'modes' in floor) {
    modes.push(...floor.modes.map((mode, i): [string, number] => [`floor.modes[${i}]`, mode.naturalFrequency]))
  }
  const distance = ([, place]: [string, number]) => Math.abs(Math.log(frequency / place))
  const nearest = modes.sort((a, b) => distance(a) - distance(b))[0]
  return nearest !== undefined && distance(nearest) < 0.25 ? nearest[0] : null
}
