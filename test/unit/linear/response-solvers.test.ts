import { describe, expect, it } from 'vitest'
import { complexTimes } from '../../../src/linear/complex.js'
import { type ComplexDense, luSpace } from '../../../src/linear/complex-lu.js'
import { balancedSystem } from '../../../src/linear/delayed-solve.js'
import { dynamicStiffnessKernel } from '../../../src/linear/dynamic-stiffness-kernel.js'
import { eigenvectors } from '../../../src/linear/eigenvectors.js'
import { modalForm } from '../../../src/linear/modal-form.js'
import { modalKernel } from '../../../src/linear/modal-kernel.js'
import { partialFractions } from '../../../src/linear/partial-fractions.js'
import { refinedSolve } from '../../../src/linear/refined-solve.js'
import { responseKernel } from '../../../src/linear/response-kernel.js'
import { solvedResponse } from '../../../src/linear/solved-response.js'
import { closedBy, complexFrom, dense, known, minus, type Number2, over, plus, size, times } from './known-systems.js'

const places: Number2[] = [
  [0, 0],
  [0, 0.3],
  [0, 1],
  [0, 5],
  [0, 40],
  [2, 3],
  [-0.5, 7],
]
const shapes: [number, number, readonly number[]][] = [
  [1, 1, []],
  [2, 3, []],
  [3, 2, []],
  [1, 1, [0.3]],
  [2, 3, [0.3]],
  [2, 2, [0.3, 0.05]],
  [1, 3, [0.2, 0.7]],
]

/** Whole values of the response, delays closed, and the size of each of its rows. */
function expected(inputs: number, outputs: number, seconds: readonly number[], s: Number2, unit = 1) {
  const d = seconds.length
  const open = known(inputs + d, outputs + d, seconds, unit).at(s)
  const rows = d === 0 ? open : closedBy(open, seconds, s)
  return { values: rows.flat(), rowSizes: rows.map((row) => Math.max(...row.map(size))) }
}

/** Largest error over the size of its row. */
function worst(found: ComplexDense | null, { values, rowSizes }: ReturnType<typeof expected>): number {
  if (found === null) return Number.POSITIVE_INFINITY
  expect(found.re.length).toBe(values.length)
  return Math.max(
    ...values.map((value, k) => {
      const off = size(minus(value, [found.re[k], found.im[k]]))
      return off / rowSizes[Math.floor(k / found.columns)]
    }),
  )
}

// The condition of these systems is some 1e3; each way refines, so a few ε of a row are left, and as many of the closed form.
const refined = 1e-14
// Partial fractions are refined in twice the precision: what is left is rounding of the last sums.
const inFractions = 3e-15

describe.each(shapes)('a response of %i inputs and %i outputs with delays %j', (inputs, outputs, seconds) => {
  const d = seconds.length
  const { system } = known(inputs + d, outputs + d, seconds)
  const balanced = balancedSystem(system)

  it('is right from partial fractions, within the bound that is promised', () => {
    const modal = modalKernel(balanced)
    for (const s of places)
      expect(worst(modal?.at(...s) ?? null, expected(inputs, outputs, seconds, s))).toBeLessThan(inFractions)
  })

  it('is right by solving for the states', () => {
    const solved = solvedResponse(balanced)
    for (const s of places) expect(worst(solved.at(...s), expected(inputs, outputs, seconds, s))).toBeLessThan(refined)
  })

  it('comes with a bound on its error that holds, and is not far above it', () => {
    const solved = solvedResponse(balanced)
    for (const s of places) {
      const found = solved.boundedAt(...s)
      const wanted = expected(inputs, outputs, seconds, s)
      wanted.values.forEach((value, k) => {
        const off = size(minus(value, [found?.value.re[k] as number, found?.value.im[k] as number]))
        const bound = found?.bound[k] as number
        // the closed form itself is known to some ε
        expect(off).toBeLessThanOrEqual(bound + 16 * Number.EPSILON * wanted.rowSizes[Math.floor(k / inputs)])
        expect(bound).toBeLessThan(1e-9 * wanted.rowSizes[Math.floor(k / inputs)])
        expect(bound).toBeGreaterThan(0)
      })
    }
  })

  it('is the same along many points, entry by entry, from both', () => {
    const points = { re: Float64Array.from(places, ([re]) => re), im: Float64Array.from(places, ([, im]) => im) }
    const entries = Array.from({ length: inputs * outputs }, (_, k) => k)
    for (const many of [Number.POSITIVE_INFINITY, 1]) {
      const into = { re: new Float64Array(entries.length * 7), im: new Float64Array(entries.length * 7) }
      expect(responseKernel(system, many).along(points, entries, outputs, into)).toEqual([])
      places.forEach((s, k) => {
        const { values, rowSizes } = expected(inputs, outputs, seconds, s)
        values.forEach((value, entry) => {
          const off = size(minus(value, [into.re[entry * 7 + k], into.im[entry * 7 + k]]))
          expect(off).toBeLessThan(refined * rowSizes[Math.floor(entry / inputs)])
        })
      })
    }
  })
})

