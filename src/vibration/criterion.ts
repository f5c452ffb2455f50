import { checkOneOf, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import type {
  Criterion,
  CriterionConvention,
  CriterionEdition,
  CriterionName,
  VibrationCurve,
} from './criterion-types.js'
import { bandIndices, nominalFrequency } from './nominal-bands.js'

/** Options of {@link criterion}. */
export interface CriterionOptions {
  /** Form of the curve: `'2005'` as revised, `'1991'` as first published, with constant acceleration from 4 to 8 Hz for
   * every curve. The NIST curves have no form of 1991. @defaultValue `'2005'` */
  readonly edition?: CriterionEdition
  /** Round numbers in µm/s or in µin/s, 1.6 % apart. @defaultValue `'metric'` */
  readonly convention?: CriterionConvention
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
  'NIST-B',
  'NIST-C1',
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
 * 25 nm rms below 20 Hz and 3.1 µm/s from 20 to 100 Hz, NIST-A1 is 3 µm/s below 4 Hz and 0.75 µm/s from 4 to 100 Hz,
 * NIST-B is 6 µm/s, all from 1 Hz; NIST-C1 is 12.5 µm/s from 4 to 100 Hz.
 *
 * Conventions: the same curves are also quoted in round µin/s (VC-A 2000 µin/s = 50.8 µm/s, 25 nm as 1 µin), 1.6 % above,
 * and in decibels re 1 µin/s (VC-A 66 dB = 50.7 µm/s) in between; 260 µg and 50 µm/s differ by 1.4 % at 8 Hz. A level
 * within that gap is decided by the convention, not by the floor; {@link compareToCriterion} can say so.
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

/** Names and keys of the curves that come with the package. */
export const criterionKeys = ['edition', 'convention'] as const

/** The body of {@link criterion}, on behalf of another function and its option `key`. */
export function namedCriterion(scope: Scope, key: string, name: CriterionName, options: CriterionOptions): Criterion {
  checkOneOf(scope, key, name, names)
  checkOptions(scope, options, criterionKeys)
  const edition = options.edition === undefined ? '2005' : checkOneOf(scope, 'edition', options.edition, editions)
  const convention =
    options.convention === undefined ? 'metric' : checkOneOf(scope, 'convention', options.convention, conventions)
  const inch = convention === 'inch'
  const limits = (from: number, to: number, limit: (frequency: number) => number): Criterion => {
    const frequency = Float64Array.from(bandIndices(from, to), nominalFrequency)
    return { kind: 'Criterion', name, edition, convention, frequency, velocity: frequency.map(limit) }
  }
  const institute = instituteCurves[name]
  if (institute !== undefined) {
    if (edition === '1991') fail('invalid-option', within(scope, 'edition'), `must be '2005' for ${name}, got '1991'`)
    return limits(institute.from, 100, (f) => (inch ? institute.microinches(f) * 25.4e-9 : institute.microns(f) / 1e6))
  }
  const letter = vibrationCurves.indexOf(name as VibrationCurve)
  const round = letter < 0 ? comfortLimits[name as keyof typeof comfortLimits] : 50e-6 / 2 ** letter
  const flat = inch ? 1.016 * round : round
  if (edition === '2005' && letter >= 2) return limits(1, 80, () => flat)
  const stated = edition === '2005' && letter >= 0 ? (260e-6 * standardGravity) / 2 ** letter : 2 * Math.PI * 8 * flat
  return limits(4, 80, (f) => (f < 8 ? stated / (2 * Math.PI * f) : flat))
}

const editions = ['2005', '1991'] as const

/** The conventions there are. */
export const conventions: readonly CriterionConvention[] = ['metric', 'inch']

interface InstituteCurve {
  readonly from: number
  readonly microns: (frequency: number) => number
  readonly microinches: (frequency: number) => number
}

/** Round numbers of the NIST curves. The parts of NIST-A meet in the 20 Hz band, where the flat one is the tighter. */
const instituteCurves: Partial<Record<CriterionName, InstituteCurve>> = {
  'NIST-A': {
    from: 1,
    microns: (f) => (f < 20 ? 2 * Math.PI * f * 0.025 : 3.1),
    microinches: (f) => (f < 20 ? 2 * Math.PI * f : 125),
  },
  'NIST-A1': { from: 1, microns: (f) => (f < 4 ? 3 : 0.75), microinches: (f) => (f < 4 ? 120 : 30) },
  'NIST-B': { from: 1, microns: () => 6, microinches: () => 240 },
  'NIST-C1': { from: 4, microns: () => 12.5, microinches: () => 500 },
}
