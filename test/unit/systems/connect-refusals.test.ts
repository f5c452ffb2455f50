import { describe, expect, it } from 'vitest'
import { connect, type Diagram, gain, lowPass } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { mount, payloadOnMount } from './payload-on-mount.js'

describe('what connect refuses', () => {
  const base: Diagram = payloadOnMount
  const withWire = (key: string, wire: unknown) => () =>
    connect({ ...base, wires: { ...base.wires, [key]: wire } } as Diagram)

  it('an unknown source, with the ports there are', () => {
    const error = refusal(withWire('mount.velocity', 'payload.speed'))
    expect(error.code).toBe('unknown-port')
    expect(error.details.path).toBe('wires.mount.velocity')
    expect(error.details.value).toBe('payload.speed')
    expect(error.message).toContain(
      'connect: no output "payload.speed"; outputs are payload.velocity, mount.force, mount.stretch',
    )
    expect(error.message).toContain('external inputs are floor, load')
  })

  it('a block input as a source, an unknown external input, a second sign', () => {
    for (const source of ['mount.velocity', 'flor', '--floor', '+floor', '', 'constructor', '__proto__']) {
      expect(refusal(withWire('mount.velocity', source)).code).toBe('unknown-port')
      expect(refusal(withWire('mount.velocity', ['floor', source])).code).toBe('unknown-port')
    }
  })

  it('an unknown target', () => {
    const error = refusal(withWire('mount.speed', 'floor'))
    expect(error.code).toBe('unknown-port')
    expect(error.details.path).toBe('wires.mount.speed')
    expect(error.message).toContain('block inputs are payload.mount, payload.load, mount.velocity')
  })

  it('an unknown source of an external output', () => {
    const error = refusal(() => connect({ ...base, outputs: { y: 'mount.forc' } }))
    expect(error.code).toBe('unknown-port')
    expect(error.details.path).toBe('outputs.y')
  })

  it('a forgotten wire', () => {
    const { 'payload.load': _, ...wires } = base.wires
    const error = refusal(() => connect({ ...base, wires }))
    expect(error.code).toBe('unconnected-port')
    expect(error.details.path).toBe('wires.payload.load')
  })

  it('wires that are neither source, list nor null', () => {
    for (const wire of [undefined, 3, {}, [null], [['floor']]]) {
      const error = refusal(withWire('mount.velocity', wire))
      expect(error.code).toBe('invalid-option')
      expect(error.details.path).toBe('wires.mount.velocity')
    }
  })

  it('external inputs twice, and names that are none', () => {
    const twice = refusal(() => connect({ ...base, inputs: ['floor', 'load', 'floor'] }))
    expect(twice.code).toBe('duplicate-port')
    expect(twice.details.path).toBe('inputs[2]')
    expect(refusal(() => connect({ ...base, inputs: ['floor', 'load', 'x.y'] })).code).toBe('invalid-option')
    expect(refusal(() => connect({ ...base, outputs: { 'a-b': 'floor' } })).code).toBe('invalid-option')
    const blocks: Diagram['blocks'] = { ...base.blocks, '1st': lowPass({ cutoff: 1 }) }
    expect(refusal(() => connect({ ...base, blocks })).code).toBe('invalid-option')
  })

  it('blocks that are not systems, with the block in the path', () => {
    const broken = (block: unknown) => () => connect({ ...base, blocks: { ...base.blocks, mount: block } } as Diagram)
    expect(refusal(broken(null)).details.path).toBe('blocks.mount')
    expect(refusal(broken({ ...mount, B: [[1, 2]] })).details.path).toBe('blocks.mount.B[0]')
    expect(refusal(broken({ ...mount, B: [[1, 2]] })).code).toBe('dimension-mismatch')
    expect(refusal(broken({ ...mount, A: [[Number.NaN]] })).code).toBe('not-finite')
    expect(refusal(broken({ ...mount, role: 'spare' })).code).toBe('invalid-option')
    expect(refusal(broken({ ...mount, states: [] })).code).toBe('dimension-mismatch')
  })

  it('unknown keys and records that are none', () => {
    expect(refusal(() => connect({ ...base, wire: {} } as Diagram)).code).toBe('invalid-option')
    for (const key of ['blocks', 'outputs', 'wires', 'inputs']) {
      for (const value of [undefined, null, 3, 'text']) {
        const error = refusal(() => connect({ ...base, [key]: value } as Diagram))
        expect(error.code).toBe('invalid-option')
        expect(error.details.path).toBe(key)
      }
    }
    expect(refusal(() => connect(null as unknown as Diagram)).code).toBe('invalid-option')
  })

  it('gains whose product overflows', () => {
    const error = refusal(() =>
      connect({
        blocks: { a: gain(1e200), b: gain(1e200) },
        inputs: ['r'],
        outputs: { y: 'b.y1' },
        wires: { 'a.u1': 'r', 'b.u1': 'a.y1' },
      }),
    )
    expect(error.code).toBe('not-finite')
  })
})
