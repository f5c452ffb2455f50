import { describe, expect, it } from 'vitest'
import { airSpring, standardGravity } from '../../../src/elements/index.js'
import {
  controlElements,
  type IsolationOptions,
  isolation,
  isolationSummary,
  loopMargins,
  transmissibility,
} from '../../../src/isolation/index.js'
import { connect, openLoop, replaceBlock } from '../../../src/systems/index.js'

const payload = { mass: 400 }
const mount = { stiffness: 2e5, damping: 900, relaxations: [{ stiffness: 1e5, time: 0.01 }] }
const air = airSpring({
  area: 0.02,
  volume: 3e-3,
  load: 400 * standardGravity,
  dampingChamber: { volume: 4e-3, flowResistance: 'optimal' },
})
const levelling = { flowGain: 1e-3, deadBand: 1e-4 }
const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
const activeStage = {
  mass: 40,
  actuator: { stiffness: 1e9, damping: 1e5, stroke: 2e-5 },
  sensor,
  sensorLocation: 'activeStage' as const,
  controller: { gain: 3, highPass: 0.05, lowPass: 60 },
  delay: 1e-4,
}
const passive: IsolationOptions = { concept: 'passive', payload, mount }
const concepts: IsolationOptions[] = [
  passive,
  { concept: 'pneumatic', payload, mount: air, levelling },
  {
    concept: 'activelyDamped',
    payload,
    mount: air,
    levelling,
    damping: { dampingRatio: 0.3, sensor, actuator: { bandwidth: 200 }, delay: 1e-3 },
  },
  {
    concept: 'parallelActive',
    payload,
    mount,
    feedback: { velocityGain: 4e3, accelerationGain: 40, actuator: { bandwidth: 300 } },
    feedforward: { gain: 0.98, delay: 1e-3 },
  },
  { concept: 'seriesActive', payload, mount, count: 4, activeStage },
  { concept: 'stacked', lower: { concept: 'seriesActive', payload, mount, activeStage }, upper: passive },
]

describe.each(concepts)('a model of concept $concept', (options) => {
  const model = isolation(options)

  it('is built without touching its options', () => {
    const frozen = deeplyFrozen(structuredClone(options))
    expect(isolation(frozen)).toEqual(model)
    expect(frozen).toEqual(options)
  })

  it('is plain data that survives structuredClone', () => {
    const copy = structuredClone(model)
    expect(copy).toEqual(model)
    expect(Array.from(transmissibility(copy, [0.5, 5, 50]).re)).toEqual(
      Array.from(transmissibility(model, [0.5, 5, 50]).re),
    )
  })

  it('survives JSON, as text and back', () => {
    const copy = JSON.parse(JSON.stringify(model)) as typeof model
    expect(copy).toEqual(model)
    expect(isolationSummary(copy)).toEqual(isolationSummary(model))
    expect(controlElements(copy)).toEqual(controlElements(model))
  })

  it('is read without being changed', () => {
    const frozen = deeplyFrozen(structuredClone(model))
    expect(isolationSummary(frozen)).toEqual(isolationSummary(model))
    expect(loopMargins(frozen)).toEqual(loopMargins(model))
  })

  it('is closed from its diagram', () => {
    expect(model.closed).toEqual(connect(model.diagram))
    const { payload: _, ...others } = model.diagram.blocks
    const body = Object.keys(others).length < Object.keys(model.diagram.blocks).length ? 'payload' : 'upper_payload'
    const block = model.diagram.blocks[body]
    if (block === undefined) throw new Error('no payload')
    expect(connect(replaceBlock(model.diagram, body, block))).toEqual(model.closed)
  })

  it('has the ports that every model has, and no others without a name', () => {
    expect(model.closed.inputs).toEqual(expect.arrayContaining(['floorVelocity', 'payloadForce', 'reactionForce']))
    expect(model.closed.outputs).toEqual(expect.arrayContaining(['payloadVelocity', 'stretch', 'floorForce']))
    for (const { output } of model.limits) if (output !== null) expect(model.closed.outputs).toContain(output)
    for (const { input } of model.noiseSources) expect(model.closed.inputs).toContain(input)
  })

  it('opens every loop it lists, levelling last', () => {
    for (const { port } of model.loops) expect(openLoop(model.diagram, port).outputs).toEqual(['returned'])
    const names = model.loops.map(({ name }) => name)
    const first = names.findIndex((name) => name.endsWith('levelling'))
    if (first >= 0) expect(names.slice(first).every((name) => name.endsWith('levelling'))).toBe(true)
  })
})

function deeplyFrozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    for (const entry of Object.values(value)) deeplyFrozen(entry)
    Object.freeze(value)
  }
  return value
}