describe('a response kernel', () => {
  it('gives the transfer between delays with all of them cut', () => {
    const seconds = [0.3, 0.05]
    const { system, at } = known(3, 4, seconds)
    for (const points of [Number.POSITIVE_INFINITY, 1]) {
      const kernel = responseKernel(system, points)
      for (const s of places) {
        const open = at(s)
        const found = kernel.between(...s)
        expect([found?.rows, found?.columns]).toEqual([2, 2])
        for (const [i, j] of [
          [0, 0],
          [0, 1],
          [1, 0],
          [1, 1],
        ]) {
          // biome-ignore format: pairs
          const value = open[2 + i][1 + j]
          const row = Math.max(size(open[2 + i][1]), size(open[2 + i][2]))
          const k = 2 * i + j
          expect(size(minus(value, [found?.re[k] as number, found?.im[k] as number]))).toBeLessThan(refined * row)
        }
      }
    }
  })

  it('knows its poles', () => {
    const { system, poles } = known(1, 1)
    for (const points of [Number.POSITIVE_INFINITY, 1]) {
      const found = responseKernel(system, points).poles()
      const list = Array.from(found?.re ?? [], (re, k) => [re, found?.im[k] as number] as const)
      for (const pole of poles) expect(Math.min(...list.map((other) => size(minus(other, pole))))).toBeLessThan(1e-12)
    }
  })

  it('has no value on a pole, whichever way it takes', () => {
    // 1/(s + 1) and beside it 1/s
    const system = { A: dense([[-1, 0], [0, 0]]), B: dense([[1], [1]]), C: dense([[1, 1]]), D: dense([[0]]), seconds: [] } // biome-ignore format: one line
    for (const points of [Number.POSITIVE_INFINITY, 1]) {
      expect(responseKernel(system, points).at(0, 0)).toBeNull()
      expect(responseKernel(system, points).boundedAt(0, 0)).toBeNull()
      const into = { re: new Float64Array(2), im: new Float64Array(2) }
      const along = { re: Float64Array.of(0, 1), im: new Float64Array(2) }
      expect(responseKernel(system, points).along(along, [0], 1, into)).toEqual([0])
      expect(into.re[1]).toBeCloseTo(1.5, 14)
    }
  })

  it('may be off by what does not matter where its caller says so', () => {
    const { system } = known(1, 1)
    const kernel = responseKernel(system)
    const [all] = expected(1, 1, [], [0, 5]).values
    for (const [least, share] of [
      [0, 1e-4],
      [1e-3, 1e-11],
      [1e3, 1e-11],
    ]) {
      // biome-ignore format: pairs
      const found = kernel.at(0, 5, least, share)
      const off = size(minus(all, [found?.re[0] as number, found?.im[0] as number]))
      expect(off).toBeLessThan(Math.max(least, share))
    }
  })
})

