import type { Diagram, Source, Wire } from '../systems/diagram.js'

/** The axes of a rigid body: motion along x, y, z and rotation about them. */
export type Axis = 'X' | 'Y' | 'Z' | 'Rx' | 'Ry' | 'Rz'

export const axes: readonly Axis[] = ['X', 'Y', 'Z', 'Rx', 'Ry', 'Rz']

/** Six names with a common beginning, such as `floorVelocityX` to `floorVelocityRz`. */
export function sixNames(beginning: string): string[] {
  return axes.map((axis) => beginning + axis)
}

/** Six wires into `target`, axis by axis from the sources with the same ends. */
export function sixWires(target: string, sources: readonly Source[]): Record<string, Wire> {
  return Object.fromEntries(axes.map((axis) => [target + axis, sources.map((source) => source + axis)]))
}

/** Whether something in a diagram measures against the floor: position loops, valves or shared lines. */
export function measuresFloor({ blocks }: Diagram): boolean {
  return ['positions', 'valve1', 'line'].some((name) => Object.hasOwn(blocks, name))
}
