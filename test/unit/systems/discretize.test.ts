import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  frequencyResponse,
  integrator,
  lowPass,
  mechanicalSystem,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const lag = stateSpace({
  A: [[-2]],
  B: [[3]],
  C: [[5]],
  D: [[0.5]],
  inputs: ['force'],
  outputs: ['motion'],
  states: ['speed'],
})
const rounding = 14

describe('discretize', () => {
  it('keeps names, and tells its sample time', () => {
    const { kind, inputs, outputs, states, sampleTime } = discretize(lag, {
      sampleTime: 0.1,
      method: 'zero-order-hold',
    })
    expect({ kind, inputs, outputs, states, sampleTime }).toEqual({
      kind: 'DiscreteStateSpace',
      inputs: ['force'],
      outputs: ['motion'],
      states: ['speed'],
      sampleTime: 0.1,
    })
  })

  it('holds a lag at zero order', () => {
    // computed from the closed form e^(−0.2) and 3 (1 − e^(−0.2))/2
    const { A, B, C, D } = discretize(lag, { sampleTime: 0.1, method: 'zero-order-hold' })
    expect(A[0][0]).toBeCloseTo(0.8187307530779818, rounding)
    expect(B[0][0]).toBeCloseTo(0.2719038703830273, rounding)
    expect([C, D]).toEqual([[[5]], [[0.5]]])
  })

  it('joins samples by straight lines at first order', () => {
    // computed from the closed form of the response of 1/s: y = T (u₀/2 + u₁ + … + u_k/2), that is T (z + 1)/(2 (z − 1))
    const held = discretize(integrator(), { sampleTime: 0.5, method: 'first-order-hold' })
    expect([held.A, held.B, held.C, held.D]).toEqual([[[1]], [[0.5]], [[1]], [[0.25]]])
  })

  it('maps the s-plane bilinearly', () => {
    // computed from the closed form s = 20 (z − 1)/(z + 1): 15/(s + 2) = 15 (z + 1)/(22 z − 18)
    const mapped = discretize(lag, { sampleTime: 0.1, method: 'bilinear' })
    expect(mapped.A[0][0]).toBeCloseTo(0.8181818181818182, rounding)
    expect(mapped.D[0][0]).toBeCloseTo(0.5 + 0.6818181818181818, rounding)
    // 15 (z + 1)/(22 z − 18) = 15/22 + (15/22) (1 + 9/11)/(z − 9/11)
    expect(mapped.B[0][0] * mapped.C[0][0]).toBeCloseTo(1.2396694214876034, rounding)
  })

  it('has the response of the continuous system at the frequency it is prewarped to', () => {
    const filter = lowPass({ cutoff: 30, order: 4 })
    const mapped = discretize(filter, { sampleTime: 0.01, method: 'bilinear', prewarp: 30 })
    const [a, b] = [frequencyResponse(filter, [30]), frequencyResponse(mapped, [30])]
    expect(Math.hypot(a.re[0] - b.re[0], a.im[0] - b.im[0])).toBeLessThan(1e-13)
    const plain = frequencyResponse(discretize(filter, { sampleTime: 0.01, method: 'bilinear' }), [30])
    expect(Math.hypot(a.re[0] - plain.re[0], a.im[0] - plain.im[0])).toBeGreaterThan(0.1)
  })

  it('takes a gain and a mechanical system', () => {
    const held = discretize(stateSpace({ A: [], B: [], C: [[]], D: [[2]] }), {
      sampleTime: 1,
      method: 'first-order-hold',
    })
    expect([held.A, held.B, held.C, held.D]).toEqual([[], [], [[]], [[2]]])
    const mass = mechanicalSystem({
      mass: [[2]],
      damping: [[0]],
      stiffness: [[0]],
      inputs: { force: [1] },
      outputs: { motion: { displacement: [1] } },
    })
    // by hand: a mass of 2 under a constant unit force moves by T²/4 in the first step
    const { A, B } = discretize(mass, { sampleTime: 0.2, method: 'zero-order-hold' })
    expect(A).toEqual([
      [1, 0.2],
      [0, 1],
    ])
    expect(B[0][0]).toBeCloseTo(0.01, rounding)
    expect(B[1][0]).toBeCloseTo(0.1, rounding)
  })

  it('refuses what it cannot do', () => {
    const code = (call: () => unknown) => refusal(call).code
    const hold = { sampleTime: 0.1, method: 'zero-order-hold' } as const
    expect(code(() => discretize(delay({ seconds: 1 }), hold))).toBe('unsupported')
    // s = 2/T is mapped to infinity.
    const pole = transferFunction({ numerator: [1], denominator: [1, -20] })
    expect(code(() => discretize(pole, { sampleTime: 0.1, method: 'bilinear' }))).toBe('singular')
    const growing = stateSpace({ A: [[1e4]], B: [[1]], C: [[1]] })
    expect(refusal(() => discretize(growing, hold))).toMatchObject({
      code: 'out-of-range',
      details: { path: 'sampleTime', unit: 's' },
    })
    const path = (options: unknown) => refusal(() => discretize(lag, options as never)).details.path
    expect(path({ ...hold, sampleTime: 0 })).toBe('sampleTime')
    expect(path({ ...hold, method: 'matched' })).toBe('method')
    expect(path({ ...hold, prewarp: 1 })).toBe('prewarp')
    expect(path({ sampleTime: 0.1, method: 'bilinear', prewarp: 5 })).toBe('prewarp')
    expect(path({ ...hold, rate: 1 })).toBe('rate')
  })
})
