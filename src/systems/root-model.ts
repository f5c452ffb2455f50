import { hypotenuse } from '../linear/hypotenuse.js'
import type { Zero } from './zeros.js'

/** A transfer function by its roots in the s-plane, or in the w-plane of a discrete system: w = (z − 1)/(z + 1). */
export interface RootModel {
  readonly zeros: readonly Zero[]
  readonly poles: readonly Zero[]
}

/** Modulus at s = jω; null at a pole, NaN where it is lost in rounding. */
export type Modulus = (omega: number) => number | null

/** Distance from the axis, relative to its modulus, within which a root counts as on it. */
const onAxis = 1e-8
/** Roots this much smaller than the size of the system are looked at. */
const small = 1e-2
/** How far below and above a small root the response is looked at. */
const apart = 30

/** The same with each root put where it belongs: small ones that are the rounding of a multiple root at the origin there, and
 * those close to the imaginary axis on it.
 *
 * A k-fold root is only known to ε^(1/k), so a double zero at 0 may come out as one zero on either side. The response itself
 * tells: below a true root it levels off, below an artefact it goes on as before. Where it is lost in rounding, a root counts
 * as an artefact if rounding could have moved it so far.
 * @param size - of the system, which rounding is relative to */
export function settledRoots(model: RootModel, size: number, modulus: Modulus): RootModel {
  let settled: RootModel = {
    zeros: model.zeros.map((root) => rounded(root, size, model.poles.length)),
    poles: model.poles.map((root) => rounded(root, size, model.poles.length)),
  }
  const radii = [...settled.zeros, ...settled.poles].map(sizeOf).filter((radius) => radius > 0 && radius < small * size)
  for (const radius of radii.sort((a, b) => a - b)) {
    const inside = (root: Zero) => sizeOf(root) <= 3 * radius
    const gathered = (root: Zero) => (inside(root) ? { re: 0, im: 0 } : root)
    const [zeros, poles] = [settled.zeros.filter(inside).length, settled.poles.filter(inside).length]
    const blur = 10 * size * Number.EPSILON ** (1 / Math.max(zeros, poles))
    if (isTrue(settled, radius, modulus) ?? radius > blur) continue
    settled = {
      zeros: zeros >= poles ? settled.zeros.map(gathered) : settled.zeros,
      poles: poles >= zeros ? settled.poles.map(gathered) : settled.poles,
    }
  }
  return settled
}

/** Phase at ω > 0 [degrees] of Π(jω − z)/Π(jω − p) with the sign that makes the gain above 0 at low frequency: a root left of
 * the axis or on it turns by +90° in all from its own frequency, one right of it by −90°. At ω = 0 the limit from above, at
 * a root on the axis the middle of the jump. */
export function rootPhase({ zeros, poles }: RootModel, omega: number): number {
  const turned = (roots: readonly Zero[]) => roots.reduce((total, root) => total + factorAngle(root, omega), 0)
  return ((turned(zeros) - turned(poles)) * 180) / Math.PI
}

/** Whether a root on the axis is so close that the phase jumps there. */
export function jumpsAt({ zeros, poles }: RootModel, omega: number): boolean {
  return [...zeros, ...poles].some((root) => isAt(root, omega))
}

/** Whether a root lies on the axis so close to ω that its own error decides on which side. */
function isAt({ re, im }: Zero, omega: number): boolean {
  return re === 0 && im !== 0 && Math.abs(omega - im) <= 1e-6 * omega
}

function rounded({ re, im }: Zero, size: number, count: number): Zero {
  const radius = hypotenuse(re, im)
  if (radius <= 10 * count * Number.EPSILON * size) return { re: 0, im: 0 }
  return Math.abs(re) <= onAxis * radius ? { re: 0, im } : { re, im }
}

function sizeOf({ re, im }: Zero): number {
  return hypotenuse(re, im)
}

/** Whether the response changes around a radius as the roots there say, to a factor of three; null where it cannot tell. */
function isTrue({ zeros, poles }: RootModel, radius: number, modulus: Modulus): boolean | null {
  const [below, above] = [radius / apart, radius * apart]
  const [low, high] = [modulus(below), modulus(above)]
  if (low === null || high === null) return false
  if (Number.isNaN(low) || Number.isNaN(high)) return null
  const change = (roots: readonly Zero[]) =>
    roots.reduce((total, { re, im }) => total + Math.log(hypotenuse(re, above - im) / hypotenuse(re, below - im)), 0)
  return Math.abs(change(zeros) - change(poles) - Math.log(high / low)) < Math.log(3)
}

function factorAngle({ re, im }: Zero, omega: number): number {
  if (re === 0 && im === 0) return Math.PI / 2
  if (isAt({ re, im }, omega)) return 0
  return re <= 0 ? Math.atan2(omega - im, -re) : -Math.atan2(omega - im, re)
}
