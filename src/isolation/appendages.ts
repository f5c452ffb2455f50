import { checkList, checkNumber, checkOptional, checkOptions, type Scope, within } from '../internal/check.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { StateSpace } from '../systems/types.js'

/** A mass on a spring and a dashpot that hangs on the payload where the mounts are. */
export interface HangingAppendage {
  /** Mass [kg], above 0; it comes on top of `payload.mass` and the mounts carry it */
  readonly mass: number
  /** Natural frequency of the appendage on a fixed payload [Hz], above 0 */
  readonly naturalFrequency: number
  /** Damping ratio on a fixed payload, at least 0 */
  readonly dampingRatio: number
}

/** A mode of the payload, as modal analysis gives it; it adds no weight. Its shape is 1 where the motors act. */
export interface PayloadMode {
  /** Modal mass for a mode shape of 1 at the motors [kg], above 0 */
  readonly modalMass: number
  /** Natural frequency of the payload, free or on its mounts [Hz], above 0 */
  readonly naturalFrequency: number
  /** Damping ratio, at least 0 */
  readonly dampingRatio: number
  /** Mode shape at the mounts: 1 for a mode of the free payload, 0 for one measured on its mounts, which then holds their
   * part already. @defaultValue 1 */
  readonly mountShape?: number
  /** Mode shape at the sensor; −1 is the same motion the other way. @defaultValue 1 */
  readonly sensorShape?: number
  /** Mode shape where `payloadVelocity` is read and forces on the payload act. @defaultValue 1 */
  readonly payloadShape?: number
}

/** A flexible part of the payload. */
export type Appendage = HangingAppendage | PayloadMode

interface Part {
  readonly mass: number
  /** [rad/s] */
  readonly omega: number
  readonly dampingRatio: number
}

/** Mode shapes at mounts, motors, sensor and payload */
interface Mode extends Part {
  readonly shapes: readonly [number, number, number, number]
}

export interface Appendages {
  readonly hanging: readonly Part[]
  readonly modes: readonly Mode[]
}

export function checkAppendages(scope: Scope, appendages: readonly Appendage[] | undefined): Appendages {
  const at = within(scope, 'appendages')
  const hanging: Part[] = []
  const modes: Mode[] = []
  if (appendages === undefined) return { hanging, modes }
  checkList(scope, 'appendages', appendages).forEach((appendage, i) => {
    const here = within(at, i)
    const modal = typeof appendage === 'object' && appendage !== null && 'modalMass' in appendage
    const key = modal ? 'modalMass' : 'mass'
    const shapes = ['mountShape', 'sensorShape', 'payloadShape'] as const
    checkOptions(here, appendage, [key, 'naturalFrequency', 'dampingRatio', ...(modal ? shapes : [])])
    const values = appendage as Partial<HangingAppendage & PayloadMode>
    const part = {
      mass: checkNumber(here, key, values[key], { unit: 'kg', above: 0 }),
      omega: angularFrequency(checkNumber(here, 'naturalFrequency', values.naturalFrequency, { unit: 'Hz', above: 0 })),
      dampingRatio: checkNumber(here, 'dampingRatio', values.dampingRatio, { atLeast: 0 }),
    }
    const [mounts, sensor, payload] = shapes.map((shape) => checkOptional(here, shape, values[shape], {}, 1))
    if (modal) modes.push({ ...part, shapes: [mounts, 1, sensor, payload] })
    else hanging.push(part)
  })
  return { hanging, modes }
}

/** Whether every part moves alike at mounts, motors, sensor and payload. */
export function isOnePoint({ modes }: Appendages): boolean {
  return modes.every(({ shapes }) => shapes.every((shape) => shape === 1))
}

/** A payload with flexible parts, its forces and motions at mounts, motors, sensor and payload, which may be one point.
 *
 * A force f at a point drives rigid motion and modes q by their shapes φ there: m r'' = f, μ (q'' + 2ζω q' + ω² q) = φ f,
 * velocity v = r' + Σ φ q'. A hanging part with stretch d pulls at the mounts with k d + c d': μ v_a' = −(k d + c d'),
 * d' = v_a − v.
 */
export function flexibleBlock(mass: number, { hanging, modes }: Appendages): StateSpace {
  const size = 1 + 2 * (modes.length + hanging.length)
  const none = () => new Array<number>(size).fill(0)
  const [mounts, motors, sensor, payload] = [0, 1, 2, 3].map((point) => {
    const row = none()
    row[0] = 1
    modes.forEach(({ shapes }, j) => {
      row[2 + 2 * j] = shapes[point]
    })
    return row
  })
  /** Rates of the states under a force at a point */
  const driven = (point: readonly number[]) =>
    point.map((value, k) => (k === 0 ? 1 / mass : value === 0 ? 0 : value / modes[k / 2 - 1].mass))
  const A = Array.from({ length: size }, none)
  modes.forEach(({ omega, dampingRatio }, j) => {
    A[1 + 2 * j][2 + 2 * j] = 1
    A[2 + 2 * j][1 + 2 * j] = -(omega ** 2)
    A[2 + 2 * j][2 + 2 * j] = -2 * dampingRatio * omega
  })
  hanging.forEach(({ mass: part, omega, dampingRatio }, i) => {
    const stretch = 1 + 2 * (modes.length + i)
    A[stretch] = mounts.map((value, k) => (k === stretch + 1 ? 1 : -value))
    const tension = A[stretch].map((value) => 2 * dampingRatio * omega * part * value)
    tension[stretch] += omega ** 2 * part
    A[stretch + 1] = tension.map((value) => -value / part)
    driven(mounts).forEach((rate, row) => {
      if (rate !== 0) A[row] = A[row].map((value, k) => value + rate * tension[k])
    })
  })
  const onePoint = isOnePoint({ hanging, modes })
  const forces = (onePoint ? [mounts] : [mounts, motors, payload]).map(driven)
  const dot = (row: readonly number[], column: (k: number) => number) =>
    row.reduce((sum, value, k) => sum + value * column(k), 0)
  const acceleration = (point: readonly number[]) => none().map((_, j) => dot(point, (k) => A[k][j]))
  const still = forces.map(() => 0)
  const direct = (point: readonly number[]) => forces.map((force) => dot(point, (k) => force[k]))
  return {
    kind: 'StateSpace',
    A,
    B: none().map((_, k) => forces.map((force) => force[k])),
    C: [...(onePoint ? [mounts] : [mounts, payload, sensor]), acceleration(onePoint ? mounts : sensor)],
    D: [...(onePoint ? [still] : [still, still, still]), direct(onePoint ? mounts : sensor)],
    inputs: onePoint ? ['force'] : ['force', 'motorForce', 'load'],
    outputs: onePoint
      ? ['velocity', 'acceleration']
      : ['velocity', 'payloadVelocity', 'sensorVelocity', 'acceleration'],
    states: [
      'velocity',
      ...modes.flatMap((_, j) => [`mode${j + 1}`, `mode${j + 1}Rate`]),
      ...hanging.flatMap((_, i) => [`stretch${i + 1}`, `appendage${i + 1}`]),
    ],
    delays: null,
  }
}
