import { describe, expectTypeOf, it } from 'vitest'
import {
  type Blocks,
  bandPass,
  connect,
  type Diagram,
  delay,
  diagram,
  embed,
  gain,
  highPass,
  integrator,
  leadLag,
  lowPass,
  notch,
  openLoop,
  parallel,
  replaceBlock,
  type StateSpace,
  series,
  stateSpace,
  type TypedDiagram,
  transferFunction,
  type Wire,
} from '../../src/systems/index.js'

const mass = stateSpace({ A: [[0]], B: [[1, 1]], C: [[1]], inputs: ['force', 'load'], outputs: ['velocity'] })
const mount = stateSpace({ A: [[0]], B: [[1]], C: [[1]], inputs: ['velocity'], outputs: ['force'] })
const blocks = { mass, mount }
const wires = {
  'mass.force': '-mount.force',
  'mass.load': 'load',
  'mount.velocity': ['mass.velocity', '-floor'],
} as const

describe('a diagram as a literal', () => {
  it('gives the closed system the names of its external ports', () => {
    const closed = connect({ blocks, inputs: ['floor', 'load'], outputs: { payload: 'mass.velocity' }, wires })
    expectTypeOf(closed).toEqualTypeOf<StateSpace<'floor' | 'load', 'payload'>>()
  })

  it('does not compile with a wrong source', () => {
    // @ts-expect-error mass has no output "speed"
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.velocity': 'mass.speed' } })
    // @ts-expect-error there is no external input "flor"
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.velocity': 'flor' } })
    // @ts-expect-error a block input is not a source
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.velocity': 'mass.force' } })
    // @ts-expect-error wrong within a list
    connect({ blocks, inputs: ['floor'], outputs: {}, wires: { ...wires, 'mass.load': ['floor', 'mas.velocity'] } })
  })

  it('does not compile with a wrong sign', () => {
    // @ts-expect-error a plus is not written
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.velocity': '+floor' } })
    // @ts-expect-error one minus only
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.velocity': '--floor' } })
  })

  it('does not compile with a wrong target', () => {
    // @ts-expect-error mount has no input "speed"
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mount.speed': 'floor' } })
    // @ts-expect-error there is no block "mas"
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires: { ...wires, 'mas.force': 'floor' } })
  })

  it('does not compile with a forgotten wire', () => {
    const { 'mass.load': _, ...fewer } = wires
    // @ts-expect-error mass.load is not wired
    connect({ blocks, inputs: ['floor'], outputs: {}, wires: fewer })
    connect({ blocks, inputs: ['floor'], outputs: {}, wires: { ...fewer, 'mass.load': null } })
    // @ts-expect-error undefined is not null
    connect({ blocks, inputs: ['floor'], outputs: {}, wires: { ...fewer, 'mass.load': undefined } })
  })

  it('does not compile with a wrong source of an external output', () => {
    // @ts-expect-error mount has no output "stretch"
    connect({ blocks, inputs: ['floor', 'load'], outputs: { stretch: 'mount.stretch' }, wires })
    connect({ blocks, inputs: ['floor', 'load'], outputs: { sum: ['-mount.force', 'load'], none: null }, wires })
  })

  it('does not compile with an unknown key', () => {
    // @ts-expect-error sums is no key of a diagram
    connect({ blocks, inputs: ['floor', 'load'], outputs: {}, wires, sums: {} })
  })
})

