import type { Matrix } from '../systems/types.js'
import type { Mount } from './types.js'

/** A place [m] or a direction in the frame of the payload: x and y level, z up. */
export type Point = readonly [number, number, number]

/** A mount under a rigid payload. */
export interface SupportOptions {
  /** Where the mount takes hold of the payload [m] */
  readonly position: Point
  /** The mount along its own z axis; `mount.lateral` is the same sideways */
  readonly mount: Mount
  /** The mount along its own x and y axes. @defaultValue `mount.lateral` in both */
  readonly lateral?: readonly [Mount, Mount]
  /** 3 × 3 rotation whose columns are the mount's own x, y, z axes in the frame of the payload. @defaultValue upright */
  readonly orientation?: Matrix
  /** Name of the levelling valve; supports that name the same one share its pressure. @defaultValue one of its own */
  readonly valveGroup?: string
}

/** Options of {@link rigidPayload}. */
export interface RigidPayloadOptions {
  /** Mass [kg], above 0 */
  readonly mass: number
  /** Inertia about the centre of mass [kg·m²]: the tensor, 3 × 3 and off the diagonal −∫xy dm, or its diagonal alone */
  readonly inertia: Matrix | Point
  /** Centre of mass [m] */
  readonly centreOfMass: Point
  /** At least one; together they hold all six axes */
  readonly supports: readonly SupportOptions[]
  /** Acceleration of free fall [m/s²], at least 0. @defaultValue 9.80665 */
  readonly gravity?: number
}

/** A support with what stands on it. */
export interface PayloadSupport {
  readonly position: Point
  readonly mount: Mount
  readonly lateral: readonly [Mount, Mount]
  readonly orientation: Matrix
  /** null where the support has a valve of its own, or none */
  readonly valveGroup: string | null
  /** Part of the weight that it carries */
  readonly loadShare: number
  /** The same [N]; 0 without gravity */
  readonly load: number
  /** How far the support sinks under it [m], an air spring from its working height, any other from unloaded */
  readonly deflection: number
}

/** A mode of the payload on the static stiffness K(0) of its supports, gravity included. */
export interface RigidMode {
  /** What moves, such as 'vertical' or 'rocking about y with x (lower)' */
  readonly name: string
  /** Natural frequency without damping [Hz]; null where the payload falls over */
  readonly frequency: number | null
  /** −Re p/|p| of its pole, with the shape held; null where the payload falls over */
  readonly dampingRatio: number | null
  /** Motion of the centre of mass x, y, z [m] and rotation about x, y, z [rad], scaled to a modal mass of 1 kg */
  readonly shape: readonly number[]
  /** Parts of the kinetic energy in the same order, sum 1 */
  readonly energy: readonly number[]
}

/** What holds a payload upright, all other axes free to follow [N·m/rad]. */
export interface TiltStiffness {
  readonly aboutX: number
  readonly aboutY: number
  /** About the horizontal axis that gives way most easily */
  readonly weakest: number
  /** That axis: its x and y */
  readonly axis: readonly [number, number]
}

/** Whether a payload stands or tips. */
export interface Tipping {
  readonly verdict: 'stands' | 'tips'
  /** Height of the centre of mass over the supports, weighted by their loads [m]; below 0 it hangs */
  readonly height: number
  /** mass · gravity · height, the negative stiffness against tilt [N·m/rad] */
  readonly gravityStiffness: number
  /** At rest: isothermal air springs, supports with a common valve as one */
  readonly slow: TiltStiffness
  /** In vibration, K(0) */
  readonly fast: TiltStiffness
  /** slow.weakest − gravityStiffness [N·m/rad], above 0 where it stands */
  readonly margin: number
  /** Height of the centre of mass over the supports at which it tips [m]; null without gravity */
  readonly heightLimit: number | null
  /** The same if the springs were as stiff at rest as in vibration, each for itself [m]; no limit to build by */
  readonly fastHeightLimit: number | null
}

/** A rigid payload on its supports; made by {@link rigidPayload}. */
export interface RigidPayload {
  readonly kind: 'RigidPayload'
  readonly mass: number
  /** About the centre of mass [kg·m²] */
  readonly inertia: Matrix
  readonly centreOfMass: Point
  readonly gravity: number
  readonly supports: readonly PayloadSupport[]
  /** How far the centre of mass sinks [m] */
  readonly deflection: number
  /** Rotation about x and y that comes with it [rad] */
  readonly tilt: readonly [number, number]
  /** K(0) with gravity about the centre of mass, 6 × 6 in the order x, y, z, then about x, y, z [N/m, N, N·m/rad] */
  readonly stiffness: Matrix
  /** Six, ascending in frequency; those that fall over come first */
  readonly modes: readonly RigidMode[]
  readonly tipping: Tipping
}
