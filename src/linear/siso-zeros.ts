import { type Dense, zeros } from './dense.js'
import { type Eigenvalues, eigenvalues } from './eigenvalues.js'

/** Finite zeros of c (s I − A)⁻¹ b + d; null where the eigenvalue iteration fails or the transfer is zero.
 *
 * While d vanishes, the output is held at zero: the state is turned so that y is one state alone, which leaves a system
 * of one order less whose output is that state's derivative.
 * @source A. Emami-Naeini, P. Van Dooren, Automatica 18 (1982) 415 (staircase reduction, single-channel case)
 */
export function sisoZeros(A: Dense, b: Float64Array, c: Float64Array, d: number): Eigenvalues | null {
  let state = { A, b, c, d }
  for (;;) {
    const n = state.A.rows
    const size = norm(state.c) * norm(state.b)
    if (Math.abs(state.d) > 1e-12 * Math.max(size / (frobenius(state.A) || 1), Math.abs(state.d))) break
    if (n === 0 || norm(state.c) === 0) return null
    state = heldOutput(state.A, state.b, state.c)
  }
  const n = state.A.rows
  const closed = zeros(n, n)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) closed.data[i * n + j] = state.A.data[i * n + j] - (state.b[i] * state.c[j]) / state.d
  }
  return eigenvalues(closed)
}

function heldOutput(A: Dense, b: Float64Array, c: Float64Array) {
  const n = A.rows
  const length = norm(c)
  const v = c.map((value) => value / length)
  v[0] += v[0] >= 0 ? 1 : -1
  const beta = 2 / v.reduce((sum, value) => sum + value * value, 0)
  const turned = reflectRows(reflectColumns(A, v, beta), v, beta)
  const input = b.slice()
  reflectVector(input, v, beta)
  const rest = zeros(n - 1, n - 1)
  for (let i = 1; i < n; i++) rest.data.set(turned.data.subarray(i * n + 1, (i + 1) * n), (i - 1) * (n - 1))
  return { A: rest, b: input.slice(1), c: turned.data.slice(1, n), d: input[0] }
}

function reflectColumns(A: Dense, v: Float64Array, beta: number): Dense {
  const result = { ...A, data: A.data.slice() }
  for (let i = 0; i < A.rows; i++) reflectVector(result.data.subarray(i * A.columns, (i + 1) * A.columns), v, beta)
  return result
}

function reflectRows(A: Dense, v: Float64Array, beta: number): Dense {
  const n = A.rows
  const result = { ...A, data: A.data.slice() }
  for (let j = 0; j < n; j++) {
    let sum = 0
    for (let i = 0; i < n; i++) sum += v[i] * result.data[i * n + j]
    for (let i = 0; i < n; i++) result.data[i * n + j] -= beta * sum * v[i]
  }
  return result
}

function reflectVector(x: Float64Array, v: Float64Array, beta: number): void {
  let sum = 0
  for (let i = 0; i < x.length; i++) sum += v[i] * x[i]
  for (let i = 0; i < x.length; i++) x[i] -= beta * sum * v[i]
}

function norm(x: Float64Array): number {
  return Math.hypot(...x)
}

function frobenius({ data }: Dense): number {
  return Math.sqrt(data.reduce((sum, value) => sum + value * value, 0))
}
