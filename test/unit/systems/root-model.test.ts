import { describe, expect, it } from 'vitest'
import { jumpsAt, rootPhase, settledRoots } from '../../../src/systems/root-model.js'

const at = (...list: [number, number][]) => list.map(([re, im]) => ({ re, im }))
const zero = { re: 0, im: 0 }

describe('roots put where they belong', () => {
  // A k-fold root is only known to about ε^(1/k) (J. H. Wilkinson, The Algebraic Eigenvalue Problem, 1965); the response tells.
  const split = at([1e-5, 0], [-5e-6, 8.66e-6], [-5e-6, -8.66e-6], [-1, 0])

  it('are at 0 where the response goes on below them as before, poles and zeros alike', () => {
    const gathered = [zero, zero, zero, { re: -1, im: 0 }]
    expect(settledRoots({ zeros: [], poles: split }, 1, (omega) => omega ** -3).poles).toEqual(gathered)
    expect(settledRoots({ zeros: split, poles: at([-1, 0], [-1, 0]) }, 1, (omega) => omega ** 3).zeros).toEqual(
      gathered,
    )
    // |1/(s³ − 1e-15)|, whose roots these are, levels off below them.
    const found = settledRoots({ zeros: [], poles: split }, 1, (omega) => 1 / Math.hypot(omega ** 3, 1e-15))
    expect(found.poles).toEqual(split)
  })

  it('stay where the response levels off below them', () => {
    const pair = at([-1e-5, 0], [-1, 0])
    expect(settledRoots({ zeros: [], poles: pair }, 1, (omega) => 1 / Math.hypot(omega, 1e-5)).poles).toEqual(pair)
    expect(settledRoots({ zeros: pair, poles: at([-1, 0]) }, 1, (omega) => Math.hypot(omega, 1e-5)).zeros).toEqual(pair)
  })

  it('are at 0 where the response is lost and rounding could have moved them so far, else not', () => {
    const lost = () => Number.NaN
    // 10 ε^(1/1), 10 ε^(1/2) = 1.5e-7, 10 ε^(1/3) = 6e-5 of a size of 1
    expect(settledRoots({ zeros: [], poles: split }, 1, lost).poles.slice(0, 3)).toEqual([zero, zero, zero])
    const two = (radius: number) => at([radius, 0], [-radius, 0])
    expect(settledRoots({ zeros: [], poles: two(1e-7) }, 1, lost).poles).toEqual([zero, zero])
    expect(settledRoots({ zeros: [], poles: two(1e-6) }, 1, lost).poles).toEqual(two(1e-6))
    expect(settledRoots({ zeros: two(1e-7), poles: at([-1, 0]) }, 1, lost).zeros).toEqual([zero, zero])
  })

  it('are left on the side that is fewer: what cancels there cannot be told apart', () => {
    // two zeros and one pole about 1e-8, where the response falls with ω as two zeros over one pole at 0 do
    const found = settledRoots(
      { zeros: at([1e-8, 0], [-1e-8, 0]), poles: at([-1.1e-8, 0], [-1, 0]) },
      1,
      () => Number.NaN,
    )
    expect(found.zeros).toEqual([zero, zero])
    expect(found.poles).toEqual(at([-1.1e-8, 0], [-1, 0]))
  })

  it('are on the axis within 1e-8 of their modulus, and at 0 within rounding', () => {
    const flat = () => 1
    const found = settledRoots({ zeros: at([0.9e-8, 1], [1.1e-8, 1]), poles: at([-1e-17, 0], [-1, 2]) }, 1, flat)
    expect(found).toEqual({ zeros: at([0, 1], [1.1e-8, 1]), poles: at([0, 0], [-1, 2]) })
  })

  it('that are not small beside the system are not looked at', () => {
    const poles = at([-0.011, 0], [-1, 0])
    expect(settledRoots({ zeros: [], poles }, 1, (omega) => 1 / omega).poles).toEqual(poles)
    expect(settledRoots({ zeros: [], poles: at([-0.009, 0], [-1, 0]) }, 1, (omega) => 1 / omega).poles[0]).toEqual(zero)
  })
})

describe('the phase of roots', () => {
  const of = (zeros: [number, number][], poles: [number, number][], omega: number) =>
    rootPhase({ zeros: at(...zeros), poles: at(...poles) }, omega)

  it('turns by half of 90° at their own frequency, up for zeros and down for poles, the other way on the right', () => {
    // by hand
    expect(of([[-2, 0]], [], 2)).toBeCloseTo(45, 12)
    expect(of([], [[-2, 0]], 2)).toBeCloseTo(-45, 12)
    expect(of([[2, 0]], [], 2)).toBeCloseTo(-45, 12)
    expect(of([], [[2, 0]], 2)).toBeCloseTo(45, 12)
    // 1/((jω)² + 2jω + 2) at ω = √2 is 1/(2√2 j)
    expect(of([], [[-1, 1], [-1, -1]], Math.SQRT2)).toBeCloseTo(-90, 12) // biome-ignore format: pairs
  })

  it('is 90° for one at 0, and jumps by 180° at a pair on the axis, the middle right there', () => {
    expect([of([[0, 0]], [], 0), of([], [[0, 0], [0, 0]], 3)]).toEqual([90, -180]) // biome-ignore format: pairs
    const pair: [number, number][] = [[0, 1], [0, -1]] // biome-ignore format: pairs
    expect([0.9, 1, 1.1].map((omega) => of(pair, [], omega))).toEqual([0, 90, 180])
    const [zeros, poles] = [at(...pair), at([-1, 0])]
    expect([1 + 0.9e-6, 1 + 1.2e-6, 1 - 0.9e-6, 0].map((omega) => jumpsAt({ zeros, poles }, omega))).toEqual([true, false, true, false]) // biome-ignore format: one line
    expect(jumpsAt({ zeros: [], poles: zeros }, 1)).toBe(true)
    expect(jumpsAt({ zeros: at([0, 0]), poles: at([-1e-9, 1]) }, 1)).toBe(false)
  })
})
