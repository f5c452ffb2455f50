import { describe, expect, it } from 'vitest'
import {
  delay,
  frequencyResponse,
  gain,
  integrator,
  lowPass,
  parallel,
  type StateSpace,
  series,
  stateSpace,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const a = stateSpace({ A: [[-1]], B: [[2]], C: [[3]], D: [[4]], inputs: ['force'], outputs: ['velocity'] })
const b = stateSpace({ A: [[-5]], B: [[6]], C: [[7]], D: [[8]], inputs: ['signal'], outputs: ['voltage'] })

describe('series', () => {
  it('lets the first act first', () => {
    // by hand: A = [A1 0; B2 C1 A2], B = [B1; B2 D1], C = [D2 C1 C2], D = D2 D1
    expect(series(a, b)).toEqual({
      kind: 'StateSpace',
      A: [
        [-1, 0],
        [18, -5],
      ],
      B: [[2], [24]],
      C: [[24, 7]],
      D: [[32]],
      inputs: ['force'],
      outputs: ['voltage'],
      states: ['s1_x1', 's2_x1'],
      delays: null,
    })
  })

  it('multiplies matrices in the order of the signal', () => {
    const first = gain([
      [1, 2],
      [3, 4],
    ])
    const second = gain([[5, 6]])
    // by hand: [5 6] · [1 2; 3 4]
    expect(series(first, second).D).toEqual([[23, 34]])
  })

  it('keeps every delay and takes a list of any length', () => {
    const chain = series(delay({ seconds: 1 }), integrator(), delay({ seconds: 2 }), gain(3))
    expect(chain.delays?.seconds).toEqual([1, 2])
    // computed from the closed form 3 e^(−3s)/s at s = iπ/6: −18/π
    const { re, im } = frequencyResponse(chain, [1 / 12])
    expect(re[0]).toBeCloseTo(-5.729577951308232, 13)
    expect(im[0]).toBeCloseTo(0, 13)
    expect(series(a)).toMatchObject({ A: a.A, B: a.B, C: a.C, D: a.D, inputs: a.inputs, outputs: a.outputs })
  })

  it('refuses what does not fit, and nothing at all', () => {
    const error = refusal(() => series(a, gain([[1, 2]])))
    expect(error).toMatchObject({ code: 'dimension-mismatch', details: { path: 'systems[1]' } })
    expect(refusal(() => series()).code).toBe('invalid-option')
    expect(refusal(() => series(a, 2 as unknown as StateSpace))).toMatchObject({
      code: 'invalid-option',
      details: { path: 'systems[1]' },
    })
  })
})

describe('parallel', () => {
  it('adds the outputs', () => {
    const c = { ...b, inputs: ['force'], outputs: ['velocity'] }
    // by hand
    expect(parallel(a, c)).toEqual({
      kind: 'StateSpace',
      A: [
        [-1, 0],
        [0, -5],
      ],
      B: [[2], [6]],
      C: [[3, 7]],
      D: [[12]],
      inputs: ['force'],
      outputs: ['velocity'],
      states: ['s1_x1', 's2_x1'],
      delays: null,
    })
  })

  it('joins by name, in the order of the first', () => {
    const first = gain([[1, 2]], { inputs: ['p', 'q'] })
    const second = gain([[30, 40]], { inputs: ['q', 'p'] })
    // by hand
    expect(parallel(first, second).D).toEqual([[41, 32]])
  })

  it('makes a complementary pair add to one', () => {
    const low = lowPass({ cutoff: 7 })
    // by hand: 1 − ω/(s + ω) + ω/(s + ω) = 1
    const { re, im } = frequencyResponse(parallel(low, series(low, gain(-1)), gain(1)), [0, 7, 70])
    for (const k of [0, 1, 2]) {
      expect(re[k]).toBeCloseTo(1, 14)
      expect(im[k]).toBeCloseTo(0, 14)
    }
  })

  it('refuses other port names, by the path of the system', () => {
    expect(refusal(() => parallel(a, b))).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'systems[1].inputs' },
    })
    expect(refusal(() => parallel(gain(1), gain(1, { outputs: ['y2'] })))).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'systems[1].outputs' },
    })
    expect(refusal(() => parallel(gain(1), gain([[1, 2]]))).code).toBe('dimension-mismatch')
    expect(refusal(() => parallel()).code).toBe('invalid-option')
  })
})
