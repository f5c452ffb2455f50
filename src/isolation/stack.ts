import type { Diagram, Source, Wire } from '../systems/diagram.js'
import { embed } from '../systems/embed.js'
import { negative, sourcesOf, unsigned } from '../systems/wire-sources.js'
import type { ModelLoop, Storey } from './model.js'

/** Two storeys as one, the upper standing on the payload of the lower, which must have been built to carry it. */
export function stack(lower: Storey, upper: Storey): Storey {
  // The floor of the upper storey is a body that gives way.
  const aloft = prefixed([...upper.floorLoops, ...upper.loops], 'upper_', ['port'])
  const below = (loops: readonly ModelLoop[]) => prefixed(loops, 'lower_', ['port', 'name'])
  const loops = [...aloft, ...below(lower.loops)]
  const isLevelling = ({ name }: ModelLoop) => name.endsWith('levelling')
  return {
    concept: 'stacked',
    diagram: stackedDiagram(lower.diagram, upper.diagram),
    loops: [...loops.filter((loop) => !isLevelling(loop)), ...loops.filter(isLevelling)],
    noiseSources: [...upper.noiseSources, ...prefixed(lower.noiseSources, 'lower_', ['input'])],
    limits: [...upper.limits, ...prefixed(lower.limits, 'lower_', ['name', 'output'])],
    weight: lower.weight,
    floorLoops: below(lower.floorLoops),
  }
}

/** Both diagrams in one: the upper floor is the lower payload, and what the upper pulls at reacts there. */
function stackedDiagram(below: Diagram, aloft: Diagram): Diagram {
  const lower = embed(below, { prefix: 'lower_' })
  const upper = embed(aloft, { prefix: 'upper_' })
  const sources: Record<string, readonly Source[]> = {
    lower_floorVelocity: ['floorVelocity'],
    upper_floorVelocity: sourcesOf(lower.outputs.lower_payloadVelocity),
  }
  for (const input of aloft.inputs) if (input !== 'floorVelocity') sources[`upper_${input}`] = [input]
  sources.lower_payloadForce = ['lower_payloadForce', ...sourcesOf(substitute(upper.outputs.upper_floorForce, sources))]
  const rewire = (wires: Readonly<Record<string, Wire>>) => mapped(wires, (wire) => substitute(wire, sources))
  const upperOutputs = Object.entries(upper.outputs).filter(([name]) => name !== 'upper_floorForce')
  const lowerOutputs = Object.entries(lower.outputs).map(([name, wire]) => [
    name === 'lower_floorForce' ? 'floorForce' : name,
    wire,
  ])
  return {
    blocks: { ...upper.blocks, ...lower.blocks },
    inputs: [...aloft.inputs, ...lower.inputs.filter((input) => input !== 'lower_floorVelocity')],
    outputs: rewire({
      ...Object.fromEntries(upperOutputs.map(([name, wire]) => [name.slice('upper_'.length), wire])),
      ...Object.fromEntries(lowerOutputs),
    }),
    wires: rewire({ ...upper.wires, ...lower.wires }),
  }
}

/** A wire in which external inputs are replaced by what drives them. */
export function substitute(wire: Wire, sources: Readonly<Record<string, readonly Source[]>>): Wire {
  return sourcesOf(wire).flatMap((source) => {
    const name = unsigned(source)
    const replacement = Object.hasOwn(sources, name) ? sources[name] : [name]
    return name === source ? replacement : replacement.map(negative)
  })
}

export function mapped(wires: Readonly<Record<string, Wire>>, change: (wire: Wire) => Wire): Record<string, Wire> {
  return Object.fromEntries(Object.entries(wires).map(([name, wire]) => [name, change(wire)]))
}

function prefixed<T extends object>(records: readonly T[], prefix: string, keys: readonly (keyof T)[]): T[] {
  return records.map((record) => {
    const copy = { ...record }
    for (const key of keys) if (typeof copy[key] === 'string') Object.assign(copy, { [key]: prefix + copy[key] })
    return copy
  })
}
