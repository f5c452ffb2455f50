import { describe, expect, it } from 'vitest'
import { compensatedDot } from '../../../src/linear/compensated-dot.js'
import { balancedSystem, type DelayedSystem } from '../../../src/linear/delayed-solve.js'
import { modalForm } from '../../../src/linear/modal-form.js'
import { modalKernel } from '../../../src/linear/modal-kernel.js'
import { responseKernel } from '../../../src/linear/response-kernel.js'
import { denseSystem } from '../../../src/systems/dense-system.js'
import { delay, series, stateSpace, transferFunction } from '../../../src/systems/index.js'

const flat = (system: Parameters<typeof denseSystem>[0]): DelayedSystem => balancedSystem(denseSystem(system))
const omegas = Array.from({ length: 80 }, (_, k) => 10 ** (-2 + k / 16))

/** Largest difference of two evaluators over the size of the response; the modal one may withhold an answer. */
function farthest(system: DelayedSystem): { worst: number; withheld: number } {
  const modal = modalKernel(system)
  const plain = responseKernel(system, 1)
  let worst = 0
  let withheld = 0
  for (const omega of omegas) {
    const expected = plain.at(0, omega)
    const found = modal?.at(0, omega) ?? null
    if (found === null || expected === null) withheld++
    else {
      for (let p = 0; p < found.re.length; p++) {
        const off = Math.hypot(found.re[p] - expected.re[p], found.im[p] - expected.im[p])
        worst = Math.max(worst, off / Math.hypot(expected.re[p], expected.im[p]))
      }
    }
  }
  return { worst, withheld }
}

describe('sum of products in twice the precision', () => {
  it('keeps what cancellation would lose', () => {
    // T. Ogita, S. M. Rump, S. Oishi, SIAM J. Sci. Comput. 26 (2005) 1955: exact to about ε² of the sum of moduli
    expect(compensatedDot(Float64Array.of(1e16, 1, -1e16), Float64Array.of(1, 1, 1), 3)).toBe(1)
    const third = 1 / 3
    // To 31 decimals; (1/3 rounded)² − its rounded square, in exact fractions: −6.1679056923619804e-18
    const square = compensatedDot(Float64Array.of(third, -third * third), Float64Array.of(third, 1), 2)
    expect(square).toBeCloseTo(-6.16790569236198e-18, 31)
  })
})

describe('partial fractions', () => {
  const pair = transferFunction({ numerator: [-0.8, -0.4], denominator: [1, 0.7, 0.5] })
  const lag = transferFunction({ numerator: [4], denominator: [1, 4] })

  it('agree with the refined solution to rounding', () => {
    const { worst, withheld } = farthest(flat(pair))
    expect(withheld).toBe(0)
    expect(worst).toBeLessThan(1e-12)
  })

  it('keep a real eigenvalue real beside a pair', () => {
    const system = flat(series(pair, lag))
    expect(Array.from(modalForm(system)?.lambda.im ?? []).filter((im) => im === 0)).toHaveLength(1)
    expect(farthest(system).worst).toBeLessThan(1e-10)
  })

  it('close delays exactly', () => {
    const around = stateSpace({
      A: [
        [-1, -3],
        [3, -1],
      ],
      B: [
        [1, 0],
        [0, 2],
      ],
      C: [
        [1, 0],
        [0.5, 1],
      ],
    })
    const system = { ...flat(around), seconds: [0.3] }
    const { worst, withheld } = farthest(system)
    expect(withheld).toBe(0)
    expect(worst).toBeLessThan(1e-12)
    expect(farthest(flat(series(pair, delay({ seconds: 2 })))).worst).toBeLessThan(1e-12)
  })

  it('are not offered for a defective matrix', () => {
    const chain = {
      A: [
        [-1, 1],
        [0, -1],
      ],
      B: [[0], [1]],
      C: [[1, 0]],
    }
    const modal = modalKernel(flat(stateSpace(chain)))
    expect(modal?.at(0, 1) ?? null).toBeNull()
  })

  it('withhold what they cannot prove: a response that nearly cancels', () => {
    // 1/((s + 1)(s + 1.0000001)): two residues of 1e7 that cancel to 7 digits leave 1e-9, not 1e-11
    const near = transferFunction({ numerator: [1], denominator: [1, 2.0000001, 1.0000001] })
    const { worst, withheld } = farthest(flat(near))
    expect(withheld).toBeGreaterThan(0)
    expect(worst).toBeLessThan(1e-10)
  })

  it('answer null on a pole', () => {
    const oscillator = transferFunction({ numerator: [1], denominator: [1, 0, 4] })
    expect(modalKernel(flat(oscillator))?.at(0, 2) ?? null).toBeNull()
  })

  it('along many points are what they are one by one, for the entries asked', () => {
    const system = flat(
      stateSpace({
        A: [
          [-1, 2],
          [-2, -1],
        ],
        B: [[1], [3]],
        C: [
          [1, 1],
          [4, -1],
        ],
      }),
    )
    const points = { re: new Float64Array(omegas.length), im: Float64Array.from(omegas) }
    const into = { re: new Float64Array(omegas.length), im: new Float64Array(omegas.length) }
    expect(modalKernel(system)?.along(points, [1], 1, into)).toEqual([])
    const single = modalKernel(system)
    omegas.forEach((omega, k) => {
      const expected = single?.at(0, omega)
      expect([into.re[k], into.im[k]]).toEqual([expected?.re[1], expected?.im[1]])
    })
  })

  it('along many points name those where they withhold, and are not there for a system with delays', () => {
    // Common practice, no source: 1/(s² + 4) has its pole at 2 rad/s.
    const oscillator = transferFunction({ numerator: [1], denominator: [1, 0, 4] })
    const points = { re: new Float64Array(3), im: Float64Array.of(1, 2, 4) }
    const into = { re: new Float64Array(3), im: new Float64Array(3) }
    expect(modalKernel(flat(oscillator))?.along(points, [0], 1, into)).toEqual([1])
    expect([into.re[0], into.re[2]]).toEqual([expect.closeTo(1 / 3, 14), expect.closeTo(-1 / 12, 14)])
    const late = flat(series(lag, delay({ seconds: 0.1 })))
    expect(modalKernel(late)?.along(points, [0], 1, into)).toBeNull()
  })
})
