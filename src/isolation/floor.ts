import { type Scope, within } from '../internal/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { checkObject, type FloorOptions, mobilityOf, oscillatorsOf, ownMobility, withFree } from './floor-mobility.js'
import type { Storey } from './model.js'
import { mapped, substitute } from './rewire.js'
import { type SixAxisFloorOptions, sixAxisFloorBlock } from './six-axis-floor.js'
import { axes } from './six-axis-ports.js'

/** The storey on a floor that gives way: what stands on it moves with `free` velocity plus mobility times force.
 *
 * The input `floorVelocity` stays the velocity of the bare floor, as a survey before installation measures it. In six axes
 * all of it has six ends, and the angle that the floor adds to that of the bare floor reaches what leans on it.
 */
export function onFloor(scope: Scope, floor: FloorOptions | SixAxisFloorOptions | undefined, storey: Storey): Storey {
  if (floor === undefined) return storey
  const { diagram, floorLoops, sixAxis, ...rest } = storey
  const at = within(scope, 'floor')
  const block =
    sixAxis === undefined
      ? floorBlock(at, floor as FloorOptions)
      : sixAxisFloorBlock(at, floor as SixAxisFloorOptions, storey, sixAxis.reference)
  const ends = sixAxis === undefined ? [''] : axes
  const from = (end: string, output: string, input: string) => [input + end, `floor.${output}${end}`] as const
  const moved: Record<string, Source[]> = Object.fromEntries([
    ...ends.map((end) => [`floorVelocity${end}`, [`floor.velocity${end}`]]),
    ...block.outputs
      .filter((output) => output.startsWith('tilt'))
      .map((output) => [`floorTilt${output.slice(-2)}`, [`floorTilt${output.slice(-2)}`, `floor.${output}`]]),
  ])
  const rewire = (wires: Readonly<Record<string, Wire>>) => mapped(wires, (wire) => substitute(wire, moved))
  const outputs = rewire(diagram.outputs)
  const neighbours = block.outputs.some((output) => output.startsWith('neighbour')) ? ends : []
  return {
    ...rest,
    diagram: {
      ...diagram,
      blocks: { ...diagram.blocks, floor: block },
      outputs: {
        ...outputs,
        ...Object.fromEntries(ends.map((end) => from(end, 'velocity', 'loadedFloorVelocity'))),
        ...Object.fromEntries(neighbours.map((end) => from(end, 'neighbour', 'neighbourVelocity'))),
      },
      wires: {
        ...rewire(diagram.wires),
        ...Object.fromEntries(
          ends.flatMap((end) => [
            [`floor.free${end}`, `floorVelocity${end}`],
            [`floor.force${end}`, outputs[`floorForce${end}`]],
          ]),
        ),
      },
    },
    loops: [...floorLoops, ...rest.loops],
    floorLoops: [],
    ...(sixAxis && { sixAxis }),
  }
}

function floorBlock(scope: Scope, floor: FloorOptions): StateSpace {
  checkObject(scope, floor, '{ mass, stiffness }, { modes } or a StateSpace')
  if ('kind' in floor) return withFree(ownMobility(scope, floor, 1), [''])
  return withFree(mobilityOf(oscillatorsOf(scope, floor)), [''])
}
