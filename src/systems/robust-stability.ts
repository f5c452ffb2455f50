import {
  checkFunction,
  checkNumber,
  checkOptional,
  checkOptions,
  checkRecord,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { isIsolationError } from '../internal/errors.js'
import { fourDigits } from '../internal/four-digits.js'
import { randomNumbers } from '../internal/random-numbers.js'
import { type Axis, affinePower, belongs, corners, familyOf, pointAt, valueAt } from './affine-family.js'
import { blockSystem } from './block.js'
import { notExcluded, type Part, widestCoordinate } from './box-exclusion.js'
import { memberOf } from './box-family.js'
import { stabilityOf } from './stability.js'
import type { LinearSystem } from './types.js'

/** Options of {@link robustStability}. */
export interface RobustStabilityOptions<P extends string> {
  /** Least and largest value of each parameter, one to six of them */
  readonly box: { readonly [K in P]: readonly [number, number] }
  /** The system that the parameters make: continuous, delays allowed, all loops closed */
  readonly system: (parameters: { readonly [K in P]: number }) => LinearSystem
  /** Parts into which the box may be cut, 1 to 10 000. @defaultValue 100 */
  readonly parts?: number
}

/** Parameters by name. */
export type ParameterValues = { readonly [name: string]: number }

/** What is certain about the stability of all systems of a box of parameters. */
export interface RobustStability {
  readonly kind: 'RobustStability'
  /** All proven stable; one found that is not; or neither */
  readonly verdict: 'proven' | 'counterexample' | 'undecided'
  /** Parameters of a system that is not stable; null without */
  readonly counterexample: ParameterValues | null
  /** Share of the box, by volume, in which every system has been proven stable, 0 to 1 */
  readonly provenShare: number
  /** Parts that were looked at */
  readonly parts: number
  /** Powers of the parameters in which the characteristic function is affine, as found by test; empty where it is not */
  readonly powers: ParameterValues
  /** Of the corners and centres tried, the one nearest to instability or furthest beyond; null with delays */
  readonly worst: { readonly parameters: ParameterValues; readonly abscissa: number } | null
  /** What stands in the way of a verdict; null with one */
  readonly reason: string | null
}

/** Whether every system of a box of parameters is stable: proven, disproved by one that is not, or undecided.
 *
 * The proof needs a characteristic function that is affine in some power of each parameter, such as stiffness, damping, gain, the
 * inverse of a mass or a flow resistance; delays enter exactly. That it is so is tested at points within the box, to 1e-7; a
 * `system` that jumps between them escapes the test. Then the values at one frequency lie in the convex hull of those at the ends
 * of the parameters, and steps along the axis, each with a bound on how far the values bend away, show that 0 is never among
 * them; with one stable system in the box all are stable. A part for which this does not succeed is halved.
 * What may hurt when it runs away needs limits in hardware all the same.
 * @param options - see {@link RobustStabilityOptions}
 * @returns see {@link RobustStability}; a system that cannot be made or judged gives `undecided` with the reason
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source L. A. Zadeh, C. A. Desoer, Linear System Theory, 1963, section 9.17 (mapping theorem); B. R. Barmish, New Tools for
 * Robustness of Linear Systems, 1994, chapter 14 (zero exclusion); delays, steps and bounds derived
 * @example
 * import { activelyDampedIsolation, robustStability } from 'restmass'
 * const model = ({ stiffness, delay }: { stiffness: number; delay: number }) =>
 *   activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness }, damping: { gain: 2000, delay } })
 * const box = { stiffness: [9e3, 1.1e4], delay: [0, 0.05] } as const
 * robustStability({ box, system: (parameters) => model(parameters).closed }).verdict // 'proven'
 */
export function robustStability<P extends string>(options: RobustStabilityOptions<P>): RobustStability {
  return robustStabilityOf(scopeOf('robustStability'), options)
}

/** The same for another function. */
export function robustStabilityOf<P extends string>(scope: Scope, options: RobustStabilityOptions<P>): RobustStability {
  checkOptions(scope, options, ['box', 'system', 'parts'])
  const inner = within(scope, 'box')
  checkRecord(inner, options.box)
  const axes = Object.entries<readonly [number, number]>(options.box).map(([name, range]) =>
    axisOf(within(inner, name), name, range),
  )
  if (axes.length < 1 || axes.length > 6) fail('out-of-range', inner, `must have 1 to 6 parameters, got ${axes.length}`)
  checkFunction(scope, 'system', options.system)
  const most = checkOptional(scope, 'parts', options.parts, { integer: true, atLeast: 1, atMost: 10_000 }, 100)
  let worst: RobustStability['worst'] = null
  let proven = 0
  let count = 0
  let powers: ParameterValues = {}
  const systemAt = (point: ParameterValues) => blockSystem(within(scope, 'system'), options.system(point as never))
  const isStable = (point: ParameterValues): boolean => {
    const { verdict, abscissa } = stabilityOf(scope, systemAt(point))
    if (abscissa !== null && !(worst !== null && worst.abscissa >= abscissa)) worst = { parameters: point, abscissa }
    return verdict === 'stable'
  }
  const found = (
    verdict: RobustStability['verdict'],
    counterexample: ParameterValues | null,
    reason: string | null,
  ) => {
    const share = verdict === 'proven' ? 1 : proven
    return {
      kind: 'RobustStability',
      verdict,
      counterexample,
      provenShare: share,
      parts: count,
      powers,
      worst,
      reason,
    } as const
  }
  try {
    for (const t of corners(axes.length)) {
      const point = pointAt(axes, t)
      if (!isStable(point)) return found('counterexample', point, null)
    }
    const member = (chosen: readonly Axis[], t: readonly number[]) => memberOf(scope, systemAt(pointAt(chosen, t)))
    const straight = axes.map((axis, k) => ({ ...axis, power: affinePower(axes, k, member) ?? 0 }))
    const bent = straight.find(({ power }) => power === 0)
    if (bent) return found('undecided', null, `no power of ${bent.name} in which the characteristic function is affine`)
    powers = Object.fromEntries(straight.map(({ name, power }) => [name, power]))
    const family = familyOf(axes.length, (t) => member(straight, t))
    const random = randomNumbers(1)
    for (let k = 0; k < 4 + 2 * axes.length; k++) {
      const t = axes.map(random)
      if (!belongs(family, t, member(straight, t))) {
        return found('undecided', null, 'the characteristic function is not affine in each parameter at once')
      }
    }
    const queue: (Part & { readonly suspect: number })[] = [
      { from: axes.map(() => 0), to: axes.map(() => 1), suspect: 0 },
    ]
    for (let part = queue.shift(); part !== undefined; part = queue.shift()) {
      const { from, to } = part
      const where = straight.map(
        (axis, k) => `${axis.name} ${fourDigits(valueAt(axis, from[k]))} to ${fourDigits(valueAt(axis, to[k]))}`,
      )
      const omega = part.suspect
      if (count === most) {
        const at = `0 comes too near at ${fourDigits(omega / (2 * Math.PI))} Hz`
        return found('undecided', null, `${most} parts are not enough: open with ${where.join(', ')}; ${at}`)
      }
      count++
      const centre = pointAt(
        straight,
        from.map((value, k) => (value + to[k]) / 2),
      )
      if (!isStable(centre)) return found('counterexample', centre, null)
      const suspect = notExcluded(family, part, omega)
      if (suspect === null) proven += shareOf(straight, part)
      else {
        const k = widestCoordinate(family, part, suspect)
        const middle = (from[k] + to[k]) / 2
        const cut = (ends: readonly number[]) => ends.map((value, other) => (other === k ? middle : value))
        queue.push({ from, to: cut(to), suspect }, { from: cut(from), to, suspect })
      }
    }
    return found('proven', null, null)
  } catch (error) {
    if (!isIsolationError(error) || error.details.path.startsWith('system')) throw error
    return found('undecided', null, error.message)
  }
}

function axisOf(scope: Scope, name: string, range: readonly [number, number]): Axis {
  if (!Array.isArray(range) || range.length !== 2)
    fail('invalid-option', scope, `must be [least, largest], got ${show(range)}`)
  const low = checkNumber(scope, 0, range[0], {})
  return { name, low, high: checkNumber(scope, 1, range[1], { above: low }), power: 1 }
}

function shareOf(axes: readonly Axis[], { from, to }: Part): number {
  return axes.reduce((product, axis, k) => {
    return (product * (valueAt(axis, to[k]) - valueAt(axis, from[k]))) / (axis.high - axis.low)
  }, 1)
}
