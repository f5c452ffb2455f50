import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  checkText,
  fail,
  type Scope,
  within,
} from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { rms } from '../vibration/rms.js'
import { type Drive, predictedDensity, type Weighting } from './predicted-density.js'
import type { SiteAxis } from './site.js'

/** What a tool on the payload bears. */
export interface MotionTolerance {
  /** Largest motion allowed [m], above 0 */
  readonly limit: number
  /** What moves: `'payload'` in space, `'stretch'` for the payload against what it stands on, or the beginning of an output
   * `…Velocity` of the model, such as the name of a point, or of a difference between two. @defaultValue 'payload' */
  readonly of?: string
  /** Time over which the tool averages [s], above 0; only the motion about the mean of each such time counts.
   * @defaultValue all motion that the spectra cover counts */
  readonly exposure?: number
  /** What is held against the limit: rms, or three times that. @defaultValue 'rms' */
  readonly measure?: 'rms' | 'peak'
}

/** Motion held against what a tool bears. */
export interface MotionFinding {
  readonly of: string
  /** [s]; null without */
  readonly exposure: number | null
  readonly measure: 'rms' | 'peak'
  /** Motion along each axis by the measure [m], the largest first; axis null for a model of one */
  readonly motion: readonly { readonly axis: SiteAxis | null; readonly value: number }[]
  /** [m] */
  readonly limit: number
  /** Largest motion over the limit; at most 1 passes */
  readonly ratio: number
  /** Frequencies that were counted [Hz] */
  readonly range: readonly [from: number, to: number]
}

/** Motion of the tool under independent drives, by what it is sensitive to.
 *
 * A displacement of density S has, about its mean over a time T, the mean square ∫ S (1 − sinc²(πfT)) df.
 * @source derived: the mean over T has the response sinc(πfT); the rest of the mean square is what moves about it
 */
export function motionOf(
  scope: Scope,
  { closed }: IsolationModel,
  tolerance: MotionTolerance,
  drives: readonly Drive[],
): MotionFinding {
  checkOptions(scope, tolerance, ['limit', 'of', 'exposure', 'measure'])
  const limit = checkNumber(scope, 'limit', tolerance.limit, { unit: 'm', above: 0 })
  const exposure = checkOptional(scope, 'exposure', tolerance.exposure, { unit: 's', above: 0 }, null)
  const measure = checkOneOf(scope, 'measure', tolerance.measure ?? 'rms', ['rms', 'peak'])
  const of = checkText(scope, 'of', tolerance.of ?? 'payload')
  const name = of === 'stretch' ? of : `${of}Velocity`
  const found = (closed.outputs.includes(name) ? [''] : ['X', 'Y', 'Z']).filter((end) =>
    closed.outputs.includes(name + end),
  )
  if (found.length === 0) {
    const known = closed.outputs.flatMap((output) => /^(.*)Velocity[XYZ]?$/.exec(output)?.[1] ?? [])
    fail('unknown-port', within(scope, 'of'), `must be one of stretch, ${[...new Set(known)].join(', ')}, got ${of}`)
  }
  const predicted = found.map((end) => {
    const weighting = weightingOf(exposure, of === 'stretch' ? 0 : 2)
    return { end, ...predictedDensity(scope, closed, name + end, drives, undefined, weighting) }
  })
  const motion = predicted
    .map(({ end, frequency, density }) => ({
      axis: end === '' ? null : (end.toLowerCase() as SiteAxis),
      value:
        (measure === 'rms' ? 1 : 3) *
        rms({ kind: 'Spectrum', quantity: 'displacement', frequency, density, support: 'points' }),
    }))
    .sort((a, b) => b.value - a.value)
  const [{ frequency }] = predicted
  return {
    of,
    exposure,
    measure,
    motion,
    limit,
    ratio: motion[0].value / limit,
    range: [frequency[0], frequency[frequency.length - 1]],
  }
}

/** (1 − sinc²(πfT)) / (2πf)^powers */
function weightingOf(exposure: number | null, powers: 0 | 2): Weighting {
  const share = (frequency: number) => {
    const x = Math.PI * frequency * (exposure ?? 0)
    if (exposure === null) return 1
    // The series where the difference would cancel: its next term is 2x⁶/315.
    return x < 1e-2 ? x ** 2 / 3 - (2 * x ** 4) / 45 : 1 - (Math.sin(x) / x) ** 2
  }
  return {
    at: (frequency) => share(frequency) / (2 * Math.PI * frequency) ** powers,
    // The first ripples, by quarters.
    corners: exposure === null ? [] : Array.from({ length: 40 }, (_, k) => (k + 1) / (4 * exposure)),
  }
}
