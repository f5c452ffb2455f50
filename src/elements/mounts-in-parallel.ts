import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { checkMount, mountRecord } from './check-mount.js'
import type { CanonicalMount, Mount, MountRecord, Relaxation } from './types.js'

/** Mounts side by side between the same two bodies: stiffnesses, dashpots and relaxing branches add.
 *
 * Branches of the same time are merged. An air spring loses its gas part here: give a diaphragm to `airSpring` itself if
 * the spring is to be levelled. `lateral` is added up where every mount has it, and each coil spring keeps its surge.
 * @param mounts - at least one record or literal
 * @returns one mount with K(s) = Σ Kᵢ(s)
 * @throws {@link IsolationError} `invalid-option`, also where only some of the mounts have `lateral`; `not-finite`
 * @source derived: forces across the same stretch add
 * @example
 * import { mountsInParallel, springMount } from 'restmass'
 * const spring = springMount({ stiffness: 2e4, damping: 30 })
 * mountsInParallel(spring, { stiffness: -5e3 }).stiffness // 15000
 */
export function mountsInParallel(...mounts: readonly Mount[]): MountRecord {
  const scope = scopeOf('mountsInParallel')
  if (mounts.length === 0) fail('invalid-option', scope, 'needs at least one mount, got none')
  return mountRecord(
    scope,
    sumOf(
      scope,
      mounts.map((mount, i) => checkMount(within(within(scope, 'mounts'), i), mount, 'surge-kept')),
    ),
  )
}

/** Canonical sum of checked mounts. */
export function sumOf(scope: Scope, mounts: readonly CanonicalMount[]): CanonicalMount {
  const laterals = mounts.flatMap(({ lateral }) => (lateral === undefined ? [] : [lateral as CanonicalMount]))
  if (laterals.length > 0 && laterals.length < mounts.length) {
    fail('invalid-option', scope, 'needs lateral in every mount or in none of them')
  }
  const surge = mounts.flatMap((mount) => mount.surge ?? [])
  return {
    stiffness: mounts.reduce((sum, mount) => sum + mount.stiffness, 0),
    damping: mounts.reduce((sum, mount) => sum + mount.damping, 0),
    relaxations: mergedRelaxations(mounts.flatMap(({ relaxations }) => relaxations)),
    ...(surge.length === 0 ? {} : { surge }),
    ...(laterals.length === 0 ? {} : { lateral: sumOf(within(scope, 'lateral'), laterals) }),
  }
}

function mergedRelaxations(branches: readonly Relaxation[]): Relaxation[] {
  const stiffnesses = new Map<number, number>()
  for (const { stiffness, time } of branches) stiffnesses.set(time, (stiffnesses.get(time) ?? 0) + stiffness)
  return Array.from(stiffnesses, ([time, stiffness]) => ({ stiffness, time }))
}
