import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  frequencyResponse,
  h2Norm,
  hInfinityNorm,
  parallel,
  poles,
  type StateSpace,
  series,
  stability,
  stateSpace,
} from '../../src/systems/index.js'
import { generator, randomSystem } from './random.js'

// Identities of linear systems, no outside source: T. Kailath, Linear Systems, 1980, sections 2.1 and 2.4. Tolerances are
// relative to the largest response of a row; similarities with condition up to 1e8 and damping down to 1e-3 leave ten of
// sixteen digits, of which the tests ask for nine (poles and norms eight).
const systems = 2000
const frequencies = [0.01, 0.3, 2, 17, 120, 900]

describe(`on ${systems} random systems`, () => {
  it('a permutation and a rescaling of the states change no answer', () => {
    const random = generator(1)
    for (let k = 0; k < systems; k++) {
      const system = randomSystem(random, 2, 2)
      const other = transformed(system, random)
      expectSameResponse(system, other)
      expect(stability(other).verdict).toBe(stability(system).verdict)
      expectClose(poles(other)[0].naturalFrequency, poles(system)[0].naturalFrequency, 1e-8)
      if (k % 20 === 0) expectClose(hInfinityNorm(other).norm, hInfinityNorm(system).norm, 1e-8)
      if (k % 20 === 0) {
        const strict = { ...system, D: system.D.map((row) => row.map(() => 0)) }
        expectClose(h2Norm(transformed(strict, random)), h2Norm(strict), 1e-8)
      }
    }
  })

  it('a change of the unit of time changes frequencies and nothing else', () => {
    const random = generator(2)
    for (let k = 0; k < systems; k++) {
      const system = randomSystem(random, 1, 1)
      const faster = { ...system, A: scaled(system.A, 60), B: scaled(system.B, 60) }
      expectRows(
        frequencyResponse(
          faster,
          frequencies.map((f) => 60 * f),
        ),
        frequencyResponse(system, frequencies),
      )
    }
  })

  it('series is the product and parallel the sum', () => {
    const random = generator(3)
    for (let k = 0; k < systems; k++) {
      const [a, b] = [randomSystem(random, 1, 1), randomSystem(random, 1, 1)]
      const [x, y] = [frequencyResponse(a, frequencies), frequencyResponse(b, frequencies)]
      const product = frequencyResponse(series(a, b), frequencies)
      const sum = frequencyResponse(parallel(a, b), frequencies)
      for (let f = 0; f < frequencies.length; f++) {
        const [re, im] = [x.re[f] * y.re[f] - x.im[f] * y.im[f], x.re[f] * y.im[f] + x.im[f] * y.re[f]]
        expect(Math.hypot(product.re[f] - re, product.im[f] - im)).toBeLessThan(1e-9 * Math.hypot(re, im) + 1e-14)
        const size = Math.hypot(x.re[f], x.im[f]) + Math.hypot(y.re[f], y.im[f])
        expect(Math.hypot(sum.re[f] - x.re[f] - y.re[f], sum.im[f] - x.im[f] - y.im[f])).toBeLessThan(1e-9 * size)
      }
    }
  })

  it('the order of blocks and wires changes nothing', () => {
    const random = generator(4)
    for (let k = 0; k < systems / 4; k++) {
      const [plant, path] = [randomSystem(random, 1, 1), stateSpace({ A: [[-random()]], B: [[1]], C: [[0.01]] })]
      const wires = { 'plant.u1': ['r', '-path.y1'], 'path.u1': 'plant.y1' }
      const turned = { 'path.u1': 'plant.y1', 'plant.u1': ['-path.y1', 'r'] }
      const closed = (diagram: Diagram) => connect(diagram)
      const one = closed({ blocks: { plant, path }, inputs: ['r'], outputs: { y: 'plant.y1' }, wires })
      const two = closed({ blocks: { path, plant }, inputs: ['r'], outputs: { y: 'plant.y1' }, wires: turned })
      expectSameResponse(one, two)
      expect(stability(one).unstablePoles).toBe(stability(two).unstablePoles)
    }
  })
})

/** The same system with its states in another order and in other units. */
function transformed(system: StateSpace, random: () => number): StateSpace {
  const n = system.A.length
  const order = Array.from({ length: n }, (_, i) => i)
  for (let i = n - 1; i > 0; i--) {
    const j = Math.floor((i + 1) * random())
    ;[order[i], order[j]] = [order[j], order[i]]
  }
  const unit = order.map(() => 10 ** (8 * random() - 4))
  return {
    ...system,
    A: order.map((p, i) => order.map((q, j) => (system.A[p][q] * unit[j]) / unit[i])),
    B: order.map((p, i) => system.B[p].map((value) => value / unit[i])),
    C: system.C.map((row) => order.map((q, j) => row[q] * unit[j])),
  }
}

function scaled(matrix: readonly (readonly number[])[], factor: number): number[][] {
  return matrix.map((row) => row.map((value) => value * factor))
}

function expectSameResponse(a: StateSpace, b: StateSpace): void {
  expectRows(frequencyResponse(b, frequencies), frequencyResponse(a, frequencies))
}

type Response = ReturnType<typeof frequencyResponse>

function expectRows(found: Response, expected: Response): void {
  const count = expected.frequency.length
  const inputs = expected.inputs.length
  for (let k = 0; k < count; k++) {
    for (let o = 0; o < expected.outputs.length; o++) {
      const places = Array.from({ length: inputs }, (_, i) => (o * inputs + i) * count + k)
      const size = Math.max(...places.map((p) => Math.hypot(expected.re[p], expected.im[p])))
      for (const p of places) {
        expect(Math.hypot(found.re[p] - expected.re[p], found.im[p] - expected.im[p])).toBeLessThanOrEqual(1e-9 * size)
      }
    }
  }
}

function expectClose(found: number, expected: number, relative: number): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected))
}
