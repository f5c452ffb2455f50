import { checkNumber, checkOneOf, checkOptions, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { hInfinityNorm } from '../systems/h-infinity-norm.js'
import { stateSpace } from '../systems/state-space.js'

/** What a tuned mass damper is to keep small. */
export type DamperCriterion = 'harmonic-force' | 'white-force' | 'white-base-acceleration'

/** Options of {@link tunedMassDamper}. */
export interface TunedMassDamperOptions {
  /** Effective mass of the mode to be damped, at the place of the damper [kg], above 0; of a rigid payload all of it */
  readonly mass: number
  /** Natural frequency of that mode without the damper [Hz], above 0 */
  readonly naturalFrequency: number
  /** Mass of the damper over `mass`, 1e-6 to 1 */
  readonly massRatio: number
  /** The highest response to a sine force, or the mean square of the displacement under white noise of the force or of the
   * acceleration of the base. @defaultValue 'harmonic-force' */
  readonly criterion?: DamperCriterion
}

/** A mass on a damped spring, tuned to a mode; made by {@link tunedMassDamper}. */
export interface TunedMassDamper {
  readonly kind: 'TunedMassDamper'
  /** Mass of the damper [kg] */
  readonly mass: number
  /** Its own natural frequency, on a base at rest [Hz] */
  readonly naturalFrequency: number
  /** Its own damping ratio, damping/(2·mass·2π·naturalFrequency), so with its own frequency */
  readonly dampingRatio: number
  /** Its natural frequency over that of the mode */
  readonly frequencyRatio: number
  /** Its spring [N/m] */
  readonly stiffness: number
  /** Its dashpot [N·s/m] */
  readonly damping: number
  /** Highest k·|x/F| of the mode with this damper, over all frequencies, as computed from both masses */
  readonly peak: number
}

/** Best tuned mass damper for a lightly damped mode, such as that of a payload on its mounts.
 *
 * With μ = massRatio, frequency ratio and own damping ratio are
 *
 * - harmonic force: 1/(1 + μ) and √(3μ/(8(1 + μ))); peak √(1 + 2/μ) to within 0.4 % for μ up to 0.2
 * - white force: √(1 + μ/2)/(1 + μ) and √(μ(1 + 3μ/4)/(4(1 + μ)(1 + μ/2)))
 * - white base acceleration: √(1 − μ/2)/(1 + μ) and √(μ(1 − μ/4)/(4(1 + μ)(1 − μ/2)))
 *
 * The first damping ratio is also found as √(3μ/(8(1 + μ)³)): that is c/(2·m₂·ω₁), taken with the frequency of the mode. The
 * damping of the mode itself is neglected. The damper takes strokes several times those of the mode, for which there must be
 * room, and does nothing for the isolation above the mode.
 * @param options - see {@link TunedMassDamperOptions}
 * @returns its size, tuning and effect; `mass`, `naturalFrequency`, `dampingRatio` are those that `springMount` and an
 * appendage of a payload take
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source J. P. Den Hartog, Mechanical Vibrations, 4th edition 1956, chapter 3; G. B. Warburton, Optimum absorber parameters
 * for various combinations of response and excitation parameters, Earthquake Eng. Struct. Dyn. 10, 1982; confirmed by
 * numerical minimisation
 * @example
 * import { tunedMassDamper } from 'restmass'
 * const damper = tunedMassDamper({ mass: 400, naturalFrequency: 12, massRatio: 0.05 })
 * damper.peak // 6.40844
 */
export function tunedMassDamper(options: TunedMassDamperOptions): TunedMassDamper {
  const scope = scopeOf('tunedMassDamper')
  checkOptions(scope, options, ['mass', 'naturalFrequency', 'massRatio', 'criterion'])
  const host = checkNumber(scope, 'mass', options.mass, { unit: 'kg', above: 0 })
  const hostFrequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const ratio = checkNumber(scope, 'massRatio', options.massRatio, { atLeast: 1e-6, atMost: 1 })
  const criterion = options.criterion ?? 'harmonic-force'
  checkOneOf(scope, 'criterion', criterion, ['harmonic-force', 'white-force', 'white-base-acceleration'])
  const { frequencyRatio, dampingRatio } = tuning(criterion, ratio)
  const mass = ratio * host
  const naturalFrequency = frequencyRatio * hostFrequency
  const omega = 2 * Math.PI * naturalFrequency
  return {
    kind: 'TunedMassDamper',
    mass,
    naturalFrequency,
    dampingRatio,
    frequencyRatio,
    stiffness: finiteResult(scope, 'stiffness', mass * omega ** 2),
    damping: finiteResult(scope, 'damping', 2 * dampingRatio * mass * omega),
    peak: highestResponse(ratio, frequencyRatio, dampingRatio),
  }
}

function tuning(criterion: DamperCriterion, ratio: number): { frequencyRatio: number; dampingRatio: number } {
  const whole = 1 + ratio
  if (criterion === 'harmonic-force') {
    return { frequencyRatio: 1 / whole, dampingRatio: Math.sqrt((3 * ratio) / (8 * whole)) }
  }
  const [shift, rest] = criterion === 'white-force' ? [ratio / 2, (3 * ratio) / 4] : [-ratio / 2, -ratio / 4]
  return {
    frequencyRatio: Math.sqrt(1 + shift) / whole,
    dampingRatio: Math.sqrt((ratio * (1 + rest)) / (4 * whole * (1 + shift))),
  }
}

/** Largest displacement of a unit mass on a unit spring per force; states: displacement and stretch of the damper, rates. */
function highestResponse(ratio: number, frequencyRatio: number, dampingRatio: number): number {
  const spring = frequencyRatio ** 2
  const dashpot = 2 * dampingRatio * frequencyRatio
  const system = stateSpace({
    A: [
      [0, 0, 1, 0],
      [0, 0, 0, 1],
      [-1, ratio * spring, 0, ratio * dashpot],
      [1, -(1 + ratio) * spring, 0, -(1 + ratio) * dashpot],
    ],
    B: [[0], [0], [1], [-1]],
    C: [[1, 0, 0, 0]],
  })
  return hInfinityNorm(system).norm
}