describe('partial fractions', () => {
  it('have the poles of the system, to far beyond the last digit', () => {
    const { system, poles } = known(1, 1)
    const form = modalForm(balancedSystem(system))
    if (form === null) throw new Error('no modal form')
    poles.forEach((pole) => {
      const off = Array.from(form.lambda.re, (re, k) => size([re - pole[0] + form.rest.re[k], form.lambda.im[k] - pole[1] + form.rest.im[k]])) // biome-ignore format: one line
      // ε² of the size of the matrix
      expect(Math.min(...off)).toBeLessThan(1e-28)
    })
    // Real poles stay real.
    form.lambda.im.forEach((im, k) => {
      if (im === 0) expect(form.rest.im[k]).toBe(0)
    })
  })

  it('have the residues of the system', () => {
    const { system } = known(1, 1)
    const form = modalForm(balancedSystem(system))
    if (form === null) throw new Error('no modal form')
    // (s − λ) G(s) close to each pole, from the closed form
    form.lambda.re.forEach((re, k) => {
      const step: Number2 = [1e-7, 0]
      const pole: Number2 = [re, form.lambda.im[k]]
      const near = known(1, 1).at(plus(pole, step))[0][0]
      const residue = times([form.c.re[k], form.c.im[k]], [form.b.re[k], form.b.im[k]])
      expect(size(minus(times(near, step), residue))).toBeLessThan(1e-5)
    })
  })

  it('do not see the unit of time', () => {
    const unit = 2 ** 40
    const { system } = known(1, 1, [], unit)
    const modal = modalKernel(balancedSystem(system))
    for (const [re, im] of places) {
      const s: Number2 = [re * unit, im * unit]
      expect(worst(modal?.at(...s) ?? null, expected(1, 1, [], s, unit))).toBeLessThan(inFractions)
    }
  })
})

describe('partial fractions that are withheld', () => {
  // 1e-3/((s + 1)(s + 1.001)): residues of 1 that cancel to three digits
  const near = balancedSystem({ A: dense([[-1, 0], [1, -1.001]]), B: dense([[1e-3], [0]]), C: dense([[0, 1]]), D: dense([[0]]), seconds: [] }) // biome-ignore format: one line

  it('are given to a caller whom a share of them will do where they are small beside 1', () => {
    const modal = modalKernel(near)
    expect(modal?.at(0, 0.1)).toBeNull()
    // by hand, to a share of 1e-4
    const found = modal?.at(0, 0.1, 0, 1e-4)
    const truth = over([1e-3, 0], times([1, 0.1], [1.001, 0.1]))
    expect(size(minus(truth, [found?.re[0] as number, found?.im[0] as number]))).toBeLessThan(1e-7)
    // or who asks for no more than that they are below 0.01
    expect(modal?.at(0, 0.1, 0.01)).not.toBeNull()
    expect(modal?.at(0, 0.1, 1e-4)).toBeNull()
  })

  it('time and again are tried at every eighth place only, until they are right', () => {
    const { system } = known(1, 1)
    const modal = modalKernel(balancedSystem(system))
    expect(Array.from({ length: 9 }, () => modal?.at(-1, 0))).toEqual(new Array(9).fill(null))
    const after = Array.from({ length: 20 }, (_, k) => modal?.at(0, k) !== null)
    const first = after.indexOf(true)
    expect(first).toBeGreaterThan(0)
    expect(first).toBeLessThan(8)
    expect(after.slice(first).every((given) => given)).toBe(true)
  })
})

it('the form of a mode that nothing drives is that of the others', () => {
  const idle = { A: dense([[-1, 0], [0, -2]]), B: dense([[3], [0]]), C: dense([[1, 5]]), D: dense([[0]]), seconds: [] } // biome-ignore format: one line
  expect(modalKernel(idle)?.at(0, 0)?.re[0]).toBeCloseTo(3, 14)
})

it('the product of complex numbers', () => {
  // (1 + 2j)(3 + 4j) = −5 + 10j, by hand
  expect(complexTimes({ re: 1, im: 2 }, { re: 3, im: 4 })).toEqual({ re: -5, im: 10 })
})

