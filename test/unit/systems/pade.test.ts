import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import {
  channel,
  connect,
  delay,
  frequencyResponse,
  gain,
  magnitude,
  pade,
  phaseDegrees,
  poles,
  type StateSpace,
  series,
  transferFunction,
} from '../../../src/systems/index.js'
import { checkPadeOrder } from '../../../src/systems/pade-order.js'
import { refusal } from '../refusal.js'

const orders = Array.from({ length: 20 }, (_, k) => k + 1)
const lag = transferFunction({ numerator: [3], denominator: [1, 3] })
const response = (system: StateSpace, grid: number[]) =>
  channel(frequencyResponse(system, grid), { input: system.inputs[0], output: system.outputs[0] })

describe('pade', () => {
  it('of order 1 and 2 has the poles of the textbook', () => {
    // by hand: 1 + sτ/2 = 0; 1 + sτ/2 + (sτ)²/12 = 0 at sτ = −3 ± j√3 (Baker, Graves-Morris, section 1.2)
    expect(poles(pade(delay({ seconds: 2 }), { order: 1 })).map(({ re, im }) => [re, im])).toEqual([[-1, 0]])
    const [upper] = poles(pade(delay({ seconds: 0.5 }), { order: 2 }))
    expect(upper.re).toBeCloseTo(-6, 13)
    expect(upper.im).toBeCloseTo(3.4641016151377544, 13)
  })

  it.each(orders)('of order %i is stable, of its order, and of modulus one everywhere', (order) => {
    const system = pade(delay({ seconds: 1e-3 }), { order })
    expect(system.A.length).toBe(order)
    expect(system.delays).toBeNull()
    for (const { re } of poles(system)) expect(re).toBeLessThan(0)
    // an all-pass of up to ten sections, whose partial fractions are ten times as large as their sum: some hundred ε
    for (const value of magnitude(response(system, [0, 1, 100, 500, 1e4, 1e7]))) expect(value).toBeCloseTo(1, 12)
  })

  it.each([
    // |arg p(−jx)/p(jx) + x| at x = n and at x = 1.2 n, computed with 40 digits from the coefficients of p
    [1, 0.0727, 0.1192, 0],
    [3, 0.01495, 0.0449, 0],
    [5, 0.002628, 0.01459, 0],
    [7, 0.0004464, 0.004587, 0],
    [10, 3.056e-5, 0.0007878, 0],
    // the poles of high orders are ill-conditioned; the last column is what rounding of them may cost
    [15, 3.429e-7, 4.075e-5, 1e-8],
    [20, 3.812e-9, 2.083e-6, 1e-6],
  ])('of order %i lags the delay by %f rad at ωτ = n and by %f at 1.2 n', (order, atOrder, beyond, rounding) => {
    const system = pade(delay({ seconds: 1 }), { order })
    const grid = Array.from({ length: 241 }, (_, k) => ((k / 200) * order) / (2 * Math.PI))
    const phase = phaseDegrees(response(system, grid))
    const off = (k: number) => Math.abs((phase[k] * Math.PI) / 180 + 2 * Math.PI * grid[k])
    // four digits are stated
    expect(Math.abs(off(200) - atOrder)).toBeLessThan(5e-4 * atOrder + rounding)
    expect(Math.abs(off(240) - beyond)).toBeLessThan(5e-4 * beyond + rounding)
  })

  it('replaces every delay, wherever it stands, and keeps the ports', () => {
    const loop = connect({
      blocks: { plant: lag, forward: delay({ seconds: 0.02 }), back: delay({ seconds: 0.03 }) },
      inputs: ['force', 'noise'],
      outputs: { motion: 'plant.y1', measured: 'back.y1' },
      wires: { 'plant.u1': 'forward.y1', 'forward.u1': ['force', '-back.y1'], 'back.u1': ['plant.y1', 'noise'] },
    })
    const approximation = pade(loop, { order: 6 })
    expect(approximation).toMatchObject({ inputs: ['force', 'noise'], outputs: ['motion', 'measured'], delays: null })
    expect(approximation.A.length).toBe(13)
    const grid = [0, 0.5, 2, 5]
    const [exact, close] = [frequencyResponse(loop, grid), frequencyResponse(approximation, grid)]
    // up to ωτ = 0.94 order 6 is right to its 1e-14 or so; rounding decides
    exact.re.forEach((value, k) => {
      expect(Math.hypot(close.re[k] - value, close.im[k] - exact.im[k])).toBeLessThan(1e-12)
    })
  })

  it('returns a system without delays as it is', () => {
    expect(pade(lag, { order: 3 })).toBe(lag)
    expect(pade(gain(2), { order: 3 })).toEqual(gain(2))
  })

  it('leaves its argument alone', () => {
    const system = series(lag, delay({ seconds: 1 }))
    const before = structuredClone(system)
    pade(system, { order: 4 })
    expect(system).toEqual(before)
  })

  it.each([
    [{ order: 0 }, 'out-of-range', 'order'],
    [{ order: 21 }, 'out-of-range', 'order'],
    [{ order: 2.5 }, 'out-of-range', 'order'],
    [{ order: Number.NaN }, 'not-finite', 'order'],
    [{ order: '3' }, 'invalid-option', 'order'],
    [{}, 'invalid-option', 'order'],
    [{ order: 3, method: 'all-pass' }, 'invalid-option', 'method'],
    [undefined, 'invalid-option', ''],
  ])('refuses %o', (options, code, path) => {
    const error = refusal(() => pade(delay({ seconds: 1 }), options as { order: number }))
    expect(error).toMatchObject({ code, details: { function: 'pade', path } })
  })

  it('refuses a malformed system, by the path of its fault', () => {
    const system = { ...lag, A: [[Number.NaN]] }
    expect(refusal(() => pade(system, { order: 2 }))).toMatchObject({
      code: 'not-finite',
      details: { path: 'system.A[0][0]' },
    })
  })
})

it('the order where a motion is followed in time is 6, or whole from 1 to 20', () => {
  const scope = scopeOf('test')
  expect([undefined, 1, 20].map((order) => checkPadeOrder(scope, order))).toEqual([6, 1, 20])
  expect([0, 21, 2.5].map((order) => refusal(() => checkPadeOrder(scope, order)).details.path)).toEqual([
    'padeOrder',
    'padeOrder',
    'padeOrder',
  ])
})
