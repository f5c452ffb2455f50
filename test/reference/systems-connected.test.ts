import { describe, expect, it } from 'vitest'
import {
  channel,
  connect,
  delay,
  frequencyResponse,
  gain,
  logFrequencies,
  pade,
  phaseDegrees,
  type StateSpace,
  stability,
  stateSpace,
  zeros,
} from '../../src/systems/index.js'
import { refusal } from '../unit/refusal.js'
import {
  type Complex,
  casesOf,
  expectComplex,
  expectPoles,
  expectReals,
  expectSet,
  type Link,
  type Matrices,
  massChain,
  responseAt,
} from './system-cases.js'

interface Scalars {
  A: number
  B: number
  C: number
  D: number
}
interface Closed {
  poles: Complex[]
  zeros: Complex[]
  D: number
  stable: boolean
  G: Complex[]
}

describe.each(
  casesOf<{ G: Scalars; H: Scalars; omega: number[] }, { negative: Closed; positive: Closed }>('O10-feedthrough'),
)('$title', (one) => {
  const block = ({ A, B, C, D }: Scalars) => stateSpace({ A: [[A]], B: [[B]], C: [[C]], D: [[D]] })
  const blocks = { forward: block(one.input.G), back: block(one.input.H) }
  const closed = (sign: '' | '-') =>
    connect({
      blocks,
      inputs: ['u'],
      outputs: { y: 'forward.y1' },
      wires: { 'forward.u1': ['u', `${sign}back.y1`], 'back.u1': 'forward.y1' },
    })

  it.each([
    ['negative', '-'],
    ['positive', ''],
  ] as const)('%s', (name, sign) => {
    const system = closed(sign)
    const expected = one.expected[name]
    expectPoles(system, expected.poles, one.tolerance)
    expectSet(zeros(system), expected.zeros, one.tolerance)
    expectReals([system.D[0][0]], [expected.D], one.tolerance)
    expect(stability(system).verdict === 'stable').toBe(expected.stable)
    expectComplex(responseAt(system, one.input.omega), expected.G, one.tolerance)
  })
})

describe.each(
  casesOf<
    {
      mass: number[]
      springs: Link[]
      dampers: Link[]
      inputs: number[]
      outputs: ['x' | 'a', number][]
      omega: number[]
    },
    { G: Complex[][][] }
  >('O11-mimo-60-states'),
)('$title', (one) => {
  const { mass, springs, dampers, inputs, outputs, omega } = one.input

  it('has the response in every channel, relative to the largest of its output', () => {
    const system = massChain(mass, springs, dampers, inputs, outputs)
    const n = omega.length
    const { re, im } = frequencyResponse(
      system,
      omega.map((w) => w / (2 * Math.PI)),
    )
    let worst = 0
    omega.forEach((_, k) => {
      outputs.forEach((_, o) => {
        const row = one.expected.G[k][o]
        const largest = Math.max(...row.map(([a, b]) => Math.hypot(a, b)))
        row.forEach(([a, b], i) => {
          const p = (o * inputs.length + i) * n + k
          worst = Math.max(worst, Math.hypot(re[p] - a, im[p] - b) / largest)
        })
      })
    })
    expect(worst).toBeLessThan(one.tolerance.rel ?? 0)
  })
})

describe.each(
  casesOf<
    Matrices & { omega: number; omega_near: number },
    { G_at_omega: (Complex | 'Infinity')[][]; G11_near: Complex; classification: string }
  >('O12-on-resonance'),
)('$title', (one) => {
  const { omega, omega_near, ...matrices } = one.input
  const system = stateSpace(matrices)

  it('is refused in the one channel that has the pole, and answered in all others', () => {
    one.expected.G_at_omega.forEach((row, o) => {
      row.forEach((expected, i) => {
        const wanted = { inputs: [system.inputs[i]], outputs: [system.outputs[o]] }
        const ask = () => frequencyResponse(system, [omega / (2 * Math.PI)], wanted)
        if (expected === 'Infinity') {
          expect(refusal(ask)).toMatchObject({ code: 'singular', details: { path: 'frequencies', unit: 'Hz' } })
        } else {
          const { re, im } = ask()
          // Zero channels are exactly zero: nothing connects them.
          expectComplex([[re[0], im[0]]], [expected], one.tolerance)
        }
      })
    })
    expect(refusal(() => frequencyResponse(system, [omega / (2 * Math.PI)])).code).toBe('singular')
  })

  it('is a number right beside it', () => {
    const near = { inputs: ['u1'], outputs: ['y1'] }
    const { re, im } = frequencyResponse(system, [omega_near / (2 * Math.PI)], near)
    expectComplex([[re[0], im[0]]], [one.expected.G11_near], one.tolerance.per_field?.G11_near ?? {})
  })

  it('is marginal', () => {
    expect(stability(system).verdict).toBe(one.expected.classification)
  })
})

