import { describe, expect, it } from 'vitest'
import {
  type IsolationModel,
  levellingLimit,
  onOffLevelling,
  pneumaticIsolation,
} from '../../../src/isolation/index.js'
import { connect, gain, replaceBlock } from '../../../src/systems/index.js'
import { oneChamber } from './one-chamber.js'

describe('a payload without mass in a damper', () => {
  it('is levelled at any rate, and never hunts', () => {
    // v = F/c: the loop κ·k/(s (c s + k)) stays stable for every κ (Routh: c s² + k s + k κ); by hand
    const spring = oneChamber(1.4, 0.05)
    const { payload, mount } = spring
    const model = pneumaticIsolation({ payload, mount, levelling: { flowGain: spring.flowGain(0.3) } })
    const { inputs, outputs } = model.diagram.blocks.payload
    const diagram = replaceBlock(
      model.diagram,
      'payload',
      gain(
        outputs.map((name) => [name === 'velocity' ? 1 / 500 : 0]),
        { inputs, outputs } as never,
      ),
    )
    const light = { ...model, diagram, closed: connect(diagram) } as IsolationModel
    const { together, first, cautions } = levellingLimit(light)
    expect([together.vertical, first, cautions]).toEqual([{ rate: null, frequency: null }, null, []])
    expect(onOffLevelling(light, { rate: 1e-3 })).toEqual({
      kind: 'OnOffLevelling',
      limitCycle: null,
      stoppingDeadBand: 0,
    })
  })
})