describe('a refined solution', () => {
  const solved = (rows: Number2[][], right: Number2[]) => {
    const [M, rhs] = [complexFrom(rows), complexFrom(right.map((value) => [value]))]
    const x = complexFrom(right.map(() => [[0, 0]]))
    const correction = complexFrom(right.map(() => [[0, 0]]))
    return refinedSolve(M, rhs, luSpace(M.rows), x, correction) ? x : null
  }

  it('has the digits that elimination with a pivot small for its row has lost', () => {
    // (1 + 2j)·[1e10 1e20; 1 1] x = (1 + 2j)·[1e20 j + 1e10; 1 + j], x = (1, j), by hand; elimination alone leaves 1e-6
    const turn: Number2 = [1, 2]
    const real = (value: number): Number2 => times(turn, [value, 0])
    const found = solved([[real(1e10), real(1e20)], [real(1), real(1)]], [times(turn, [1e10, 1e20]), times(turn, [1, 1])]) // biome-ignore format: one line
    expect(size(minus([found?.re[0] as number, found?.im[0] as number], [1, 0]))).toBeLessThan(1e-9)
    expect(size(minus([found?.re[1] as number, found?.im[1] as number], [0, 1]))).toBeLessThan(1e-15)
  })

  it('is none where it moves by half of itself, or the matrix is singular', () => {
    expect(solved([[[1e10, 0], [1e30, 0]], [[1, 0], [1, 0]]], [[1e30, 0], [2, 0]])).toBeNull() // biome-ignore format: one line
    expect(solved([[[1, 1], [1, 1]], [[1, 1], [1, 1]]], [[1, 0], [2, 0]])).toBeNull() // biome-ignore format: one line
    expect(solved([[[0, 2]]], [[4, 0]])?.im[0]).toBe(-2)
  })
})

it('eigenvectors have length 1 and are turned by the matrix into multiples of themselves', () => {
  const { A } = known(1, 1).system
  const lambda = { re: Float64Array.of(-1, -3, -2, -2, -10), im: Float64Array.of(0, 0, 5, -5, 0) }
  const V = eigenvectors(A, lambda)
  for (let k = 0; k < 5; k++) {
    const x = Array.from({ length: 5 }, (_, i): Number2 => [V.re[i * 5 + k], V.im[i * 5 + k]])
    expect(Math.hypot(...x.map(size))).toBeCloseTo(1, 14)
    for (let i = 0; i < 5; i++) {
      const product = x.reduce<Number2>((sum, value, j) => plus(sum, times([A.data[i * 5 + j], 0], value)), [0, 0])
      expect(size(minus(product, times([lambda.re[k], lambda.im[k]], x[i])))).toBeLessThan(1e-12)
    }
    if (lambda.im[k] === 0) expect(x.every(([, im]) => im === 0)).toBe(true)
  }
  for (let i = 0; i < 5; i++) expect([V.re[i * 5 + 3], V.im[i * 5 + 3]]).toEqual([V.re[i * 5 + 2], -V.im[i * 5 + 2]])
})

describe('a response from mass, damping and stiffness', () => {
  // Two masses in a row, read at both, by displacement, velocity and acceleration at once: by hand,
  // Z = K + s C + s² M, q = Z⁻¹ F, y = (R₀ + s R₁ + s² R₂) q
  const system = {
    mass: dense([[2, 0], [0, 3]]),
    damping: dense([[1.5, -0.5], [-0.5, 0.7]]),
    stiffness: dense([[50, -20], [-20, 30]]),
    forces: dense([[1, 0], [2, -1]]),
    displacements: dense([[1, 0], [0, 4], [0, 0]]),
    velocities: dense([[0, 3], [0, 0], [0, 0]]),
    accelerations: dense([[0, 0], [2, 0], [0, 5]]),
  } // biome-ignore format: matrices
  const truth = (s: Number2): Number2[][] => {
    const s2 = times(s, s)
    const poly = (k: number, c: number, m: number) => plus(plus([k, 0], times(s, [c, 0])), times(s2, [m, 0]))
    const [a, b, d] = [poly(50, 1.5, 2), poly(-20, -0.5, 0), poly(30, 0.7, 3)]
    const det = minus(times(a, d), times(b, b))
    const q = (f: number, g: number): [Number2, Number2] => [
      over(minus(times(d, [f, 0]), times(b, [g, 0])), det),
      over(minus(times(a, [g, 0]), times(b, [f, 0])), det),
    ]
    const [first, second] = [q(1, 2), q(0, -1)]
    const read = ([x, y]: [Number2, Number2]): Number2[] => [
      plus(x, times(times(s, [3, 0]), y)),
      plus(times([4, 0], y), times(times(s2, [2, 0]), x)),
      times(times(s2, [5, 0]), y),
    ]
    const columns = [read(first), read(second)]
    return [0, 1, 2].map((o) => columns.map((column) => column[o]))
  }

  it.each(places.slice(1))('is (R₀ + s R₁ + s² R₂)(K + s C + s² M)⁻¹ F at %d + %dj', (...s) => {
    const kernel = dynamicStiffnessKernel(system)
    const wanted = truth(s).flat()
    const bounded = kernel.boundedAt(...s)
    const [into, points] = [
      { re: new Float64Array(6), im: new Float64Array(6) },
      { re: Float64Array.of(s[0]), im: Float64Array.of(s[1]) },
    ]
    expect(dynamicStiffnessKernel(system).along(points, [0, 1, 2, 3, 4, 5], 3, into)).toEqual([])
    wanted.forEach((value, k) => {
      const found = kernel.at(...s)
      expect([found?.rows, found?.columns]).toEqual([3, 2])
      const off = size(minus(value, [found?.re[k] as number, found?.im[k] as number]))
      expect(off).toBeLessThan(1e-14 * size(value) + 1e-17)
      expect(off).toBeLessThanOrEqual((bounded?.bound[k] as number) + 8 * Number.EPSILON * size(value))
      expect(bounded?.bound[k] as number).toBeLessThan(1e-12 * size(value) + 1e-14)
      expect(bounded?.bound[k] as number).toBeGreaterThan(Number.EPSILON * size(value))
      expect([into.re[k], into.im[k]]).toEqual([found?.re[k], found?.im[k]])
    })
  })
})

