import type { Scope } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { blockSystem } from '../systems/block.js'
import { connect } from '../systems/connect.js'
import type { Diagram } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'

/** A parameter of a model that can be turned by a factor. */
export interface Knob {
  readonly parameter: string
  readonly turned: (factor: number) => IsolationModel
}

/** What can be turned: the mounts of each storey, their dashpots, and every controller; in six axes, where mounts and gravity are
 * one block, the controllers alone. */
export function knobsOf(scope: Scope, model: IsolationModel): Knob[] {
  const { blocks } = model.diagram
  const names = Object.keys(blocks)
  const storeys = [...new Set(names.flatMap((name) => /^(.*?)(mount|airSpring|gas|surge)$/.exec(name)?.[1] ?? []))]
  const mounts = storeys.flatMap((prefix): Knob[] => {
    const own = ['mount', 'airSpring', 'gas', 'surge']
      .map((name) => prefix + name)
      .filter((name) => names.includes(name))
    const dashpots = own.filter(
      (name) => /(mount|airSpring)$/.test(name) && hasDashpot(blockSystem(scope, blocks[name])),
    )
    const whole = (block: StateSpace, factor: number) => scaled(block, factor, factor, (name) => /ension$/.test(name))
    const direct = (block: StateSpace, factor: number) => scaled(block, 1, factor, (name) => /ension$/.test(name))
    return [
      {
        parameter: `stiffness and damping of ${prefix}mounts`,
        turned: (factor) => changed(scope, model, own, factor, whole),
      },
      ...(dashpots.length === 0
        ? []
        : [
            {
              parameter: `dashpots of ${prefix}mounts`,
              turned: (factor: number) => changed(scope, model, dashpots, factor, direct),
            },
          ]),
    ]
  })
  const controllers = names
    .filter((name) => blocks[name].role === 'controller')
    .map((name): Knob => {
      const gained = (block: StateSpace, factor: number) => scaled(block, factor, factor, () => true)
      return { parameter: `gain of ${name}`, turned: (factor) => changed(scope, model, [name], factor, gained) }
    })
  return [...mounts, ...controllers]
}

function hasDashpot({ D }: StateSpace): boolean {
  return D.some((row) => row.some((direct) => direct !== 0))
}

/** The model with some blocks scaled. */
function changed(
  scope: Scope,
  model: IsolationModel,
  names: readonly string[],
  factor: number,
  scale: (block: StateSpace, factor: number) => StateSpace,
): IsolationModel {
  const blocks = { ...model.diagram.blocks }
  for (const name of names) blocks[name] = scale(blockSystem(scope, blocks[name]), factor)
  const diagram: Diagram = { ...model.diagram, blocks }
  return { ...model, diagram, closed: connect(diagram) }
}

/** A block with the rows of some outputs multiplied, what comes through states and what comes at once. */
function scaled(
  block: StateSpace,
  throughStates: number,
  atOnce: number,
  applies: (output: string) => boolean,
): StateSpace {
  const rows = (matrix: StateSpace['C'], factor: number) =>
    matrix.map((row, k) => (applies(block.outputs[k]) ? row.map((value) => factor * value) : row))
  const { delays } = block
  return {
    ...block,
    C: rows(block.C, throughStates),
    D: rows(block.D, atOnce),
    ...(delays === null ? {} : { delays: { ...delays, D12: rows(delays.D12, atOnce) } }),
  }
}
