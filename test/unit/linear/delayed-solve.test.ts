import { describe, expect, it } from 'vitest'
import { balancedSystem, type DelayedSystem, delayedSolver } from '../../../src/linear/delayed-solve.js'
import { denseFrom } from '../../../src/linear/dense.js'
import { responseKernel } from '../../../src/linear/response-kernel.js'

const dense = (rows: number[][], columns = rows[0]?.length ?? 0) => denseFrom(rows, columns)

/** u → k/(s + 1) with its output fed back through a delay τ: inputs u, w; outputs y, z. */
const lagWithDelay = (k: number, tau: number): DelayedSystem => ({
  A: dense([[-1]]),
  B: dense([[k, -k]]),
  C: dense([[1], [1]]),
  D: dense([
    [0, 0],
    [0, 0],
  ]),
  seconds: [tau],
})

describe('delayedSolver', () => {
  it('gives states and delayed signals of a lag with delayed feedback', () => {
    // computed from the closed form x = k/(s + 1 + k e^(−sτ)), w = e^(−sτ) x at s = jπ, τ = 1, k = 2: x = 2/(jπ − 1), w = −x
    const solution = delayedSolver(lagWithDelay(2, 1)).at(0, Math.PI)
    expect(solution?.re[0]).toBeCloseTo(-0.18399933670075047, 13)
    expect(solution?.im[0]).toBeCloseTo(-0.5780509644444725, 13)
    expect(solution?.re[1]).toBeCloseTo(0.18399933670075047, 13)
    expect(solution?.im[1]).toBeCloseTo(0.5780509644444725, 13)
  })

  it('has no value at a pole', () => {
    // by hand: 1/s at 0; and k = 2, τ = (π − atan √3)/√3 puts poles at ±j√3
    const integrator = { ...lagWithDelay(1, 1), A: dense([[0]]), B: dense([[1, 0]]) }
    expect(delayedSolver(integrator).at(0, 0)).toBeNull()
    const tau = (Math.PI - Math.atan(Math.sqrt(3))) / Math.sqrt(3)
    const near = delayedSolver(lagWithDelay(2, tau)).at(0, Math.sqrt(3))
    // rounding of √3 and τ decides whether the matrix is singular or only nearly so
    if (near !== null) expect(Math.hypot(near.re[0], near.im[0])).toBeGreaterThan(1e12)
  })

  it('answers as the response kernel does, delays or not', () => {
    const kernel = responseKernel(lagWithDelay(2, 1)).at(0, Math.PI)
    expect([kernel?.rows, kernel?.columns]).toEqual([1, 1])
    // the closed form above
    expect(kernel?.re[0]).toBeCloseTo(-0.18399933670075047, 13)
    expect(kernel?.im[0]).toBeCloseTo(-0.5780509644444725, 13)
  })
})

describe('balancedSystem', () => {
  it('changes no product of output, state and input matrices', () => {
    const system: DelayedSystem = {
      A: dense([
        [0, 1],
        [-1e12, -1],
      ]),
      B: dense([[0], [1e6]]),
      C: dense([[1e-3, 0]]),
      D: dense([[0]]),
      seconds: [],
    }
    const { A, B, C } = balancedSystem(system)
    // by hand: C B = 0 and C A B = 1e-3 · 1 · 1e6; powers of two round nothing
    expect(C.data[0] * B.data[0] + C.data[1] * B.data[1]).toBe(0)
    expect(C.data[0] * A.data[1] * B.data[1]).toBe(1000)
  })
})

describe('responseKernel', () => {
  it('needs no refinement to be refused exactly at a pole, nor beside it', () => {
    const oscillator: DelayedSystem = {
      A: dense([
        [0, 1],
        [-64, 0],
      ]),
      B: dense([[0], [1]]),
      C: dense([[1, 0]]),
      D: dense([[0]]),
      seconds: [],
    }
    const kernel = responseKernel(oscillator)
    expect(kernel.at(0, 8)).toBeNull()
    // by hand: 1/(64 − 100)
    expect(kernel.at(0, 10)?.re[0]).toBeCloseTo(-1 / 36, 15)
  })

  it('evaluates anywhere in the plane', () => {
    // by hand: 2/((3 + 4j) + 1) = (2 − 2j)/4
    const lag: DelayedSystem = { A: dense([[-1]]), B: dense([[1]]), C: dense([[2]]), D: dense([[0]]), seconds: [] }
    const value = responseKernel(lag).at(3, 4)
    expect([value?.re[0], value?.im[0]]).toEqual([0.25, -0.25])
  })

  it('has a constant for a system without states', () => {
    const gain: DelayedSystem = { A: dense([]), B: dense([], 2), C: dense([[]], 0), D: dense([[5, 7]]), seconds: [] }
    expect(Array.from(responseKernel(gain).at(0, 3)?.re ?? [])).toEqual([5, 7])
  })
})
