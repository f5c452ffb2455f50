import { describe, expect, it } from 'vitest'
import { arena } from '../../../src/linear/arena.js'
import { closedDelays } from '../../../src/linear/closed-delays.js'
import { type Dense, zeros } from '../../../src/linear/dense.js'
import { dynamicStiffnessKernel } from '../../../src/linear/dynamic-stiffness-kernel.js'
import { lastExit } from '../../../src/linear/last-exit.js'
import { matrixExponential } from '../../../src/linear/matrix-exponential.js'
import { modalForm } from '../../../src/linear/modal-form.js'
import { nonlinearLeastSquares } from '../../../src/linear/nonlinear-least-squares.js'
import { runRecurrence } from '../../../src/linear/recurrence.js'
import { correctionRatio } from '../../../src/linear/refined-solve.js'
import { luFactors, scaledReciprocalCondition } from '../../../src/linear/solve.js'

const dense = (rows: number[][]): Dense => ({
  rows: rows.length,
  columns: rows[0].length,
  data: Float64Array.from(rows.flat()),
})

it('an arena that is full gives memory of its own, of zeros', () => {
  const { real } = arena(3)
  const [first, second, third] = [real(2), real(1), real(2)]
  first.fill(7)
  second.fill(8)
  expect([...first, ...second, ...third]).toEqual([7, 7, 8, 0, 0])
  expect(second.buffer).toBe(first.buffer)
  expect(third.buffer).not.toBe(first.buffer)
})

describe('delays that are closed at a pole', () => {
  const open = (rows: number[][]) => ({
    value: { ...dense(rows), re: Float64Array.from(rows.flat()), im: new Float64Array(rows.flat().length) },
    bound: new Float64Array(rows.flat().length),
  })
  const system = (d: number, seconds: number[]) => ({
    A: zeros(0, 0),
    B: zeros(0, 1 + d),
    C: zeros(1 + d, 0),
    D: zeros(1 + d, 1 + d),
    seconds,
  })

  it('have no value: a ring of gain 1 at 0 Hz, one delay', () => {
    // y = w, w = e^(−sτ)(u + w): 1/(e^(sτ) − 1), infinite at s = 0; at sτ = ln 3 it is 1/2
    const close = closedDelays(system(1, [2]))
    const M = open([
      [0, 1],
      [1, 1],
    ])
    expect(close(M, 0, 0)).toBeNull()
    expect(close(M, Math.log(3) / 2, 0)?.value.re[0]).toBeCloseTo(0.5, 14)
  })

  it('have no value: two delays that feed each other with gain 1', () => {
    // w₁ = e^(−s)(u + w₂), w₂ = e^(−s) w₁, y = w₁: e^(−s)/(1 − e^(−2s)), infinite at s = 0; at s = ln 2 it is (1/2)/(3/4)
    const close = closedDelays(system(2, [1, 1]))
    const M = open([
      [0, 1, 0],
      [1, 0, 1],
      [0, 1, 0],
    ])
    expect(close(M, 0, 0)).toBeNull()
    expect(close(M, Math.LN2, 0)?.value.re[0]).toBeCloseTo(2 / 3, 14)
  })
})

it('a mass on a spring without damping has no response at its own frequency', () => {
  const one = dense([[1]])
  const none = dense([[0]])
  const kernel = dynamicStiffnessKernel({
    mass: one,
    damping: none,
    stiffness: dense([[4]]),
    forces: one,
    displacements: one,
    velocities: none,
    accelerations: none,
  })
  expect([kernel.at(0, 2), kernel.boundedAt(0, 2)]).toEqual([null, null])
  // 1/(4 − 1)
  expect(kernel.at(0, 1)?.re[0]).toBeCloseTo(1 / 3, 15)
})

it('the exponential of a nilpotent matrix is told only as far as its approximant stays within the range of numbers', () => {
  // e^[0, a; 0, 0] = [1, a; 0, 1]
  const of = (a: number) => matrixExponential(dense([[0, a], [0, 0]]))?.data // biome-ignore format: a matrix
  expect([...(of(1e290) as Float64Array)]).toEqual([1, 1e290, 0, 1])
  expect(of(1.7e308)).toBeUndefined()
})

