import { checkOneOf, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { bandIndices, nominalFrequency } from './nominal-bands.js'
import type { Criterion, CriterionEdition, CriterionName, VibrationCurve } from './types.js'

/** Options of {@link criterion}. */
export interface CriterionOptions {
  /** Form of the curve: `'2005'` as revised, `'1991'` as first published, with constant acceleration from 4 to 8 Hz for
   * every curve. The NIST curves have no form of 1991. @defaultValue `'2005'` */
  readonly edition?: CriterionEdition
}

/** Names of the generic vibration criterion curves, from the loosest to the tightest. */
export const vibrationCurves: readonly VibrationCurve[] = [
  'VC-A',
  'VC-B',
  'VC-C',
  'VC-D',
  'VC-E',
  'VC-F',
  'VC-G',
  'VC-H',
  'VC-I',
  'VC-J',
  'VC-K',
  'VC-L',
  'VC-M',
]

/** Velocity limits [m/s] of the curves for people, in the flat part from 8 to 80 Hz. */
const comfortLimits = {
  workshop: 800e-6,
  office: 400e-6,
  'residential-day': 200e-6,
  'operating-theatre': 100e-6,
} as const

const names: readonly CriterionName[] = [
  ...vibrationCurves,
  'NIST-A',
  'NIST-A1',
  'workshop',
  'office',
  'residential-day',
  'operating-theatre',
]

/** A named floor criterion: the largest rms velocity allowed in each one-third-octave band.
 *
 * Read at the nominal band frequencies. VC-A is 50 µm/s and each letter halves it. Edition 2005: VC-A and VC-B from 4 to
 * 80 Hz, at constant acceleration (260 and 130 µg) below 8 Hz; VC-C and tighter flat from 1 to 80 Hz. Edition 1991: every
 * VC curve from 4 to 80 Hz, at the constant acceleration below 8 Hz that meets the flat part there. The curves for people
 * (workshop 800, office 400, residential-day 200, operating-theatre 100 µm/s) have that form in both editions. NIST-A is
 * 25 nm rms below 20 Hz and 3.1 µm/s from 20 to 100 Hz, NIST-A1 is 3 µm/s below 4 Hz and 0.75 µm/s from 4 to 100 Hz, both
 * from 1 Hz.
 * @param name - see {@link CriterionName}
 * @param options - see {@link CriterionOptions}
 * @returns limits [m/s] at the nominal band frequencies of the curve
 * @throws {@link IsolationError} `invalid-option` for an unknown name or edition
 * @source C. G. Gordon, Proc. SPIE 1619 (1991) 71-85; H. Amick, M. Gendreau, T. Busch, C. Gordon, Proc. SPIE 5933 (2005);
 * NIST curves: A. Soueid, H. Amick, T. Zsirai, Proc. SPIE 5933 (2005)
 * @example
 * import { criterion } from 'restmass'
 * const { frequency, velocity } = criterion('VC-A')
 * const limit = velocity[frequency.indexOf(4)]
 * limit // 1.014505e-4
 */
export function criterion(name: CriterionName, options: CriterionOptions = {}): Criterion {
  return namedCriterion(scopeOf('criterion'), 'name', name, options)
}

/** The body of {@link criterion}, on behalf of another function and its option `key`. */
export function namedCriterion(scope: Scope, key: string, name: CriterionName, options: CriterionOptions): Criterion {
  checkOneOf(scope, key, name, names)
  checkOptions(scope, options, ['edition'])
  const edition = options.edition === undefined ? '2005' : checkOneOf(scope, 'edition', options.edition, editions)
  if (name === 'NIST-A' || name === 'NIST-A1') {
    if (edition === '1991') fail('invalid-option', within(scope, 'edition'), `must be '2005' for ${name}, got '1991'`)
    return limits(name, edition, 1, 100, name === 'NIST-A' ? constantDisplacementThenVelocity : steppedVelocity)
  }
  const letter = vibrationCurves.indexOf(name as VibrationCurve)
  const flat = letter < 0 ? comfortLimits[name as keyof typeof comfortLimits] : 50e-6 / 2 ** letter
  if (edition === '2005' && letter >= 2) return limits(name, edition, 1, 80, () => flat)
  const stated = edition === '2005' && letter >= 0 ? (260e-6 * standardGravity) / 2 ** letter : 2 * Math.PI * 8 * flat
  return limits(name, edition, 4, 80, (f) => (f < 8 ? stated / (2 * Math.PI * f) : flat))
}

const editions = ['2005', '1991'] as const

/** Both parts meet in the 20 Hz band, where the flat one is the tighter. */
function constantDisplacementThenVelocity(frequency: number): number {
  return frequency < 20 ? 2 * Math.PI * frequency * 25e-9 : 3.1e-6
}

function steppedVelocity(frequency: number): number {
  return frequency < 4 ? 3e-6 : 0.75e-6
}

function limits(
  name: string,
  edition: CriterionEdition,
  from: number,
  to: number,
  limit: (frequency: number) => number,
): Criterion {
  const frequency = Float64Array.from(bandIndices(from, to), nominalFrequency)
  return { kind: 'Criterion', name, edition, frequency, velocity: frequency.map(limit) }
}
