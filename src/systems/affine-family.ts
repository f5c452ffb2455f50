import { type BoxFamily, interpolated, nodes } from './box-exclusion.js'
import { type Member, polynomialAt, rootSizes } from './box-family.js'

/** A parameter from `low` to `high`, as a function of a coordinate in which its power is straight. */
export interface Axis {
  readonly name: string
  readonly low: number
  readonly high: number
  readonly power: number
}

export function valueAt({ low, high, power }: Axis, t: number): number {
  if (power === 1 || t === 0 || t === 1) return t === 1 ? high : low + t * (high - low)
  return (low ** power + t * (high ** power - low ** power)) ** (1 / power)
}

export function pointAt(axes: readonly Axis[], t: readonly number[]): { [name: string]: number } {
  return Object.fromEntries(axes.map((axis, k) => [axis.name, valueAt(axis, t[k])]))
}

export function corners(count: number): number[][] {
  return Array.from({ length: 2 ** count }, (_, bits) => Array.from({ length: count }, (__, k) => (bits >> k) & 1))
}

export function familyOf(dimensions: number, member: (t: readonly number[]) => Member): BoxFamily {
  const members = corners(dimensions).map((ends) => member(ends.map((end) => nodes[end])))
  return { members, sizes: rootSizes(members[0]) }
}

/** The power of one parameter in which the characteristic function is affine, the others in the middle of their ranges. */
export function affinePower(
  axes: readonly Axis[],
  k: number,
  member: (axes: readonly Axis[], t: readonly number[]) => Member,
): number | undefined {
  return [1, -1, 2, -2, 0.5, -0.5].find((power) => {
    if (power !== 1 && !(axes[k].low > 0)) return false
    const bent = axes.map((axis, other) => (other === k ? { ...axis, power } : axis))
    const at = ([t]: readonly number[]) =>
      member(
        bent,
        axes.map((_, other) => (other === k ? t : 0.5)),
      )
    const family = familyOf(1, at)
    return [0.35, 0.6].every((t) => belongs(family, [t], at([t])))
  })
}

/** Whether a system of the family is what lies between its nodes. */
export function belongs(
  { members, sizes }: BoxFamily,
  t: readonly number[],
  { states, seconds, polynomials }: Member,
): boolean {
  if ([...members, { states, seconds }].some((one) => one.states !== states || one.seconds.length !== seconds.length))
    return false
  const at = (values: readonly number[]) => interpolated(values, { from: t, to: t }, false)[0]
  const same = (value: number, values: readonly number[], scale: number) => Math.abs(value - at(values)) <= 1e-7 * scale
  const late = seconds.every((value, k) =>
    same(
      value,
      members.map((one) => one.seconds[k]),
      value,
    ),
  )
  const places = [0, ...sizes, ...sizes.map((size) => 0.6 * size), ...sizes.map((size) => 1.7 * size)]
  return (
    late &&
    places.every((omega) => {
      const values = (one: Member['polynomials']) => one.map((polynomial) => polynomialAt(polynomial, omega, sizes))
      const known = members.map((one) => values(one.polynomials))
      const scale = Math.max(...known.flat().map(({ re, im }) => Math.hypot(re, im)))
      return values(polynomials).every((value, set) =>
        (['re', 'im'] as const).every((key) =>
          same(
            value[key],
            known.map((one) => one[set][key]),
            scale,
          ),
        ),
      )
    })
  )
}