describe('the bound of partial fractions holds', () => {
  /** Π 1/(s + p) from its definition, and as a chain of lags that drive each other. */
  const chain = (poles: number[]) => {
    const n = poles.length
    const A = dense(poles.map((p, i) => poles.map((_, j) => (i === j ? -p : i === j + 1 ? 1 : 0))))
    const system = { A, B: dense(poles.map((_, i) => [i === 0 ? 1 : 0])), C: dense([poles.map((_, i) => (i === n - 1 ? 1 : 0))]), D: dense([[0]]), seconds: [] } // biome-ignore format: one line
    const at = (s: Number2) => poles.reduce<Number2>((product, p) => over(product, plus(s, [p, 0])), [1, 0])
    return { system, at }
  }

  it.each([
    [2, 0.1],
    [2, 1e-4],
    [3, 0.3],
    [3, 1e-2],
    [4, 0.5],
    [4, 0.1],
    [6, 1],
  ])('for %i poles that lie %d apart, where residues cancel', (n, apart) => {
    const { system, at } = chain(Array.from({ length: n }, (_, k) => 1 + k * apart))
    const balanced = balancedSystem(system)
    const form = modalForm(balanced)
    if (form === null) throw new Error('no modal form')
    const fractions = partialFractions(form, balanced.D)
    for (const s of places) {
      const found = fractions.at(...s)
      const off = size(minus(at(s), [found?.value.re[0] as number, found?.value.im[0] as number]))
      const bound = found?.bound[0] as number
      expect(off).toBeLessThanOrEqual(bound + 2 * n * Number.EPSILON * size(at(s)))
      // Some thousand roundings of the largest residue at most, which is 1/apart^(n − 1)
      expect(bound).toBeLessThan(1e-12 / apart ** (n - 1))
      // Close by the same bound holds, four times as wide, and no further than half of the way to the nearest pole.
      const near: Number2 = [s[0] + 0.01, s[1]]
      const beside = fractions.nearby(...near)
      expect(beside?.bound[0]).toBeCloseTo(4 * bound, 20)
      expect(size(minus(at(near), [beside?.value.re[0] as number, beside?.value.im[0] as number]))).toBeLessThanOrEqual(
        4 * bound + 2 * n * Number.EPSILON * size(at(near)),
      )
      expect(fractions.nearby(s[0] + 0.49 * size(plus(s, [1, 0])), s[1])).not.toBeNull()
      expect(fractions.nearby(s[0] + 0.51 * size(plus(s, [1 + (n - 1) * apart, 0])), s[1])).toBeNull()
    }
  })

  it('not right at a pole', () => {
    const { system } = chain([1, 2])
    const form = modalForm(system)
    if (form === null) throw new Error('no modal form')
    const fractions = partialFractions(form, system.D)
    expect([fractions.at(-1, 0), fractions.boundAt(-2, 0), fractions.nearby(-2, 0)]).toEqual([null, null, null])
    // 1/(2⁻³⁰ (1 + 2⁻³⁰))
    expect((fractions.at(-1 + 2 ** -30, 0)?.value.re[0] as number) / (2 ** 30 - 1)).toBeCloseTo(1, 13)
  })
})