describe.each(
  casesOf<
    { n: number; a: number; b: number; d2: number; omega: number[]; D1: number[][]; D2: number[][]; D2b: number[][] },
    { loop1: { G_diag: Complex[]; pole: number; stable: boolean }; loop3: { closed_D: number[][] } }
  >('O13-well-posedness'),
)('$title', (one) => {
  const { n, a, b, d2, omega, D1, D2, D2b } = one.input
  const diagonal = (value: number) =>
    Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? value : 0)))
  const feedback = (forward: StateSpace, back: StateSpace) =>
    connect({
      blocks: { forward, back },
      inputs: forward.inputs.map((_, k) => `r${k}`),
      outputs: Object.fromEntries(forward.outputs.map((y) => [y, `forward.${y}`])),
      wires: Object.fromEntries([
        ...forward.inputs.map((u, k) => [`forward.${u}`, [`r${k}`, `-back.${back.outputs[k]}`]]),
        ...back.inputs.map((u, k) => [`back.${u}`, `forward.${forward.outputs[k]}`]),
      ]),
    })

  it('closes channels whose determinant is tiny, by its condition', () => {
    const forward = stateSpace({ A: diagonal(-a), B: diagonal(1), C: diagonal(b), D: diagonal(1) })
    const closed = feedback(forward, gain(diagonal(d2)))
    expectPoles(
      closed,
      Array.from({ length: n }, () => [one.expected.loop1.pole, 0] as const),
      one.tolerance,
    )
    expect(stability(closed)).toMatchObject({
      verdict: one.expected.loop1.stable ? 'stable' : 'unstable',
      unstablePoles: one.expected.loop1.stable ? 0 : n,
    })
    const grid = omega.map((w) => w / (2 * Math.PI))
    for (let k = 0; k < n; k++) {
      const { re, im } = frequencyResponse(closed, grid, { inputs: [`r${k}`], outputs: [`y${k + 1}`] })
      expectComplex(
        grid.map((_, i) => [re[i], im[i]]),
        one.expected.loop1.G_diag,
        one.tolerance,
      )
    }
  })

  it('refuses a loop whose determinant is exactly zero', () => {
    expect(refusal(() => feedback(gain(D1), gain(D2))).code).toBe('algebraic-loop')
  })

  it('closes its neighbour', () => {
    const { D } = feedback(gain(D1), gain(D2b))
    for (const [i, row] of one.expected.loop3.closed_D.entries()) {
      // An entry of size 2 may keep rounding of the loop matrix, whose condition is about 60.
      expectReals(D[i], row, { ...one.tolerance, abs: 1e-13 })
    }
  })
})

describe.each(
  casesOf<
    { order: number; delay: number; omega: number[] },
    { poles: Complex[]; rhp_poles: number; G: Complex[]; phase: number[]; dcgain: number }
  >('O16-pade-10'),
)('$title', (one) => {
  const { input, expected, tolerance } = one
  const system = pade(delay({ seconds: input.delay }), { order: input.order })

  it('has the poles, none on the right', () => {
    expectPoles(system, expected.poles, tolerance.per_field?.poles ?? {})
    expect(stability(system)).toMatchObject({ verdict: 'stable', unstablePoles: expected.rhp_poles })
  })

  it('has the response, of modulus one', () => {
    const found = responseAt(system, input.omega)
    expectComplex(found, expected.G, tolerance)
    for (const [re, im] of found) expectReals([Math.hypot(re, im)], [1], tolerance)
    expectReals(
      responseAt(system, [0]).map(([re]) => re),
      [expected.dcgain],
      tolerance,
    )
  })

  it('has the phase, from zero on', () => {
    input.omega.forEach((omega, k) => {
      // Steps of 4 % of at most 12 rad, from nearly 0: no step hides a turn.
      const grid = logFrequencies({ from: 1e-3 / (2 * Math.PI), to: omega / (2 * Math.PI), count: 400 })
      const phase = phaseDegrees(channel(frequencyResponse(system, grid), { input: 'u1', output: 'y1' }))
      expectReals([(phase[phase.length - 1] * Math.PI) / 180], [expected.phase[k]], tolerance.per_field?.phase ?? {})
    })
  })
})
