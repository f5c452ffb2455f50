import { complexZeros } from '../../../src/linear/complex-lu.js'
import type { DelayedSystem } from '../../../src/linear/delayed-solve.js'
import { type Dense, denseFrom, identity, multiply } from '../../../src/linear/dense.js'

export type Number2 = readonly [number, number]
export const plus = ([a, b]: Number2, [c, d]: Number2): Number2 => [a + c, b + d]
export const minus = ([a, b]: Number2, [c, d]: Number2): Number2 => [a - c, b - d]
export const times = ([a, b]: Number2, [c, d]: Number2): Number2 => [a * c - b * d, a * d + b * c]
export const over = (x: Number2, [c, d]: Number2): Number2 => {
  const [a, b] = times(x, [c, -d])
  return [a / (c * c + d * d), b / (c * c + d * d)]
}
export const exponential = ([a, b]: Number2): Number2 => [Math.exp(a) * Math.cos(b), Math.exp(a) * Math.sin(b)]
export const size = ([a, b]: Number2) => Math.hypot(a, b)

export const dense = (rows: number[][]): Dense => denseFrom(rows, rows[0]?.length ?? 0)
export const complexFrom = (rows: Number2[][]) => {
  const M = complexZeros(rows.length, rows[0].length)
  rows.flat().forEach(([re, im], k) => {
    M.re[k] = re
    M.im[k] = im
  })
  return M
}
/** Entries that look random and repeat: fractional parts of multiples of the golden ratio, less a half. */
export const scattered = (rows: number, columns: number, seed: number): Dense =>
  dense(
    Array.from({ length: rows }, (_, i) =>
      Array.from({ length: columns }, (_, j) => (((seed + 7 * i + 3 * j + i * j) * 0.6180339887498949) % 1) - 0.5),
    ),
  )

/** A whole matrix with a whole inverse, and that inverse: products of lower and upper triangles with ones on the diagonal. */
function turned(n: number): [Dense, Dense] {
  const lower = (k: number) => (k % 3) - 1
  const upper = (k: number) => ((k * k) % 3) - 1
  const L = dense(Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? 1 : i > j ? lower(i + 2 * j) : 0)))) // biome-ignore format: one line
  const U = dense(Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? 1 : i < j ? upper(i + j) : 0)))) // biome-ignore format: one line
  return [multiply(L, U), multiply(inverseOfTriangle(U, n), inverseOfTriangle(L, n))]
}

/** (I + N)⁻¹ = I − N + N² − …, exact in whole numbers. */
function inverseOfTriangle(T: Dense, n: number): Dense {
  const minusN = { ...T, data: T.data.map((value, k) => (k % (n + 1) === 0 ? 0 : -value)) }
  let [power, total] = [identity(n), identity(n)]
  for (let k = 1; k < n; k++) {
    power = multiply(power, minusN)
    total = { ...total, data: total.data.map((value, p) => value + power.data[p]) }
  }
  return total
}

export interface Known {
  readonly system: DelayedSystem
  readonly poles: readonly Number2[]
  /** The open response at s, [output][input], from its partial fractions */
  readonly at: (s: Number2) => Number2[][]
}

/** A system of whole entries whose poles are −1, −3, −2 ± 5j and −10 (times a unit), in coordinates that couple all states. */
export function known(inputs: number, outputs: number, seconds: readonly number[] = [], unit = 1): Known {
  const n = 5
  const block = dense([
    [-1, 0, 0, 0, 0],
    [0, -3, 0, 0, 0],
    [0, 0, -2, 5, 0],
    [0, 0, -5, -2, 0],
    [0, 0, 0, 0, -10],
  ])
  const [T, back] = turned(n)
  const whole = (rows: number, columns: number, seed: number) =>
    dense(Array.from({ length: rows }, (_, i) => Array.from({ length: columns }, (_, j) => ((seed * (i + 1) + 3 * j * (i + 2)) % 7) - 3))) // biome-ignore format: one line
  const [b, c, D] = [whole(n, inputs, 5), whole(outputs, n, 2), whole(outputs, inputs, 4)]
  const A = multiply(multiply(T, block), back)
  const scaled = { ...A, data: A.data.map((value) => value * unit) }
  const system = { A: scaled, B: multiply(T, b), C: multiply(c, back), D, seconds }
  const at = (s: Number2): Number2[][] => {
    const far = (re: number): Number2 => over([1, 0], minus(s, [re * unit, 0]))
    const shift = minus(s, [-2 * unit, 0])
    const square = plus(times(shift, shift), [25 * unit * unit, 0])
    const [own, cross] = [over(shift, square), over([5 * unit, 0], square)]
    const none: Number2 = [0, 0]
    const resolvent = [
      [far(-1), none, none, none, none],
      [none, far(-3), none, none, none],
      [none, none, own, cross, none],
      [none, none, [-cross[0], -cross[1]] as Number2, own, none],
      [none, none, none, none, far(-10)],
    ]
    return Array.from({ length: outputs }, (_, o) =>
      Array.from({ length: inputs }, (_, i) =>
        resolvent.reduce<Number2>(
          (total, row, j) =>
            row.reduce(
              (sum, value, k) => plus(sum, times(value, [c.data[o * n + j] * b.data[k * inputs + i], 0])),
              total,
            ),
          [D.data[o * inputs + i], 0],
        ),
      ),
    )
  }
  return { system, poles: [[-1, 0], [-3, 0], [-2, 5], [-2, -5], [-10, 0]].map(([re, im]) => [re * unit, im * unit]), at } // biome-ignore format: one line
}

/** One or two delays closed around an open response of one more output and input each, from the definition:
 * M₁₁ + M₁₂ (e^(sτ) − M₂₂)⁻¹ M₂₁ with the inverse of a 2 × 2 matrix by its adjugate. */
export function closedBy(M: Number2[][], seconds: readonly number[], s: Number2): Number2[][] {
  const d = seconds.length
  const [p, m] = [M.length - d, M[0].length - d]
  const grown = seconds.map((tau) => exponential([s[0] * tau, s[1] * tau]))
  const N = grown.map((growth, i) => grown.map((_, j) => minus(i === j ? growth : [0, 0], M[p + i][m + j])))
  const det = d === 1 ? N[0][0] : minus(times(N[0][0], N[1][1]), times(N[0][1], N[1][0]))
  const negative = ([re, im]: Number2): Number2 => [-re, -im]
  const adjugate: Number2[][] = d === 1 ? [[[1, 0]]] : [[N[1][1], negative(N[0][1])], [negative(N[1][0]), N[0][0]]] // biome-ignore format: one line
  return Array.from({ length: p }, (_, o) =>
    Array.from({ length: m }, (_, i) => {
      let total = M[o][i]
      for (let k = 0; k < d; k++) {
        for (let l = 0; l < d; l++) {
          total = plus(total, over(times(times(M[o][m + k], adjugate[k][l]), M[p + l][i]), det))
        }
      }
      return total
    }),
  )
}