describe('a stored diagram', () => {
  const stored = diagram({ blocks, inputs: ['floor', 'load'], outputs: { payload: 'mass.velocity' }, wires })

  it('keeps its literal types', () => {
    expectTypeOf(connect(stored)).toEqualTypeOf<StateSpace<'floor' | 'load', 'payload'>>()
    expectTypeOf(stored).toExtend<TypedDiagram<typeof blocks, 'floor' | 'load', 'payload'>>()
  })

  it('is a Diagram', () => {
    expectTypeOf(stored).toExtend<Diagram>()
  })

  it('is checked like a literal where it is made', () => {
    // @ts-expect-error mass.load is not wired
    diagram({ blocks, inputs: ['floor'], outputs: {}, wires: { 'mass.force': null, 'mount.velocity': null } })
    // @ts-expect-error there is no block "mas"
    diagram({ blocks, inputs: ['floor', 'load'], outputs: { payload: 'mas.velocity' }, wires })
  })

  it('opens at its own block outputs only', () => {
    expectTypeOf(openLoop(stored, 'mount.force')).toEqualTypeOf<StateSpace<'injected', 'returned'>>()
    // @ts-expect-error mount has no output "velocity"
    openLoop(stored, 'mount.velocity')
    // @ts-expect-error a port is named without sign
    openLoop(stored, '-mount.force')
  })

  it('keeps its types when a block is replaced', () => {
    const changed = replaceBlock(stored, 'mount', gain(1, { inputs: ['velocity'], outputs: ['force'] }))
    expectTypeOf(connect(changed)).toEqualTypeOf<StateSpace<'floor' | 'load', 'payload'>>()
    // @ts-expect-error there is no block "moun"
    replaceBlock(stored, 'moun', gain(1))
  })

  it('has prefixed names when it is embedded', () => {
    const lower = embed(stored, { prefix: 'lower_' })
    expectTypeOf(connect(lower)).toEqualTypeOf<StateSpace<'lower_floor' | 'lower_load', 'lower_payload'>>()
    expectTypeOf(lower).toExtend<Diagram>()
    openLoop(lower, 'lower_mount.force')
    // @ts-expect-error the prefix is part of the name
    openLoop(lower, 'mount.force')
  })
})

describe('a diagram that a program builds', () => {
  const built: Diagram = { blocks: {}, inputs: [], outputs: {}, wires: {} }

  it('compiles with any names, which are checked at run time', () => {
    expectTypeOf(connect(built)).toEqualTypeOf<StateSpace<string, string>>()
    expectTypeOf(openLoop<Blocks, string, string>).toBeCallableWith(built, 'anything.atAll')
    expectTypeOf(embed(built, { prefix: 'a' })).toExtend<Diagram>()
    const loose: Record<string, Wire> = { 'mass.force': 'anything' }
    const some: Record<string, StateSpace> = { mass }
    const names: string[] = ['floor']
    expectTypeOf(connect({ blocks: some, inputs: names, outputs: loose, wires: loose })).toEqualTypeOf<StateSpace>()
  })

  it('may hold one block whose ports are not known: any port of it, but no other block', () => {
    const unknown: StateSpace = mount
    const outputs = { y: 'unknown.whatever' } as const
    connect({ blocks: { unknown }, inputs: ['r'], outputs, wires: { 'unknown.anything': 'r' } })
    // @ts-expect-error there is no block "other"
    connect({ blocks: { unknown }, inputs: ['r'], outputs, wires: { 'other.anything': 'r' } })
  })
})

describe('blocks', () => {
  it('have literal names, in a variable and in a diagram alike', () => {
    expectTypeOf(lowPass({ cutoff: 1 })).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    expectTypeOf(highPass({ cutoff: 1, input: 'raw' })).toEqualTypeOf<StateSpace<'raw', 'y1'>>()
    expectTypeOf(bandPass({ from: 1, to: 2, output: 'fine' })).toEqualTypeOf<StateSpace<'u1', 'fine'>>()
    expectTypeOf(leadLag({ leadCorner: 1, lagCorner: 2 })).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    expectTypeOf(notch({ frequency: 1, bandwidth: 2 })).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    expectTypeOf(integrator()).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    expectTypeOf(delay({ seconds: 1, input: 'now', output: 'later' })).toEqualTypeOf<StateSpace<'now', 'later'>>()
    expectTypeOf(gain(2)).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    expectTypeOf(gain([[1, 2]], { inputs: ['a', 'b'] })).toEqualTypeOf<StateSpace<'a' | 'b', string>>()
    expectTypeOf(transferFunction({ numerator: [1], denominator: [1, 1] })).toEqualTypeOf<StateSpace<'u1', 'y1'>>()
    const inputs = ['r'] as const
    connect({ blocks: { f: lowPass({ cutoff: 1 }) }, inputs, outputs: { y: 'f.y1' }, wires: { 'f.u1': 'r' } })
    // @ts-expect-error the output is called y1
    connect({ blocks: { f: lowPass({ cutoff: 1 }) }, inputs, outputs: { y: 'f.y' }, wires: { 'f.u1': 'r' } })
    // @ts-expect-error the input is called u1
    connect({ blocks: { f: gain(1) }, inputs, outputs: { y: 'f.y1' }, wires: { 'f.u': 'r' } })
  })

  it('in series keep the inputs of the first and the outputs of the last', () => {
    expectTypeOf(series(mount, gain(2), lowPass({ cutoff: 1, output: 'fine' }))).toEqualTypeOf<
      StateSpace<'velocity', 'fine'>
    >()
    expectTypeOf(parallel(mount, mount)).toEqualTypeOf<StateSpace<'velocity', 'force'>>()
    const list: StateSpace[] = [mount]
    expectTypeOf(series(...list)).toEqualTypeOf<StateSpace<string, string>>()
  })
})

