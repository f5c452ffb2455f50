import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { denseFrom, rowsOf, times } from '../../src/linear/dense.js'
import { matrixExponential } from '../../src/linear/matrix-exponential.js'
import {
  connect,
  discretize,
  h2Norm,
  hInfinityNorm,
  type StateSpace,
  series,
  settlingTime,
  simulate,
  stability,
  stateSpace,
  stepResponse,
  transferFunction,
  zeros,
} from '../../src/systems/index.js'

// Source of every expected value and of every tolerance: test/reference/data/systems.json. The values were computed there
// with 50 to 150 digits from exactly these inputs.
interface Tolerance {
  readonly rel?: number
  readonly abs?: number
}
interface Case<I, E> {
  readonly id: string
  readonly tolerance: Tolerance & { readonly per_field?: Record<string, Tolerance> }
  readonly input: I
  readonly expected: E
}
interface Matrices {
  readonly A: number[][]
  readonly B: number[][]
  readonly C: number[][]
  readonly D: number[][]
}
interface Coefficients {
  readonly num: number[]
  readonly den: number[]
}
const cases = JSON.parse(readFileSync(new URL('./data/systems.json', import.meta.url), 'utf8')) as Case<
  unknown,
  unknown
>[]
const named = <I, E>(id: string): Case<I, E> => {
  const found = cases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no case ${id}`)
  return found as Case<I, E>
}
const expectNear = (found: number | null, expected: number, { rel = 0, abs = 0 }: Tolerance) => {
  expect(found).toBeTypeOf('number')
  expect(Math.abs((found as number) - expected)).toBeLessThanOrEqual(abs + rel * Math.abs(expected))
}
const expectMatrix = (found: readonly (readonly number[])[], expected: readonly number[][], tolerance: Tolerance) => {
  expect(found.map((row) => row.length)).toEqual(expected.map((row) => row.length))
  expected.forEach((row, i) => {
    for (const [j, value] of row.entries()) expectNear(found[i][j], value, tolerance)
  })
}
const polynomials = ({ num, den }: Coefficients): StateSpace => transferFunction({ numerator: num, denominator: den })

describe('two resonances with a damping ratio of 1e-5', () => {
  const one = named<Matrices, { hinf: number; hinf_omega: number; h2: number; stable: boolean }>(
    'O03-light-damping-norms',
  )
  const system = stateSpace(one.input)
  const tolerances = one.tolerance.per_field ?? {}

  it('have the higher one as their largest gain', () => {
    const { norm, frequency } = hInfinityNorm(system)
    expectNear(norm, one.expected.hinf, one.tolerance)
    expectNear(2 * Math.PI * frequency, one.expected.hinf_omega, tolerances.hinf_omega)
  })

  it('have the rms under white noise, and are stable', () => {
    expectNear(h2Norm(system), one.expected.h2, tolerances.h2)
    expect(stability(system).verdict === 'stable').toBe(one.expected.stable)
  })
})

describe('a triple integrator behind a lag, held at zero order', () => {
  const one = named<
    { A: number[][]; B: number[][]; T: number },
    { Ad: number[][]; Bd: number[][]; x_after_5: number[] }
  >('O05-zoh-integrators')
  const { A, B, T } = one.input
  const C = A.map((_, i) => A.map((_, j) => (i === j ? 1 : 0)))
  const system = stateSpace({ A, B, C })
  const held = discretize(system, { sampleTime: T, method: 'zero-order-hold' })

  it('has every entry accurate relative to itself', () => {
    expectMatrix(held.A, one.expected.Ad, one.tolerance)
    expectMatrix(held.B, one.expected.Bd, one.tolerance)
  })

  it('is where it must be after five steps, iterated and simulated', () => {
    const ones = { inputs: { u1: new Array(6).fill(1) } }
    const iterated = simulate(held, ones).finalState
    const simulated = simulate(system, { ...ones, sampleTime: T, hold: 'zero-order-hold' }).finalState
    for (const state of [iterated, simulated]) expectMatrix([[...state]], [one.expected.x_after_5], one.tolerance)
  })
})

describe('a near cancellation that leaves a slow tail', () => {
  const one = named<
    { blocks: Coefficients[]; bands: number[]; t_check: number[] },
    { final: number; settling: Record<string, number>; y: number[] }
  >('O06-slow-doublet')
  const [first, second] = one.input.blocks.map(polynomials)
  const system = series(first, second)
  const tolerances = one.tolerance.per_field ?? {}

  it.each(one.input.bands)('settles to %f of its final value when the tail says so', (band) => {
    expectNear(settlingTime(system, { band, relative: 'of-final' }), one.expected.settling[String(band)], one.tolerance)
  })

  it('has the step response at the given times', () => {
    const { outputs, time } = stepResponse(system, { duration: 10, sampleTime: 0.5 })
    one.input.t_check.forEach((t, k) => {
      expectNear(outputs.y1[time.indexOf(t)], one.expected.y[k], tolerances.y)
    })
  })
})

describe('a loop exactly at the stability limit', () => {
  const one = named<Coefficients & { t: number[] }, { step: number[]; settling_time: null }>('O08-marginal-loop')
  const closed = connect({
    blocks: { loop: polynomials(one.input) },
    inputs: ['u'],
    outputs: { y: 'loop.y1' },
    wires: { 'loop.u1': ['u', '-loop.y1'] },
  })

  it('has a bounded step response', () => {
    const { outputs, time } = stepResponse(closed, { duration: 10, sampleTime: 0.5 })
    one.input.t.forEach((t, k) => {
      expectNear(outputs.y[time.indexOf(t)], one.expected.step[k], one.tolerance)
    })
  })

  it('does not settle', () => {
    expect(settlingTime(closed, { band: 0.02 })).toBe(one.expected.settling_time)
  })
})

describe('transmission zeros', () => {
  const one = named<{ systems: Matrices[] }, { zeros: [number, number][][] }>('O14-transmission-zeros')

  it.each(one.input.systems.map((matrices, k) => [k + 1, matrices, one.expected.zeros[k]] as const))(
    'of system %i, none missing and none invented',
    (_, matrices, expected) => {
      const found = zeros(stateSpace(matrices))
      expect(found.length).toBe(expected.length)
      const left = [...found]
      for (const [re, im] of expected) {
        const distances = left.map((zero) => Math.hypot(zero.re - re, zero.im - im))
        const nearest = distances.indexOf(Math.min(...distances))
        expectNear(distances[nearest], 0, {
          abs: (one.tolerance.abs ?? 0) + (one.tolerance.rel ?? 0) * Math.hypot(re, im),
        })
        left.splice(nearest, 1)
      }
    },
  )
})

describe('the matrix exponential', () => {
  const one = named<
    { A1: number[][]; T1: number; A2: number[][]; T2: number; A3: number[][] },
    { E1: number[][]; E2: number[][]; E3: number[][] }
  >('O15-matrix-exponential')
  const { input, expected, tolerance } = one
  const exponential = (A: number[][], factor: number) => {
    const found = matrixExponential(times(denseFrom(A, A.length), factor))
    if (found === null) throw new Error('overflow')
    return rowsOf(found)
  }

  it('of a triangular matrix of large norm', () => {
    expectMatrix(exponential(input.A1, input.T1), expected.E1, tolerance.per_field?.E1 ?? {})
  })

  it('of a singular generator over a long time, without negative probability', () => {
    const found = exponential(input.A2, input.T2)
    expectMatrix(found, expected.E2, tolerance.per_field?.E2 ?? {})
    expect(Math.min(...found.flat())).toBeGreaterThanOrEqual(0)
  })

  it('of badly scaled integrators, entry by entry', () => {
    expectMatrix(exponential(input.A3, 1), expected.E3, { abs: tolerance.abs, ...tolerance.per_field?.E3 })
  })
})
