import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { bracketedRoot } from '../linear/scalar-search.js'
import { checkMount, mountRecord } from './check-mount.js'
import { sumOf } from './mounts-in-parallel.js'
import type { CanonicalMount, Mount, MountRecord, Relaxation } from './types.js'

/** Two mounts one after the other, without mass between them: compliances add, 1/K = 1/K₁ + 1/K₂.
 *
 * Exact: for elements that are not negative the result is again a spring, a dashpot and relaxing branches. Their rates are
 * the zeros of K₁ + K₂, all real, one between each two neighbouring rates of the parts.
 * @param first - a record or literal, all values at least 0 and not all of them 0, without `lateral`
 * @param second - likewise; the order does not matter
 * @returns one mount with K(s) = K₁(s)·K₂(s) / (K₁(s) + K₂(s))
 * @throws {@link IsolationError} `invalid-option`, `not-finite`; `unsupported` for negative values or `lateral`
 * @source derived: same force through both; interlacing zeros as in R. M. Foster, A reactance theorem, Bell System Technical
 * Journal 3, 1924, here for two kinds of element with real zeros
 * @example
 * import { mountsInSeries } from 'restmass'
 * mountsInSeries({ stiffness: 3e4 }, { stiffness: 6e4 }).stiffness // 20000
 */
export function mountsInSeries(first: Mount, second: Mount): MountRecord {
  const scope = scopeOf('mountsInSeries')
  const a = checkPart(scope, 'first', first)
  const b = checkPart(scope, 'second', second)
  const sum = sumOf(scope, [a, b])
  return mountRecord(scope, {
    stiffness: harmonic(a.stiffness, b.stiffness),
    damping: harmonic(a.damping, b.damping),
    relaxations: [...sharedBranches(a, b), ...crossings(sum).map((root) => branchAt(root, a, b, sum))].filter(
      (branch) => branch.stiffness !== 0,
    ),
  })
}

/** A rate x [1/s], held as a pole of the sum plus an offset so that differences to poles keep their digits. */
interface Rate {
  readonly pole: number
  readonly offset: number
}

function checkPart(scope: Scope, key: string, mount: Mount): CanonicalMount {
  const at = within(scope, key)
  const checked = checkMount(at, mount)
  if (checked.lateral !== undefined) fail('unsupported', within(at, 'lateral'), 'cannot be put in series')
  const values = [checked.stiffness, checked.damping, ...checked.relaxations.map(({ stiffness }) => stiffness)]
  if (values.some((value) => value < 0)) {
    fail('unsupported', at, 'has a negative value; in series the result need not have the shape of a mount')
  }
  if (values.every((value) => value === 0)) fail('invalid-option', at, 'must have a value above 0, all are 0')
  return { ...checked, relaxations: mergedByRate(checked.relaxations) }
}

/** Branches above 0, one per rate 1/time: different times may round to the same rate. */
function mergedByRate(branches: readonly Relaxation[]): Relaxation[] {
  const merged = new Map<number, Relaxation>()
  for (const { stiffness, time } of branches) {
    if (stiffness > 0) merged.set(1 / time, { stiffness: stiffness + (merged.get(1 / time)?.stiffness ?? 0), time })
  }
  return Array.from(merged.values())
}

/** A branch time that both mounts have stays a branch time, its stiffnesses in series. */
function sharedBranches(a: CanonicalMount, b: CanonicalMount): Relaxation[] {
  return a.relaxations.flatMap(({ stiffness, time }) => {
    const other = b.relaxations.find((branch) => 1 / branch.time === 1 / time)
    return other === undefined ? [] : [{ stiffness: harmonic(stiffness, other.stiffness), time }]
  })
}

/** Zeros of the sum at s = −x, x > 0: on the negative real axis it falls from pole to pole, from +∞ to −∞. */
function crossings(sum: CanonicalMount): Rate[] {
  const poles = Array.from(new Set(sum.relaxations.map(({ time }) => 1 / time))).sort((p, q) => p - q)
  const slowest = poles[0]
  const rates: Rate[] = []
  if (slowest === undefined) {
    return sum.stiffness > 0 && sum.damping > 0 ? [{ pole: 0, offset: sum.stiffness / sum.damping }] : []
  }
  if (sum.stiffness > 0) rates.push(between(sum, 0, slowest))
  for (let i = 1; i < poles.length; i++) rates.push(between(sum, poles[i - 1] as number, poles[i] as number))
  const fastest = poles[poles.length - 1] as number
  if (sum.damping > 0) {
    const whole = sum.stiffness + sum.relaxations.reduce((total, { stiffness }) => total + stiffness, 0)
    rates.push(offsetRoot(sum, fastest, 0, (2 * whole) / sum.damping))
  }
  return rates
}

/** The zero between two neighbouring poles, or between 0 and the slowest pole, measured from the nearer end. */
function between(sum: CanonicalMount, low: number, high: number): Rate {
  const half = (high - low) / 2
  return stiffnessAtRate(sum, { pole: low, offset: half }) <= 0
    ? offsetRoot(sum, low, 0, half)
    : offsetRoot(sum, high, -half, 0)
}

/** Root of the sum in offsets from a pole; the function is multiplied by the offset, which makes it finite there. */
function offsetRoot(sum: CanonicalMount, pole: number, from: number, to: number): Rate {
  if (pole === 0) return { pole, offset: bracketedRoot((offset) => stiffnessAtRate(sum, { pole, offset }), from, to) }
  const atPole = sum.relaxations.reduce((total, { stiffness, time }) => total + (1 / time === pole ? stiffness : 0), 0)
  const f = (offset: number) => (offset === 0 ? atPole * pole : offset * stiffnessAtRate(sum, { pole, offset }))
  return { pole, offset: bracketedRoot(f, from, to) }
}

/** K(−x): each branch is −k·x/(p − x), p its rate. */
function stiffnessAtRate(mount: CanonicalMount, { pole, offset }: Rate): number {
  const x = pole + offset
  return mount.relaxations.reduce(
    (total, { stiffness, time }) => total - (stiffness * x) / (1 / time - pole - offset),
    mount.stiffness - mount.damping * x,
  )
}

/** The branch whose pole is the given zero of the sum: from the residue −K₁²/(K₁ + K₂)', with K₁ = −K₂ there. */
function branchAt(rate: Rate, a: CanonicalMount, b: CanonicalMount, sum: CanonicalMount): Relaxation {
  const x = rate.pole + rate.offset
  const slope = sum.relaxations.reduce((total, { stiffness, time }) => {
    const distance = 1 / time - rate.pole - rate.offset
    return total + (stiffness * (x / distance)) / time / distance
  }, sum.damping * x)
  return { stiffness: (Math.abs(stiffnessAtRate(a, rate)) * Math.abs(stiffnessAtRate(b, rate))) / slope, time: 1 / x }
}

function harmonic(a: number, b: number): number {
  return a === 0 || b === 0 ? 0 : 1 / (1 / a + 1 / b)
}
