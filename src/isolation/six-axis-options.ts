import type { Point, RigidPayload, RigidPayloadOptions } from '../elements/rigid-payload-types.js'
import type { LevellingOptions } from './levelling.js'
import type { SharedLineOptions } from './shared-line.js'
import type { SixAxisAppendage } from './six-axis-appendages.js'
import type { NamedPoints } from './six-axis-body.js'
import type { SixAxisDampingOptions } from './six-axis-damping.js'
import type { SixAxisFloorOptions } from './six-axis-floor.js'

/** Options of {@link sixAxisIsolation}. */
export interface SixAxisIsolationOptions extends NamedPoints {
  /** Payload and supports, as options or as the record of `rigidPayload` */
  readonly payload: RigidPayloadOptions | RigidPayload
  /** Place in the frame of the payload at which motion of floor and payload and forces are given [m]. @defaultValue its
   * centre of mass */
  readonly reference?: Point
  /** Whether each foot moves by itself on top of the floor, through `foot1VelocityX` and so on. @defaultValue 'rigid' */
  readonly feet?: 'rigid' | 'independent'
  /** Points of the payload to look at, by name [m]: `tool` gives the outputs `toolVelocityX`, Y and Z. @defaultValue none */
  readonly points?: Readonly<Record<string, Point>>
  /** Motion between two of these points, second minus first, by name. @defaultValue none */
  readonly differences?: Readonly<Record<string, readonly [string, string]>>
  /** Height control, one valve per air spring or group of them. @defaultValue none */
  readonly levelling?: LevellingOptions
  /** Line between air springs of one `valveGroup`. @defaultValue none: each keeps its gas in vibration */
  readonly sharedLine?: SharedLineOptions
  /** Active damping. @defaultValue none */
  readonly damping?: SixAxisDampingOptions
  /** Flexible parts of the payload, each with its output `appendage1Velocity` and so on. @defaultValue none, a rigid one */
  readonly appendages?: readonly SixAxisAppendage[]
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: SixAxisFloorOptions
  /** What to do with a payload that tips at rest. @defaultValue 'refuse' */
  readonly tipping?: 'refuse' | 'model'
}
