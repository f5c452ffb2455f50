import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  delay,
  diagram,
  embed,
  frequencyResponse,
  gain,
  integrator,
  lowPass,
  margins,
  openLoop,
  replaceBlock,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const servo = diagram({
  blocks: { plant: integrator(), controller: gain(2), sensor: lowPass({ cutoff: 5 }) },
  inputs: ['reference', 'noise'],
  outputs: { motion: 'plant.y1', error: ['reference', '-sensor.y1'] },
  wires: {
    'plant.u1': 'controller.y1',
    'controller.u1': ['reference', '-sensor.y1', '-noise'],
    'sensor.u1': 'plant.y1',
  },
})

describe('diagram', () => {
  it('returns a copy with its kind that closes to the same system', () => {
    const { kind: _, ...literal } = servo
    expect(servo.kind).toBe('Diagram')
    expect(connect(literal)).toEqual(connect(servo))
    expect(diagram(literal).blocks).not.toBe(literal.blocks)
  })

  it('is plain data: it survives JSON', () => {
    expect(connect(JSON.parse(JSON.stringify(servo)) as Diagram)).toEqual(connect(servo))
  })

  it('refuses what connect refuses, at once and under its own name', () => {
    const error = refusal(() => diagram({ blocks: {}, inputs: [], outputs: { y: 'a.b' }, wires: {} } as Diagram))
    expect(error.code).toBe('unknown-port')
    expect(refusal(() => diagram({ ...servo, kind: 'Spectrum' } as never)).details.path).toBe('kind')
    expect(error.message).toBe('diagram: no output "a.b"; outputs are none; external inputs are none (outputs.y)')
  })
})

