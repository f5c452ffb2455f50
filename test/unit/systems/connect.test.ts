import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  delay,
  frequencyResponse,
  gain,
  integrator,
  lowPass,
  poles,
  type StateSpace,
  stability,
  stateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

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

const mass = stateSpace({
  A: [[0]],
  B: [[0.5, 0.5]],
  C: [[1]],
  inputs: ['mount', 'load'],
  outputs: ['velocity'],
  states: ['velocity'],
})
const mount = stateSpace({
  A: [[0]],
  B: [[1]],
  C: [[8], [1]],
  D: [[0.4], [0]],
  inputs: ['velocity'],
  outputs: ['force', 'stretch'],
  states: ['stretch'],
})
const payloadOnMount = {
  blocks: { payload: mass, mount },
  inputs: ['floor', 'load'],
  outputs: { payload: 'payload.velocity', stretch: 'mount.stretch', floorForce: 'mount.force' },
  wires: {
    'payload.mount': '-mount.force',
    'payload.load': 'load',
    'mount.velocity': ['payload.velocity', '-floor'],
  },
} as const

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

describe('algebraic loops', () => {
  const gains = (D1: number[][], D2: number[][]): Diagram => ({
    blocks: { forward: gain(D1), back: gain(D2) },
    inputs: ['r1', 'r2'],
    outputs: { y1: 'forward.y1', y2: 'forward.y2' },
    wires: {
      'forward.u1': ['r1', '-back.y1'],
      'forward.u2': ['r2', '-back.y2'],
      'back.u1': 'forward.y1',
      'back.u2': 'forward.y2',
    },
  })

  it('is well posed though the determinant is 1e-24: eight channels 1 + 2/(s + 3) against −0.999', () => {
    const n = 8
    const eye = (value: number) =>
      Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? value : 0)))
    const G = stateSpace({ A: eye(-3), B: eye(1), C: eye(2), D: eye(1) })
    const ports = Array.from({ length: n }, (_, i) => i + 1)
    const closed = connect({
      blocks: { G, back: gain(eye(-0.999)) } as Diagram['blocks'],
      inputs: ports.map((i) => `r${i}`),
      outputs: Object.fromEntries(ports.map((i) => [`y${i}`, `G.y${i}`])),
      wires: Object.fromEntries(
        ports.flatMap((i) => [
          [`G.u${i}`, [`r${i}`, `-back.y${i}`]],
          [`back.u${i}`, `G.y${i}`],
        ]),
      ),
    })
    // closed form in exact arithmetic; 0.999 is not a binary number and the loop magnifies its rounding 1000 times
    const tolerance = 1e-9
    for (const pole of poles(closed)) closeTo([pole.re], [1994.9999999999982], tolerance)
    const expected = [
      [0, -2.506265664160401, 0],
      [1, -2.5060137798094786, -0.5025092800901301],
      [100, 0.006265624902101843, -50.12499921679689],
    ]
    for (const [omega, re, im] of expected) {
      const response = frequencyResponse(closed, [omega / (2 * Math.PI)], { inputs: ['r3'], outputs: ['y3'] })
      closeTo([response.re[0], response.im[0]], [re, im], tolerance)
    }
  })

  it('is refused where I + D2 D1 is exactly singular, and names the blocks', () => {
    const singular = gains(
      [
        [1, 2],
        [0, 1],
      ],
      [
        [-1, 2],
        [0, 3],
      ],
    )
    const error = refusal(() => connect(singular))
    expect(error.code).toBe('algebraic-loop')
    expect(error.message).toMatch(/forward/)
    expect(error.message).toMatch(/back/)
  })

  it('is solved where I + D2 D1 is regular', () => {
    const closed = connect(
      gains(
        [
          [1, 2],
          [0, 1],
        ],
        [
          [-1, 2.5],
          [0.5, 3],
        ],
      ),
    )
    // exact fractions: D1 (I + D2 D1)⁻¹
    closeTo(closed.D[0], [-16, 2])
    closeTo(closed.D[1], [2, 0])
  })

  it('is judged alike in any unit: the same loop in units of 1e-12 and 1e12', () => {
    const scaled = (loopGain: number, unit: number) =>
      connect({
        blocks: { forward: gain(unit), back: gain(loopGain / unit) },
        inputs: ['r'],
        outputs: { y: 'forward.y1' },
        wires: { 'forward.u1': ['r', 'back.y1'], 'back.u1': 'forward.y1' },
      })
    for (const unit of [2 ** -40, 1, 2 ** 40]) {
      // computed from the closed form unit/(1 − loop gain)
      expect(scaled(0.5, unit).D[0][0] / unit).toBe(2)
      expect(scaled(1 - 2 ** -30, unit).D[0][0] / unit).toBe(2 ** 30)
      expect(refusal(() => scaled(1, unit)).code).toBe('algebraic-loop')
      expect(refusal(() => scaled(1 - 2 ** -50, unit)).code).toBe('algebraic-loop')
    }
  })

  it('does not take a huge gain for an ill-posed loop', () => {
    const closed = connect({
      blocks: { big: gain(1e20), small: gain(0.5) },
      inputs: ['r'],
      outputs: { y: 'big.y1', z: 'small.y1' },
      wires: { 'big.u1': ['r', '-big.y1', 'small.y1'], 'small.u1': ['big.y1', '-small.y1'] },
    })
    // computed from the closed form y = r + z (high gain), z = y/3: y = 3/2, z = 1/2
    closeTo([closed.D[0][0], closed.D[1][0]], [1.5, 0.5])
  })

  it('is none where the feedthrough comes back through a state, a delay or nothing at all', () => {
    const closing = (back: StateSpace) => () =>
      connect({
        blocks: { forward: gain(1), back },
        inputs: ['r'],
        outputs: { y: 'forward.y1' },
        wires: { 'forward.u1': ['r', 'back.y1'], 'back.u1': 'forward.y1' },
      })
    expect(closing(integrator())).not.toThrow()
    expect(closing(delay({ seconds: 1 }))).not.toThrow()
    expect(refusal(closing(delay({ seconds: 0 }))).code).toBe('algebraic-loop')
    expect(() =>
      connect({
        blocks: { a: gain(1) },
        inputs: ['r'],
        outputs: { y: 'a.y1' },
        wires: { 'a.u1': ['r', 'a.y1', '-a.y1'] },
      }),
    ).not.toThrow()
  })

  it('names only the blocks of the loop', () => {
    const error = refusal(() =>
      connect({
        blocks: { before: gain(2), loop: gain(1), after: gain(3) },
        inputs: ['r'],
        outputs: { y: 'after.y1' },
        wires: { 'before.u1': 'r', 'loop.u1': ['before.y1', 'loop.y1'], 'after.u1': 'loop.y1' },
      }),
    )
    expect(error.message).toMatch(/through loop:/)
    expect(error.details.path).toBe('wires')
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

describe('large diagrams', () => {
  it('close 100 masses and 100 mounts within a second', () => {
    const names = Array.from({ length: 100 }, (_, i) => i)
    const start = performance.now()
    const closed = connect({
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
    } as Diagram)
    expect(closed.states.length).toBe(200)
    expect(performance.now() - start).toBeLessThan(1000)
  })
})