describe('a stack of fifteen masses on fifteen mounts', () => {
  const stack = diagram({
    blocks: {
      m1: mass,
      k1: mount,
      m2: mass,
      k2: mount,
      m3: mass,
      k3: mount,
      m4: mass,
      k4: mount,
      m5: mass,
      k5: mount,
      m6: mass,
      k6: mount,
      m7: mass,
      k7: mount,
      m8: mass,
      k8: mount,
      m9: mass,
      k9: mount,
      m10: mass,
      k10: mount,
      m11: mass,
      k11: mount,
      m12: mass,
      k12: mount,
      m13: mass,
      k13: mount,
      m14: mass,
      k14: mount,
      m15: mass,
      k15: mount,
    },
    inputs: ['floor', 'load'],
    outputs: { top: 'm15.velocity', force: ['k1.force', 'k2.force'] },
    wires: {
      'k1.velocity': ['m1.velocity', '-floor'],
      'k2.velocity': ['m2.velocity', '-m1.velocity'],
      'k3.velocity': ['m3.velocity', '-m2.velocity'],
      'k4.velocity': ['m4.velocity', '-m3.velocity'],
      'k5.velocity': ['m5.velocity', '-m4.velocity'],
      'k6.velocity': ['m6.velocity', '-m5.velocity'],
      'k7.velocity': ['m7.velocity', '-m6.velocity'],
      'k8.velocity': ['m8.velocity', '-m7.velocity'],
      'k9.velocity': ['m9.velocity', '-m8.velocity'],
      'k10.velocity': ['m10.velocity', '-m9.velocity'],
      'k11.velocity': ['m11.velocity', '-m10.velocity'],
      'k12.velocity': ['m12.velocity', '-m11.velocity'],
      'k13.velocity': ['m13.velocity', '-m12.velocity'],
      'k14.velocity': ['m14.velocity', '-m13.velocity'],
      'k15.velocity': ['m15.velocity', '-m14.velocity'],
      'm1.force': ['k2.force', '-k1.force'],
      'm2.force': ['k3.force', '-k2.force'],
      'm3.force': ['k4.force', '-k3.force'],
      'm4.force': ['k5.force', '-k4.force'],
      'm5.force': ['k6.force', '-k5.force'],
      'm6.force': ['k7.force', '-k6.force'],
      'm7.force': ['k8.force', '-k7.force'],
      'm8.force': ['k9.force', '-k8.force'],
      'm9.force': ['k10.force', '-k9.force'],
      'm10.force': ['k11.force', '-k10.force'],
      'm11.force': ['k12.force', '-k11.force'],
      'm12.force': ['k13.force', '-k12.force'],
      'm13.force': ['k14.force', '-k13.force'],
      'm14.force': ['k15.force', '-k14.force'],
      'm15.force': '-k15.force',
      'm1.load': null,
      'm2.load': null,
      'm3.load': null,
      'm4.load': null,
      'm5.load': null,
      'm6.load': null,
      'm7.load': null,
      'm8.load': null,
      'm9.load': null,
      'm10.load': null,
      'm11.load': null,
      'm12.load': null,
      'm13.load': null,
      'm14.load': null,
      'm15.load': 'load',
    },
  })

  it('is checked name by name', () => {
    expectTypeOf(connect(stack)).toEqualTypeOf<StateSpace<'floor' | 'load', 'top' | 'force'>>()
    openLoop(stack, 'm15.velocity')
    // @ts-expect-error there are fifteen
    openLoop(stack, 'm16.velocity')
  })
})
