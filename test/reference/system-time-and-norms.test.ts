import { describe, expect, it } from 'vitest'
import { denseFrom, rowsOf, times } from '../../src/linear/dense.js'
import { matrixExponential } from '../../src/linear/matrix-exponential.js'
import {
  bandPass,
  dcGain,
  discretize,
  frequencyResponse,
  h2Norm,
  hInfinityNorm,
  poles,
  series,
  settlingTime,
  simulate,
  stability,
  stateSpace,
  stepResponse,
  zeros,
} from '../../src/systems/index.js'
import { refusal } from '../unit/refusal.js'
import {
  type Coefficients,
  casesOf,
  expectReals,
  expectSet,
  type Matrices,
  polynomials,
  type Tolerance,
  unitFeedback,
} from './system-cases.js'

const expectNear = (found: number | null, expected: number, tolerance: Tolerance = {}) =>
  expectReals([found], [expected], tolerance)
const expectMatrix = (found: readonly (readonly number[])[], expected: readonly number[][], tolerance: Tolerance) => {
  expect(found.map((row) => row.length)).toEqual(expected.map((row) => row.length))
  for (const [i, row] of expected.entries()) expectReals(found[i], row, tolerance)
}

describe.each(
  casesOf<Matrices, { hinf: number; hinf_omega: number; h2: number; stable: boolean }>('O03-light-damping-norms'),
)('$title', (one) => {
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

describe.each(
  casesOf<{ A: number[][]; B: number[][]; T: number }, { Ad: number[][]; Bd: number[][]; x_after_5: number[] }>(
    'O05-zoh-integrators',
  ),
)('$title', (one) => {
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

describe.each(
  casesOf<
    { blocks: Coefficients[]; bands: number[]; t_check: number[] },
    { final: number; settling: Record<string, number>; y: number[] }
  >('O06-slow-doublet'),
)('$title', (one) => {
  const [first, second] = one.input.blocks.map(polynomials)
  const system = series(first, second)
  const tolerances = one.tolerance.per_field ?? {}

  it.each(one.input.bands)('settles to %f of its final value when the tail says so', (band) => {
    expectNear(settlingTime(system, { band, relative: 'of-final' }), one.expected.settling[String(band)], one.tolerance)
  })

  it('has its final value', () => {
    expectNear(dcGain(system)[0][0], one.expected.final, tolerances.final)
  })

  it('has the step response at the given times', () => {
    const { outputs, time } = stepResponse(system, { duration: 10, sampleTime: 0.5 })
    one.input.t_check.forEach((t, k) => {
      expectNear(outputs.y1[time.indexOf(t)], one.expected.y[k], tolerances.y)
    })
  })
})

describe.each(casesOf<Coefficients & { t: number[] }, { step: number[]; settling_time: null }>('O08-marginal-loop'))(
  '$title',
  (one) => {
    const closed = unitFeedback(polynomials(one.input))

    it('has a bounded step response', () => {
      const { outputs, time } = stepResponse(closed, { duration: 10, sampleTime: 0.5 })
      one.input.t.forEach((t, k) => {
        expectNear(outputs.y[time.indexOf(t)], one.expected.step[k], one.tolerance)
      })
    })

    it('does not settle', () => {
      expect(settlingTime(closed, { band: 0.02 })).toBe(one.expected.settling_time)
    })
  },
)

describe.each(casesOf<{ systems: Matrices[] }, { zeros: [number, number][][] }>('O14-transmission-zeros'))(
  '$title',
  (one) => {
    it.each(one.input.systems.map((matrices, k) => [k + 1, matrices, one.expected.zeros[k]] as const))(
      'of system %i, none missing and none invented',
      (_, matrices, expected) => {
        expectSet(zeros(stateSpace(matrices)), expected, one.tolerance)
      },
    )
  },
)

describe.each(
  casesOf<
    { A1: number[][]; T1: number; A2: number[][]; T2: number; A3: number[][] },
    { E1: number[][]; E2: number[][]; E3: number[][] }
  >('O15-matrix-exponential'),
)('$title', (one) => {
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

describe.each(casesOf<Matrices & { t: number[] }, { step: number[] }>('O04-repeated-poles'))(
  '$title',
  ({ input, expected, tolerance }) => {
    const { t, A, B, C, D } = input

    it('has the step response at the given times', () => {
      const values = t.map(
        (time) => stepResponse(stateSpace({ A, B, C, D }), { duration: time, sampleTime: time }).outputs.y1[1],
      )
      expectReals(values, expected.step, tolerance.per_field?.step ?? {})
    })
  },
)

describe.each(casesOf<Coefficients, { h2: 'Infinity'; hinf: 'Infinity' }>('O09-unstable-loop'))(
  '$title',
  ({ input }) => {
    it('has no finite norm', () => {
      const closed = unitFeedback(polynomials(input))
      expect(refusal(() => h2Norm(closed))).toMatchObject({ code: 'unstable' })
      expect(refusal(() => hInfinityNorm(closed))).toMatchObject({ code: 'unstable' })
    })
  },
)

describe.each(
  casesOf<
    { fs: number; n: number; order: number; multiples: number[] },
    { gain: number[]; max_pole_radius: number; stable: boolean }
  >('O18-third-octave-filter'),
)('$title', ({ input, expected, tolerance }) => {
  const { fs, n, order, multiples } = input
  const centre = 10 ** (n / 10)
  const [lower, upper] = [-0.05, 0.05].map((exponent) => centre * 10 ** exponent)
  const warped = (frequency: number) => (fs / Math.PI) * Math.tan((Math.PI * frequency) / fs)
  const analogue = bandPass({ from: warped(lower), to: warped(upper), order })
  const filter = discretize(analogue, { sampleTime: 1 / fs, method: 'bilinear' })
  const places = [...multiples.map((factor) => factor * centre), lower, upper]

  it('has the gain at the given frequencies and at its edges', () => {
    const { re, im } = frequencyResponse(
      filter,
      [...places].sort((a, b) => a - b),
    )
    const gain = [...re].map((real, k) => Math.hypot(real, im[k]))
    const order = places.map((place) => places.filter((other) => other < place).length)
    expectReals(
      order.map((k) => gain[k]),
      expected.gain,
      tolerance,
    )
  })

  it('has its poles inside the unit circle', () => {
    const radius = Math.max(...poles(filter).map(({ re, im }) => Math.hypot(re, im)))
    expectNear(radius, expected.max_pole_radius, tolerance.per_field?.max_pole_radius)
    expect(stability(filter).verdict === 'stable').toBe(expected.stable)
  })
})
