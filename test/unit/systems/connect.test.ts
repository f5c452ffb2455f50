import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  delay,
  frequencyResponse,
  gain,
  integrator,
  poles,
  type StateSpace,
  stability,
  stateSpace,
} from '../../../src/systems/index.js'
import { within } from '../within.js'
import { mass, mount, payloadOnMount } from './payload-on-mount.js'

const single = (system: StateSpace, omega: number) => {
  const { re, im } = frequencyResponse(system, [omega / (2 * Math.PI)])
  return [re[0], im[0]]
}

// A response of a few states is a handful of operations on numbers of one magnitude: 1e-12 leaves three digits of room.
const closeTo = (got: readonly number[], expected: readonly number[], tolerance = 1e-12) => {
  expect(got.length).toBe(expected.length)
  got.forEach((value, i) => {
    expect(Math.abs(value - expected[i])).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(expected[i])))
  })
}

describe('a payload of 2 kg on a mount of 8 N/m and 0.4 N·s/m', () => {
  const closed = connect(payloadOnMount)

  it('has the matrices of m v′ = −k z − c (v − w) + F, z′ = v − w', () => {
    // by hand from the two equations, computed from the closed form [−c/m, −k/m; 1, 0]
    expect(closed.A).toEqual([
      [-0.2, -4],
      [1, 0],
    ])
    expect(closed.B).toEqual([
      [0.2, 0.5],
      [-1, 0],
    ])
    expect(closed.C).toEqual([
      [1, 0],
      [0, 1],
      [0.4, 8],
    ])
    expect(closed.D).toEqual([
      [0, 0],
      [0, 0],
      [-0.4, 0],
    ])
    expect(closed.delays).toBeNull()
  })

  it('names its ports as written and its states by block and state', () => {
    expect(closed.inputs).toEqual(['floor', 'load'])
    expect(closed.outputs).toEqual(['payload', 'stretch', 'floorForce'])
    expect(closed.states).toEqual(['payload_velocity', 'mount_stretch'])
  })

  it('transmits (k + c s)/(m s² + c s + k)', () => {
    const { re, im } = frequencyResponse(closed, [3 / (2 * Math.PI)])
    // computed from the closed form (k + c s)/(m s² + c s + k) at s = 3i
    closeTo([re[0], im[0]], [-0.7744479495268138, -0.21293375394321767])
  })

  it('leaves its blocks and wires as they were', () => {
    const before = JSON.stringify(payloadOnMount)
    connect(payloadOnMount)
    expect(JSON.stringify(payloadOnMount)).toBe(before)
  })

  it('is the same whatever the order of the wires', () => {
    const wires = Object.fromEntries(Object.entries(payloadOnMount.wires).reverse()) as Diagram['wires']
    expect(connect({ ...payloadOnMount, wires } as Diagram)).toEqual(closed)
  })
})

describe('feedback of two blocks that both have direct feedthrough', () => {
  const G = stateSpace({ A: [[-1.5]], B: [[1]], C: [[2]], D: [[0.75]] })
  const H = stateSpace({ A: [[-4]], B: [[1]], C: [[1.25]], D: [[0.5]] })
  const loop = (sign: '' | '-') =>
    connect({
      blocks: { G, H },
      inputs: ['reference'],
      outputs: { y: 'G.y1' },
      wires: { 'G.u1': ['reference', `${sign}H.y1`], 'H.u1': 'G.y1' },
    })
  // Expected values of this block: rational-function algebra at 50 digits, checked against (I + D2 D1)⁻¹.
  const omegas = [0.1, 1, 10, 10000]

  it('is right with negative feedback', () => {
    const closed = loop('-')
    closeTo(closed.D[0], [0.5454545454545454])
    closeTo(
      poles(closed)
        .map(({ re }) => re)
        .sort((a, b) => a - b),
      [-3.8833627787298455, -3.0257281303610633],
    )
    expect(stability(closed).verdict).toBe('stable')
    const expected = [
      [0.7734430387619415, -0.007574470300377542],
      [0.7510224738648404, -0.06831042717740278],
      [0.5643421565490668, -0.06294098482895615],
      [0.5454545660292994, -6.859503516694611e-5],
    ]
    for (const [k, omega] of omegas.entries()) closeTo(single(closed, omega), expected[k])
  })

  it('is right with positive feedback, which is unstable', () => {
    const closed = loop('')
    closeTo(closed.D[0], [1.2])
    closeTo(
      poles(closed)
        .map(({ re }) => re)
        .sort((a, b) => a - b),
      [-4.044292530665579, 1.6442925306655785],
    )
    expect(stability(closed).verdict).toBe('unstable')
    const expected = [
      [-2.9920131852692444, -0.2549674421118046],
      [-1.8714269046785672, -1.8681600746704001],
      [1.08926842157123, -0.6737698816904873],
      [1.199999886280003, -0.0006919999812748005],
    ]
    for (const [k, omega] of omegas.entries()) closeTo(single(closed, omega), expected[k])
  })
})