describe('openLoop', () => {
  it('is L of 1/(1 + L): the loop gain with one minus sign taken out', () => {
    const loop = openLoop(servo, 'plant.y1')
    expect(loop.inputs).toEqual(['injected'])
    expect(loop.outputs).toEqual(['returned'])
    // computed from the closed form 2/s · ω/(s + ω) at 5 Hz, ω = 10π: −(1 + i)/(10π)
    const { re, im } = frequencyResponse(loop, [5])
    expect(re[0]).toBeCloseTo(-0.03183098861837907, 15)
    expect(im[0]).toBeCloseTo(-0.03183098861837907, 15)
  })

  it('has the same margins wherever a single loop is broken', () => {
    const at = (['plant.y1', 'controller.y1', 'sensor.y1'] as const).map((port) => margins(openLoop(servo, port)))
    // computed from the closed form |2/(s (1 + s/ω))| = 1, ω = 10π: w² = (√(ω⁴ + 16 ω²) − ω²)/2, PM = 90° − atan(w/ω)
    for (const { phaseMarginDegrees } of at) expect(phaseMarginDegrees).toBeCloseTo(86.36466312395763, 6)
  })

  it('takes a signal out of every wire that reads it, with its sign', () => {
    const twice = openLoop(
      {
        blocks: { a: integrator(), b: gain(3), c: gain(5) },
        inputs: ['r'],
        outputs: { y: 'a.y1' },
        wires: { 'b.u1': '-a.y1', 'c.u1': ['a.y1', 'a.y1', 'r'], 'a.u1': ['b.y1', '-c.y1'] },
      },
      'a.y1',
    )
    // computed from the closed form L = (3 + 2·5)/s
    expect(twice.C[0][0] * twice.B[0][0]).toBe(13)
    expect(twice.A).toEqual([[0]])
  })

  it('leaves every other loop closed', () => {
    const cascaded = openLoop(
      {
        blocks: { motor: integrator(), position: integrator(), inner: gain(4), outer: gain(7) },
        inputs: ['r'],
        outputs: { y: 'position.y1' },
        wires: {
          'motor.u1': ['outer.y1', '-inner.y1'],
          'inner.u1': 'motor.y1',
          'position.u1': 'motor.y1',
          'outer.u1': ['r', '-position.y1'],
        },
      },
      'position.y1',
    )
    // computed from the closed form 7/(s (s + 4)) at s = 3i: −7/15·(3/5) − i·7/15·(4/5)
    const { re, im } = frequencyResponse(cascaded, [3 / (2 * Math.PI)])
    expect(re[0]).toBeCloseTo(-0.28, 14)
    expect(im[0]).toBeCloseTo(-0.37333333333333335, 14)
  })

  it('takes a wire that is held at zero for nothing', () => {
    const blocks = { sum: gain([[1, 1]]), plant: integrator() }
    const wires = { 'sum.u1': '-plant.y1', 'sum.u2': null, 'plant.u1': 'sum.y1' }
    const L = openLoop({ blocks, inputs: [], outputs: {}, wires } as Diagram, 'plant.y1')
    expect([L.A, L.B, L.C]).toEqual([[[0]], [[-1]], [[-1]]])
  })

  it('drops the external inputs, even one that is called injected', () => {
    const { inputs, B } = openLoop(
      {
        blocks: { a: integrator() },
        inputs: ['injected'],
        outputs: {},
        wires: { 'a.u1': ['-injected', '-a.y1'] },
      },
      'a.y1',
    )
    expect(inputs).toEqual(['injected'])
    // by hand: the external input falls away, minus the output comes in as minus one
    expect(B).toEqual([[-1]])
  })

  it('keeps a delay of the loop', () => {
    const late = openLoop(
      {
        blocks: { a: integrator(), late: delay({ seconds: 0.25 }) },
        inputs: [],
        outputs: {},
        wires: { 'a.u1': '-late.y1', 'late.u1': 'a.y1' },
      },
      'late.y1',
    )
    // computed from the closed form e^(−s/4)/s: crossover 1 rad/s, PM 90° − 0.25 rad
    expect(margins(late).phaseMarginDegrees).toBeCloseTo(75.67605, 4)
  })

  it('opens an algebraic loop that cannot be closed', () => {
    const ring: Diagram = {
      blocks: { a: gain(1) },
      inputs: [],
      outputs: {},
      wires: { 'a.u1': 'a.y1' },
    }
    expect(openLoop(ring, 'a.y1').D).toEqual([[-1]])
    expect(refusal(() => connect(ring)).code).toBe('algebraic-loop')
  })

  it('refuses a port that is not a block output, with those there are', () => {
    for (const port of ['plant.speed', 'plant.u1', 'noise', '-plant.y1', undefined]) {
      const error = refusal(() => openLoop(servo as Diagram, port as string))
      expect(error.code).toBe('unknown-port')
      expect(error.message).toContain('outputs are plant.y1, controller.y1, sensor.y1')
      expect(error.details.path).toBe('port')
    }
  })
})

describe('replaceBlock', () => {
  it('swaps one block and leaves the given diagram alone', () => {
    const before = JSON.stringify(servo)
    const quicker = replaceBlock(servo, 'controller', gain(10))
    // computed from the closed form: motion is driven by the gain of the controller
    expect(connect(quicker).B[0]).toEqual([10, -10])
    expect(connect(servo).B[0]).toEqual([2, -2])
    expect(JSON.stringify(servo)).toBe(before)
  })

  it('joins by name, not by place', () => {
    const difference = gain([[1, -1]], { inputs: ['a', 'b'], outputs: ['y'] })
    const swapped = gain([[-1, 1]], { inputs: ['b', 'a'], outputs: ['y'] })
    const drawing = diagram({
      blocks: { difference },
      inputs: ['p', 'q'],
      outputs: { y: 'difference.y' },
      wires: { 'difference.a': 'p', 'difference.b': 'q' },
    })
    expect(connect(replaceBlock(drawing, 'difference', swapped)).D).toEqual([[1, -1]])
  })

  it('refuses unknown blocks and other ports', () => {
    const swap = (name: string, system: unknown) => refusal(() => replaceBlock(servo as Diagram, name, system as never))
    expect(swap('plan', gain(1))).toMatchObject({ code: 'unknown-port', details: { path: 'name', value: 'plan' } })
    expect(swap('plan', gain(1)).message).toContain('blocks are plant, controller, sensor')
    expect(swap('plant', gain(1, { inputs: ['force'] }))).toMatchObject({
      code: 'unknown-port',
      details: { path: 'system.inputs', value: 'u1' },
    })
    expect(swap('plant', gain(1, { outputs: ['force'] }))).toMatchObject({
      code: 'unknown-port',
      details: { path: 'system.outputs', value: 'y1' },
    })
    expect(swap('plant', gain([[1, 1]]))).toMatchObject({
      code: 'unconnected-port',
      details: { path: 'system.inputs' },
    })
    expect(swap('plant', gain([[1], [1]]))).toMatchObject({ code: 'unknown-port', details: { value: 'y2' } })
    expect(swap('plant', 3)).toMatchObject({ code: 'invalid-option', details: { path: 'system' } })
  })
})

