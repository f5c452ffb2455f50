import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  poles,
  type StateSpace,
  type StateSpaceOptions,
  stateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const options = {
  A: [
    [0, 1],
    [-4, -2],
  ],
  B: [[0], [1]],
  C: [
    [1, 0],
    [0, 1],
  ],
}

describe('stateSpace', () => {
  it('fills in zeros and numbered names', () => {
    expect(stateSpace(options)).toEqual({
      kind: 'StateSpace',
      ...options,
      D: [[0], [0]],
      inputs: ['u1'],
      outputs: ['y1', 'y2'],
      states: ['x1', 'x2'],
      delays: null,
    })
  })

  it('takes systems without states, inputs or outputs', () => {
    expect(stateSpace({ A: [], B: [], C: [[], []], D: [[1], [2]] })).toMatchObject({ inputs: ['u1'], states: [] })
    expect(stateSpace({ A: [[-1]], B: [[]], C: [] })).toMatchObject({ inputs: [], outputs: [], D: [] })
    expect(stateSpace({ A: [], B: [], C: [] })).toMatchObject({ inputs: [], outputs: [], states: [] })
  })

  it('copies what it is given and carries the role', () => {
    const system = stateSpace({ ...options, role: 'actuator' })
    expect(system.role).toBe('actuator')
    expect(system.A).not.toBe(options.A)
    expect(system.A[0]).not.toBe(options.A[0])
    expect('role' in stateSpace(options)).toBe(false)
  })

  it('refuses matrices that do not fit, by their path', () => {
    const call = (more: object) => refusal(() => stateSpace({ ...options, ...more } as StateSpaceOptions))
    expect(call({ A: [[0, 1]] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'A[0]' } })
    expect(call({ B: [[0]] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'B' } })
    expect(call({ B: [[0], [1, 2]] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'B[1]' } })
    expect(call({ C: [[1]] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'C[0]' } })
    expect(call({ D: [[1]] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'D' } })
    expect(call({ A: 3 })).toMatchObject({ code: 'invalid-option', details: { path: 'A' } })
    expect(call({ C: [3, 4] })).toMatchObject({ code: 'invalid-option', details: { path: 'C[0]' } })
    expect(call({ B: [[0], ['1']] })).toMatchObject({ code: 'invalid-option', details: { path: 'B[1][0]' } })
    expect(call({ B: [[0], [Number.NaN]] })).toMatchObject({ code: 'not-finite', details: { path: 'B[1][0]' } })
  })

  it('refuses names that do not fit, and unknown keys', () => {
    const call = (more: object) => refusal(() => stateSpace({ ...options, ...more } as StateSpaceOptions))
    expect(call({ inputs: ['a', 'b'] })).toMatchObject({ code: 'dimension-mismatch', details: { path: 'inputs' } })
    expect(call({ outputs: ['a', 'a'] })).toMatchObject({ code: 'duplicate-port', details: { path: 'outputs[1]' } })
    expect(call({ states: ['a', 'b c'] })).toMatchObject({ code: 'invalid-option', details: { path: 'states[1]' } })
    expect(call({ inputs: 'u' })).toMatchObject({ code: 'invalid-option', details: { path: 'inputs' } })
    expect(call({ role: 'spare' })).toMatchObject({ code: 'invalid-option', details: { path: 'role' } })
    expect(call({ E: [] })).toMatchObject({ code: 'invalid-option', details: { path: 'E' } })
    const many = Array.from({ length: 30 }, (_, i) => `y${i % 29}`)
    expect(call({ C: many.map(() => [0, 0]), outputs: many })).toMatchObject({
      code: 'duplicate-port',
      details: { path: 'outputs[29]' },
    })
  })
})

describe('a system written as a literal', () => {
  const literal: StateSpace = {
    kind: 'StateSpace',
    A: [[-3]],
    B: [[1]],
    C: [[1]],
    D: [[0]],
    inputs: ['u'],
    outputs: ['y'],
    states: ['x'],
    delays: { seconds: [1], B: [[1]], C: [[1]], D12: [[0]], D21: [[0]], D22: [[0]] },
  }
  const use = (more: object) => () =>
    connect({
      blocks: { a: { ...literal, ...more } as StateSpace },
      inputs: [],
      outputs: {},
      wires: { 'a.u': null },
    } as Diagram)

  it('is used as it is', () => {
    expect(use({})().delays?.seconds).toEqual([1])
    expect(poles({ ...literal, delays: null })[0].re).toBe(-3)
  })

  it('is checked, delays included', () => {
    const delays = literal.delays
    const path = (more: object) => refusal(use({ delays: { ...delays, ...more } })).details.path
    expect(path({ seconds: [0] })).toBe('blocks.a.delays.seconds[0]')
    expect(path({ seconds: [Number.POSITIVE_INFINITY] })).toBe('blocks.a.delays.seconds[0]')
    expect(path({ seconds: 1 })).toBe('blocks.a.delays')
    expect(path({ seconds: [1, 2] })).toBe('blocks.a.delays.B[0]')
    for (const key of ['B', 'C', 'D12', 'D21', 'D22']) expect(path({ [key]: [] })).toBe(`blocks.a.delays.${key}`)
    expect(refusal(use({ delays: undefined })).details.path).toBe('blocks.a.delays')
    expect(refusal(use({ kind: 'Spectrum' })).details.path).toBe('blocks.a')
    expect(refusal(use({ states: undefined })).details.path).toBe('blocks.a.states')
  })
})
