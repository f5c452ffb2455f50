import { type Dense, multiply, rowTimes, times, transpose } from './dense.js'
import { lyapunov } from './lyapunov.js'
import { matrixExponential } from './matrix-exponential.js'
import { bracketedRoot, localMinimum } from './scalar-search.js'

/** Multiplications after which the search gives up, some ten seconds of them. */
const mostWork = 5e9
/** Each doubling of the exponential may double its error: after 40 of them an exit is right to about six digits. */
const mostDoublings = 40
/** Share of the largest entry of a Gramian that rounding may have changed. */
const gramianNoise = 1e-12
/** Terms of the exponential series of a matrix of norm 1 that reach the rounding unit. */
const seriesTerms = 20

/** Last time at which e(t) = C e^(At) x leaves the band low < 0 < high; 0 where it never does; otherwise why there is no answer.
 *
 * With P the observability Gramian, ‖e‖² from t on is x(t)ᵀ P x(t), and that of e' the same of A x(t). What follows is
 * bounded by |e|² ≤ 2 ‖e‖ ‖e'‖ and, since C P⁻¹ Cᵀ = −2 tr A for an observable pair, by |e|² ≤ −2 tr A ‖e‖². Time is halved
 * down to steps of 1/‖A‖; an interval is left out where the bound on e, e' or e'' proves that it holds no exit.
 * @param A - stable
 * @param C - one row */
export function lastExit(
  A: Dense,
  C: Dense,
  x: Float64Array,
  low: number,
  high: number,
): number | 'ill-conditioned' | 'no-convergence' {
  const tails = tailBounds(A, C)
  if (tails === null) return 'ill-conditioned'
  const shortest = 1 / (rowNorm(A) || 1)
  // No power of a matrix of norm 1 overflows.
  const first = matrixExponential(times(A, shortest)) as Dense
  const search: Search = { A, C, low, high, tails, shortest, steps: [first], work: 0 }
  let end = product(first, x)
  while (!(tails(end, 1)[0] <= Math.min(-low, high))) {
    if (search.steps.length > mostDoublings) return 'no-convergence'
    const step = search.steps[search.steps.length - 1]
    const twice = multiply(step, step)
    search.steps.push(twice)
    end = product(twice, x)
  }
  const found = exitWithin(search, { time: 0, x }, end, search.steps.length - 1)
  return search.work > mostWork ? 'no-convergence' : (found ?? 0)
}

/** Bounds on the first `count` of e, e' and e'' from a state on. */
type TailBounds = (x: Float64Array, count: number) => number[]

interface Search {
  readonly A: Dense
  readonly C: Dense
  readonly low: number
  readonly high: number
  readonly tails: TailBounds
  /** [s] */
  readonly shortest: number
  /** Exponentials of the shortest step, twice, four times, … */
  readonly steps: Dense[]
  work: number
}

interface Place {
  readonly time: number
  readonly x: Float64Array
}

function tailBounds(A: Dense, C: Dense): TailBounds | null {
  const P = lyapunov(transpose(A), multiply(transpose(C), C))
  if (P === null) return null
  const noise = gramianNoise * rowNorm(P)
  let trace = 0
  for (let k = 0; k < A.rows; k++) trace += A.data[k * A.rows + k]
  const energy = (x: Float64Array) => Math.max(dot(x, product(P, x)), 0) + noise * dot(x, x)
  return (x, count) => {
    let derivative = x
    let now = energy(x)
    return Array.from({ length: count }, () => {
      derivative = product(A, derivative)
      const next = energy(derivative)
      const bound = Math.sqrt(Math.min(-2 * trace * now, 2 * Math.sqrt(now) * Math.sqrt(next)))
      now = next
      return bound
    })
  }
}

/** The last exit in the interval of 2^level shortest steps from `from` to the state `end`, which is inside the band. */
function exitWithin(search: Search, from: Place, end: Float64Array, level: number): number | null {
  search.work += 8 * search.A.rows ** 2
  if (search.work > mostWork || provedInside(search, from.x, end, search.shortest * 2 ** level)) return null
  if (level === 0) return exitOfShortest(search, from)
  const x = product(search.steps[level - 1], from.x)
  const middle = { time: from.time + search.shortest * 2 ** (level - 1), x }
  return exitWithin(search, middle, end, level - 1) ?? exitWithin(search, from, x, level - 1)
}

function provedInside({ C, low, high, tails }: Search, x: Float64Array, end: Float64Array, length: number): boolean {
  const [a, b] = [dot(C.data, x), dot(C.data, end)]
  const [most, slope, bend] = tails(x, 3)
  if (most <= Math.min(-low, high)) return true
  const room = Math.min(high - Math.max(a, b), Math.min(a, b) - low)
  return room >= Math.min((length * slope) / 2, (length * length * bend) / 8)
}

/** The last exit within one shortest step, over which the exponential series converges at once. */
function exitOfShortest({ A, C, low, high, shortest }: Search, from: Place): number | null {
  const coefficients = [dot(C.data, from.x)]
  let term = from.x
  for (let k = 1; k < seriesTerms; k++) {
    term = product(A, term).map((value) => (value * shortest) / k)
    coefficients.push(dot(C.data, term))
  }
  const room = (share: number): number => {
    const e = coefficients.reduceRight((sum, value) => sum * share + value, 0)
    return Math.min(high - e, e - low)
  }
  const start = room(0) < 0 ? { x: 0, value: room(0) } : localMinimum(room, 0, 1)
  if (!(start.value < 0)) return null
  return from.time + shortest * bracketedRoot(room, start.x, 1)
}

function product(M: Dense, x: Float64Array): Float64Array {
  const result = new Float64Array(M.rows)
  for (let i = 0; i < M.rows; i++) result[i] = rowTimes(M, i, x, 0)
  return result
}

function dot(a: Float64Array, b: Float64Array): number {
  let value = 0
  for (let k = 0; k < a.length; k++) value += a[k] * b[k]
  return value
}

/** Largest sum of moduli over a row. */
function rowNorm({ rows, columns, data }: Dense): number {
  let most = 0
  for (let i = 0; i < rows; i++) {
    let sum = 0
    for (let j = 0; j < columns; j++) sum += Math.abs(data[i * columns + j])
    most = Math.max(most, sum)
  }
  return most
}
