import type { Diagram, Source, Wire } from '../systems/diagram.js'
import { embed } from '../systems/embed.js'
import { sourcesOf } from '../systems/wire-sources.js'
import type { ModelLoop, Storey } from './model.js'
import { mapped, substitute } from './rewire.js'
import { seated } from './seated.js'

/** Two storeys as one, the upper standing on the payload of the lower, which must have been built to carry it. */
export function stack(lower: Storey, above: Storey): Storey {
  const upper = seated(lower, above)
  // The floor of the upper storey is a body that gives way.
  const aloft = prefixed([...upper.floorLoops, ...upper.loops], 'upper_', ['port'])
  const below = (loops: readonly ModelLoop[]) => prefixed(loops, 'lower_', ['port', 'name'])
  const loops = [...aloft, ...below(lower.loops)]
  const isLevelling = ({ name }: ModelLoop) => /levelling\d*$/.test(name)
  return {
    concept: 'stacked',
    diagram: stackedDiagram(lower.diagram, upper.diagram),
    loops: [...loops.filter((loop) => !isLevelling(loop)), ...loops.filter(isLevelling)],
    noiseSources: [...upper.noiseSources, ...prefixed(lower.noiseSources, 'lower_', ['input'])],
    limits: [...upper.limits, ...prefixed(lower.limits, 'lower_', ['name', 'output'])],
    weight: lower.weight,
    floorLoops: below(lower.floorLoops),
    ...(lower.sixAxis && {
      sixAxis: { ...lower.sixAxis, top: (upper.sixAxis as NonNullable<(typeof upper)['sixAxis']>).top },
    }),
  }
}

/** Both diagrams in one: the upper floor is the lower payload, and what the upper pulls at reacts there. */
function stackedDiagram(below: Diagram, aloft: Diagram): Diagram {
  const lower = embed(below, { prefix: 'lower_' })
  const upper = embed(aloft, { prefix: 'upper_' })
  const sources: Record<string, readonly Source[]> = {}
  for (const input of aloft.inputs) sources[`upper_${input}`] = [input]
  for (const input of aloft.inputs.filter((name) => name.startsWith('floorVelocity'))) {
    const axis = input.slice('floorVelocity'.length)
    sources[`lower_${input}`] = [input]
    sources[`upper_${input}`] = sourcesOf(lower.outputs[`lower_payloadVelocity${axis}`])
  }
  for (const input of aloft.inputs.filter((name) => name.startsWith('floorTilt'))) {
    // The angle of the lower payload is that of the floor and of every storey up to it.
    const turns = Object.keys(lower.outputs).filter((name) => name.endsWith(`lower_stretch${input.slice(-2)}`))
    sources[`lower_${input}`] = [input]
    sources[`upper_${input}`] = [input, ...turns.flatMap((name) => sourcesOf(lower.outputs[name]))]
  }
  const shared = new Set(Object.keys(sources).filter((name) => name.startsWith('lower_')))
  for (const [name, wire] of Object.entries(upper.outputs)) {
    if (!name.startsWith('upper_floorForce')) continue
    const input = name.replace('upper_floorForce', 'lower_payloadForce')
    sources[input] = [input, ...sourcesOf(substitute(wire, sources))]
  }
  const rewire = (wires: Readonly<Record<string, Wire>>) => mapped(wires, (wire) => substitute(wire, sources))
  const upperOutputs = Object.entries(upper.outputs).filter(([name]) => !name.startsWith('upper_floorForce'))
  const lowerOutputs = Object.entries(lower.outputs).map(([name, wire]) => [
    name.startsWith('lower_floorForce') ? name.slice('lower_'.length) : name,
    wire,
  ])
  return {
    blocks: { ...upper.blocks, ...lower.blocks },
    inputs: [...aloft.inputs, ...lower.inputs.filter((input) => !shared.has(input))],
    outputs: rewire({
      ...Object.fromEntries(upperOutputs.map(([name, wire]) => [name.slice('upper_'.length), wire])),
      ...Object.fromEntries(lowerOutputs),
    }),
    wires: rewire({ ...upper.wires, ...lower.wires }),
  }
}

function prefixed<T extends object>(records: readonly T[], prefix: string, keys: readonly (keyof T)[]): T[] {
  return records.map((record) => {
    const copy = { ...record }
    for (const key of keys) if (typeof copy[key] === 'string') Object.assign(copy, { [key]: prefix + copy[key] })
    return copy
  })
}