describe('direct feedthrough without a loop', () => {
  it('is exact along a chain, whatever the gains', () => {
    const names = Array.from({ length: 60 }, (_, i) => `g${i}`)
    const closed = connect({
      blocks: Object.fromEntries(names.map((name, i) => [name, gain(i % 2 === 0 ? 1e10 : 1e-10)])),
      inputs: ['r'],
      outputs: { y: 'g59.y1' },
      wires: Object.fromEntries(names.map((name, i) => [`${name}.u1`, i === 0 ? 'r' : `g${i - 1}.y1`])),
    } as Diagram)
    // computed from the closed form 1e10·1e-10 = 1; each product rounds at most twice
    expect(Math.abs(closed.D[0][0] - 1)).toBeLessThan(60 * Number.EPSILON)
  })

  it('passes external inputs straight to outputs, with sign, in lists and as nothing', () => {
    const closed = connect({
      blocks: { a: gain(4) },
      inputs: ['r', 'q'],
      outputs: { through: 'r', minus: '-q', sum: ['r', 'r', '-q', 'a.y1'], none: null, empty: [] },
      wires: { 'a.u1': 'q' },
    })
    // by hand
    expect(closed.D).toEqual([
      [1, 0],
      [0, -1],
      [2, 3],
      [0, 0],
      [0, 0],
    ])
  })

  it('needs neither blocks nor outputs nor inputs', () => {
    const nothing = connect({ blocks: {}, inputs: [], outputs: {}, wires: {} })
    expect(nothing).toMatchObject({ A: [], B: [], C: [], D: [], inputs: [], outputs: [], states: [], delays: null })
    const held = connect({ blocks: { a: integrator() }, inputs: [], outputs: { y: 'a.y1' }, wires: { 'a.u1': null } })
    expect(held).toMatchObject({ A: [[0]], B: [[]], C: [[1]], D: [[]] })
  })
})

describe('delays in a diagram', () => {
  it('stay exact inside a loop', () => {
    const closed = connect({
      blocks: { late: delay({ seconds: 0.5 }), sum: integrator() },
      inputs: ['r'],
      outputs: { y: 'sum.y1' },
      wires: { 'late.u1': ['r', '-sum.y1'], 'sum.u1': 'late.y1' },
    })
    expect(closed.delays?.seconds).toEqual([0.5])
    // computed from the closed form e^(−sτ)/(s + e^(−sτ)) at s = i, τ = 0.5
    closeTo(single(closed, 1), [0.5, -0.8428982085841698])
  })

  it('are kept one by one, in the order of the blocks, through direct paths too', () => {
    const closed = connect({
      blocks: { a: delay({ seconds: 1 }), half: gain(0.5), b: delay({ seconds: 2 }) },
      inputs: ['r'],
      outputs: { y: ['b.y1', 'r'] },
      wires: { 'a.u1': 'r', 'half.u1': ['a.y1', '-b.y1'], 'b.u1': 'half.y1' },
    })
    expect(closed.delays).toEqual({
      seconds: [1, 2],
      B: [],
      C: [[], []],
      D12: [[0, 1]],
      D21: [[1], [0]],
      // by hand: the second delay takes (first − second)/2
      D22: [
        [0, 0],
        [0.5, -0.5],
      ],
    })
    expect(closed.D).toEqual([[1]])
    // a closed system is a block again
    const again = connect({
      blocks: { whole: closed },
      inputs: ['r'],
      outputs: { y: 'whole.y' },
      wires: { 'whole.r': 'r' },
    })
    expect(again).toEqual({ ...closed, states: [] })
  })
})

describe('names of states', () => {
  it('are made unique where block and state names run together', () => {
    const a = stateSpace({ A: [[0]], B: [[1]], C: [[1]], states: ['b_c'] })
    const ab = stateSpace({ A: [[0]], B: [[1]], C: [[1]], states: ['c'] })
    const closed = connect({
      blocks: { a, a_b: ab },
      inputs: [],
      outputs: {},
      wires: { 'a.u1': null, 'a_b.u1': null },
    })
    expect(closed.states).toEqual(['a_b_c', 'a_b_c_2'])
  })
})

describe('large diagrams', () => {
  it('close 100 masses and 100 mounts within a second', () => {
    const names = Array.from({ length: 100 }, (_, i) => i)
    const diagram = {
      blocks: Object.fromEntries(
        names.flatMap((i) => [
          [`mass${i}`, mass],
          [`mount${i}`, mount],
        ]),
      ),
      inputs: ['floor'],
      outputs: { top: 'mass99.velocity' },
      wires: Object.fromEntries(
        names.flatMap((i) => [
          [`mass${i}.mount`, i < 99 ? [`-mount${i}.force`, `mount${i + 1}.force`] : `-mount${i}.force`],
          [`mass${i}.load`, null],
          [`mount${i}.velocity`, [`mass${i}.velocity`, i === 0 ? '-floor' : `-mass${i - 1}.velocity`]],
        ]),
      ),
    } as Diagram
    expect(within(1, () => connect(diagram)).states.length).toBe(200)
  })
})