describe('embed', () => {
  const lower = embed(servo, { prefix: 'lower_' })

  it('renames blocks, external inputs and outputs, and every wire with them', () => {
    expect(Object.keys(lower.blocks)).toEqual(['lower_plant', 'lower_controller', 'lower_sensor'])
    expect(lower.inputs).toEqual(['lower_reference', 'lower_noise'])
    expect(lower.outputs).toEqual({
      lower_motion: 'lower_plant.y1',
      lower_error: ['lower_reference', '-lower_sensor.y1'],
    })
    expect(lower.wires).toEqual({
      'lower_plant.u1': 'lower_controller.y1',
      'lower_controller.u1': ['lower_reference', '-lower_sensor.y1', '-lower_noise'],
      'lower_sensor.u1': 'lower_plant.y1',
    })
  })

  it('means the same', () => {
    const { A, B, C, D } = connect(servo)
    expect(connect(lower)).toMatchObject({ A, B, C, D, states: ['lower_plant_x1', 'lower_sensor_x1'] })
  })

  it('lets two diagrams stand in one', () => {
    const both = connect({
      blocks: { ...servo.blocks, ...lower.blocks },
      inputs: [...servo.inputs, ...lower.inputs],
      outputs: { ...servo.outputs, ...lower.outputs },
      wires: { ...servo.wires, ...lower.wires, 'lower_controller.u1': ['plant.y1', '-lower_sensor.y1'] },
    })
    // by hand: at rest the second follows the first
    const { re } = frequencyResponse(both, [0], { inputs: ['reference'], outputs: ['lower_motion'] })
    expect(re[0]).toBeCloseTo(1, 14)
  })

  it('keeps null wires', () => {
    const held: Diagram = { blocks: { a: gain(1) }, inputs: [], outputs: {}, wires: { 'a.u1': null } }
    expect(embed(held, { prefix: 'b' }).wires).toEqual({ 'ba.u1': null })
  })

  it('refuses a prefix that is not a name, and diagrams that are wrong', () => {
    for (const prefix of ['', '1', 'a.b', '-', undefined, 3]) {
      expect(refusal(() => embed(servo, { prefix: prefix as string }))).toMatchObject({
        code: 'invalid-option',
        details: { path: 'prefix' },
      })
    }
    expect(refusal(() => embed(servo, { prefix: 'a', suffix: 'b' } as never)).code).toBe('invalid-option')
    expect(refusal(() => embed({ ...servo, wires: {} } as Diagram, { prefix: 'a' })).code).toBe('unconnected-port')
    expect(refusal(() => embed({ ...servo, more: 1 } as Diagram, { prefix: 'a' })).code).toBe('invalid-option')
    expect(refusal(() => embed(null as unknown as Diagram, { prefix: 'a' })).code).toBe('invalid-option')
  })
})