it('there is no modal form where the inputs of the modes leave the range of numbers', () => {
  const form = (size: number) =>
    modalForm({ A: dense([[-1, 1], [0, -2]]), B: dense([[size], [size]]), C: dense([[1, 1]]), D: zeros(1, 1), seconds: [] }) // biome-ignore format: matrices
  expect(form(1)).not.toBeNull()
  expect(form(1.7e308)).toBeNull()
})

it('two parameters that do the same to within rounding are not determined', () => {
  // (1 + δ)p + q on one line and p + q on two: the columns of the Jacobian differ by δ, its normal matrix by δ², below rounding.
  const fitted = (delta: number) =>
    nonlinearLeastSquares(
      ([p, q]) => Float64Array.of((1 + delta) * p + q - 1, p + q - 1, 0.3 * p + 0.3 * q - 0.3),
      Float64Array.of(0.3, 0.2),
    )
  expect(fitted(1)?.parameters[1]).toBeCloseTo(1, 6)
  for (const delta of [0, 1e-9, 7.111739968908192e-10, 4.535577839068705e-9, 1.1e-8]) {
    const found = fitted(delta)
    if (found !== null) expect(found.covariance.data[0]).toBeGreaterThan(1e12)
  }
})

it('a mode whose powers overflow within a block does no harm as long as nothing moves it', () => {
  // Four states, of which three grow by 1e60 a step and stay at 0; the last one halves.
  const A = dense([
    [1e60, 0, 0, 0],
    [0, 1e60, 0, 0],
    [0, 0, 1e60, 0],
    [0, 0, 0, 0.5],
  ])
  const step = { A, now: zeros(4, 1), next: null, C: dense([[1, 1, 1, 1]]), D: zeros(1, 1) }
  const [output] = runRecurrence(step, new Float64Array(200), 200, Float64Array.of(0, 0, 0, 1))
  expect([output[0], output[1], output[10], output[150]]).toEqual([1, 0.5, 2 ** -10, 2 ** -150])
})

it('a solution beyond the range of numbers has been moved without bound', () => {
  const of = (...values: number[]) => ({
    rows: values.length,
    columns: 1,
    re: Float64Array.from(values),
    im: new Float64Array(values.length),
  })
  expect(correctionRatio(of(4, 1), of(1, 0))).toBe(0.25)
  expect(correctionRatio(of(Number.POSITIVE_INFINITY, 1), of(0, 0))).toBe(Number.POSITIVE_INFINITY)
})

it('errors beyond the range of numbers leave nothing of a condition', () => {
  const M = dense([[1e-200]])
  expect(scaledReciprocalCondition(luFactors(M), dense([[1e-200]]), 1)).toBe(1)
  expect(scaledReciprocalCondition(luFactors(M), dense([[1e200]]), 1)).toBe(0)
})

describe('lastExit', () => {
  it('is 0 for a system without states, whose output is 0', () => {
    expect(lastExit(zeros(0, 0), zeros(1, 0), new Float64Array(0), -1, 1)).toBe(0)
  })

  it('does not go on for ever from a state beyond the range of numbers', () => {
    expect(lastExit(dense([[-1]]), dense([[1]]), Float64Array.of(Number.POSITIVE_INFINITY), -0.5, 0.5)).toBe(
      'no-convergence',
    )
  })

  it('has no answer where the slowest motion is rounding of the fastest one', () => {
    // e = e^(−at) is within ±1/2 from ln 2/a on
    const slow = (a: number) => lastExit(dense([[-1, 0], [0, -a]]), dense([[1, 1]]), Float64Array.of(0, 1), -0.5, 0.5) // biome-ignore format: a matrix
    expect((slow(1e-6) as number) * 1e-6).toBeCloseTo(Math.LN2, 9)
    expect((slow(1e-11) as number) * 1e-11).toBeCloseTo(Math.LN2, 5)
    expect(slow(1e-13)).toBe('no-convergence')
    expect(slow(1e-16)).toBe('ill-conditioned')
  })
})
