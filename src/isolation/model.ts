import type { LoadAbove } from '../elements/load-above.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { InstrumentNoise } from '../elements/types.js'
import { connect } from '../systems/connect.js'
import type { Diagram } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'

/** Names of the isolation concepts, simplest hardware first. */
export type Concept =
  | 'passive'
  | 'pneumatic'
  | 'activelyDamped'
  | 'parallelActive'
  | 'seriesActive'
  | 'stacked'
  | 'sixAxis'

/** All of them, in that order; six axes may be any of the others. */
export const concepts: readonly Concept[] = [
  'passive',
  'pneumatic',
  'activelyDamped',
  'parallelActive',
  'seriesActive',
  'stacked',
  'sixAxis',
]

/** A loop of a model: the output `port` of its diagram where it can be opened for its margins. */
export interface ModelLoop {
  readonly name: string
  readonly port: string
}

/** Where noise enters a model. */
export interface NoiseSource {
  /** Input of the closed system, such as `sensorNoise` */
  readonly input: string
  /** What the input is: signal of a velocity sensor [m/s], force [N] or expansion [m] */
  readonly unit: 'm/s' | 'N' | 'm'
  /** One-sided amplitude density [unit/√Hz] over frequency [Hz]; null where it has not been given */
  readonly noise: InstrumentNoise | null
}

/** A bound that the linear model does not enforce. */
export interface ModelLimit {
  /** What is bounded, such as `actuatorForce` */
  readonly name: string
  /** Output of the closed system to hold against it; null where there is none */
  readonly output: string | null
  /** What of the output is bounded; `'rms'` over long times. @defaultValue 'value' */
  readonly of?: 'value' | 'rate' | 'rms'
  readonly value: number
  readonly unit: string
}

/** A payload on its isolation: the diagram, the closed system, and what is needed to judge it. */
export interface IsolationModel {
  readonly kind: 'IsolationModel'
  readonly concept: Concept
  /** Blocks and wires; any block can be swapped with `replaceBlock`, any loop opened with `openLoop`. */
  readonly diagram: Diagram
  /** Inputs `floorVelocity` [m/s], `payloadForce` [N], `reactionForce` [N] and noise; outputs `payloadVelocity` [m/s],
   * `stretch` [m], `floorForce` [N] and, with an actuator, `actuatorForce` [N] or `actuatorExpansion` [m]. On a floor that
   * gives way also `loadedFloorVelocity` [m/s], and `neighbourVelocity` [m/s], what its force does to a neighbour. */
  readonly closed: StateSpace
  /** Main loop first, levelling last. */
  readonly loops: readonly ModelLoop[]
  readonly noiseSources: readonly NoiseSource[]
  readonly limits: readonly ModelLimit[]
}

/** A concept before it is closed, as a part that can stand on the floor or on another one. */
export interface Storey {
  readonly concept: Concept
  readonly diagram: Diagram
  readonly loops: readonly ModelLoop[]
  readonly noiseSources: readonly NoiseSource[]
  readonly limits: readonly ModelLimit[]
  /** All that stands on whatever is beneath [kg] */
  readonly weight: number
  /** Loops that exist only where the body beneath gives way */
  readonly floorLoops: readonly ModelLoop[]
  /** Where all six axes move */
  readonly sixAxis?: SixAxisStorey
}

/** What a storey in six axes is to the one beneath it. */
export interface SixAxisStorey {
  readonly load: LoadAbove
  /** Where its floor is described, and its uppermost payload */
  readonly reference: Point
  readonly top: Point
  readonly gravity: number
}

export function closeStorey({
  weight: _weight,
  floorLoops: _floorLoops,
  sixAxis: _sixAxis,
  ...storey
}: Storey): IsolationModel {
  const diagram: Diagram = { kind: 'Diagram', ...storey.diagram }
  return { kind: 'IsolationModel', ...storey, diagram, closed: connect(diagram) }
}
