import { type Dense, multiply, rowTimes, sum, zeros } from './dense.js'

/** x[k+1] = A x[k] + now u[k] + next u[k+1], y[k] = C x[k] + D u[k] */
export interface Recurrence {
  readonly A: Dense
  readonly now: Dense
  readonly next: Dense | null
  readonly C: Dense
  readonly D: Dense
}

/** Outputs, one list each, from samples (inputs fastest); the state array ends as the state at the last sample.
 *
 * Steps are taken in blocks of about as many as there are states: outputs from the state at the start of the block and the
 * inputs since, the state once per block, so that a step costs O(n) and not O(n²).
 */
export function runRecurrence(
  step: Recurrence,
  samples: Float64Array,
  count: number,
  state: Float64Array,
): Float64Array[] {
  const outputs = Array.from({ length: step.C.rows }, () => new Float64Array(count))
  const length = blockLength(step)
  // The tables cost about as much as this many single steps.
  const worth = count > 8 * (step.A.rows + length)
  const table = worth && length > 1 ? blockTable(step, length) : null
  const start = table === null ? 0 : runBlocks(table, step.D.columns, samples, count, state, outputs)
  runSteps(step, samples, start, count, state, outputs)
  return outputs
}

/** A power of two about where the sum of n²/L for the state and L p m/2 for inputs within the block is least. */
function blockLength({ A, C, D }: Recurrence): number {
  const best = A.rows * Math.sqrt(2 / (C.rows * D.columns))
  return best > 1 && best < Number.POSITIVE_INFINITY ? 2 ** Math.min(6, Math.round(Math.log2(best))) : 1
}

/** Rows of outputs (sample slowest) and of the state at the end, over the state at the start and over the inputs since. */
interface BlockTable {
  readonly length: number
  readonly ofState: Dense
  readonly ofInputs: Dense
}

/** Null where a power of A overflows, though the response may not. */
function blockTable({ A, now, next, C, D }: Recurrence, length: number): BlockTable | null {
  const [n, p, m] = [A.rows, C.rows, D.columns]
  const ofState = zeros(length * p + n, n)
  const ofInputs = zeros(length * p + n, (length + 1) * m)
  const put = (source: Dense, target: Dense, row: number, column: number) => {
    for (let i = 0; i < source.rows; i++) {
      for (let j = 0; j < source.columns; j++) {
        target.data[(row + i) * target.columns + column + j] += source.data[i * source.columns + j]
      }
    }
  }
  // C A^j, and A^j times what an input adds to the state one sample on: the first of a block has done part of it already.
  let seen = C
  let first = now
  let later = next === null ? now : sum(now, multiply(A, next))
  const [firstStep, laterStep] = [first, later]
  for (let j = 0; j < length; j++) {
    put(seen, ofState, j * p, 0)
    put(D, ofInputs, j * p, j * m)
    if (next !== null && j > 0) put(multiply(C, next), ofInputs, j * p, j * m)
    const [firstSeen, laterSeen] = [multiply(seen, firstStep), multiply(seen, laterStep)]
    for (let k = j + 1; k < length; k++) put(k === j + 1 ? firstSeen : laterSeen, ofInputs, k * p, (k - j - 1) * m)
    put(j === length - 1 ? first : later, ofInputs, length * p, (length - 1 - j) * m)
    seen = multiply(seen, A)
    first = multiply(A, first)
    later = multiply(A, later)
  }
  let power = A
  for (let exponent = 1; exponent < length; exponent *= 2) power = multiply(power, power)
  put(power, ofState, length * p, 0)
  if (next !== null) put(next, ofInputs, length * p, length * m)
  const finite = ofState.data.every(Number.isFinite) && ofInputs.data.every(Number.isFinite)
  return finite ? { length, ofState, ofInputs } : null
}

/** Runs all full blocks that leave a sample for the state to end at; returns how many samples that is. */
function runBlocks(
  { length, ofState, ofInputs }: BlockTable,
  m: number,
  samples: Float64Array,
  count: number,
  state: Float64Array,
  outputs: readonly Float64Array[],
): number {
  const [n, p] = [state.length, outputs.length]
  const moved = new Float64Array(n)
  let start = 0
  for (; start + length < count; start += length) {
    for (let j = 0; j < length; j++) {
      for (let o = 0; o < p; o++) {
        const row = j * p + o
        outputs[o][start + j] = dot(ofState, row, n, state, 0) + dot(ofInputs, row, (j + 1) * m, samples, start * m)
      }
    }
    for (let i = 0; i < n; i++) {
      const row = length * p + i
      moved[i] = dot(ofState, row, n, state, 0) + dot(ofInputs, row, ofInputs.columns, samples, start * m)
    }
    state.set(moved)
  }
  return start
}

/** The first `count` entries of a row times those of x from `from` on; two sums, which do not wait for each other. */
function dot({ data, columns }: Dense, row: number, count: number, x: Float64Array, from: number): number {
  const at = row * columns
  let even = 0
  let odd = 0
  let k = 0
  for (; k + 1 < count; k += 2) {
    even += data[at + k] * x[from + k]
    odd += data[at + k + 1] * x[from + k + 1]
  }
  return k < count ? even + odd + data[at + k] * x[from + k] : even + odd
}

function runSteps(
  { A, now, next, C, D }: Recurrence,
  samples: Float64Array,
  start: number,
  count: number,
  state: Float64Array,
  outputs: readonly Float64Array[],
): void {
  const m = D.columns
  const moved = new Float64Array(A.rows)
  for (let k = start; k < count; k++) {
    if (k > start) {
      for (let i = 0; i < A.rows; i++) {
        moved[i] = rowTimes(A, i, state, 0) + rowTimes(now, i, samples, (k - 1) * m)
        if (next !== null) moved[i] += rowTimes(next, i, samples, k * m)
      }
      state.set(moved)
    }
    for (let o = 0; o < C.rows; o++) outputs[o][k] = rowTimes(C, o, state, 0) + rowTimes(D, o, samples, k * m)
  }
}
