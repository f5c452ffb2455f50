import { type Dense, multiply, rowTimes, sum } from './dense.js'

/** x[k+1] = A x[k] + now u[k] + next u[k+1], y[k] = C x[k] + D u[k] */
export interface Recurrence {
  readonly A: Dense
  readonly now: Dense
  readonly next: Dense | null
  readonly C: Dense
  readonly D: Dense
  /** A to a power, closer than products of A, whose rounding adds up; null where it overflows. @defaultValue by products */
  readonly power?: (exponent: number) => Dense | null
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
  const start = table === null ? 0 : runBlocks(table, step, samples, count, state, outputs)
  runSteps(step, samples, start, count, state, outputs)
  return outputs
}

/** A power of two about where the sum of n²/L for the state and L p m/2 for inputs within the block is least. */
function blockLength({ A, C, D }: Recurrence): number {
  const best = A.rows * Math.sqrt(2 / (C.rows * D.columns))
  return best > 1 && best < Number.POSITIVE_INFINITY ? 2 ** Math.min(6, Math.round(Math.log2(best))) : 1
}

/** Rows of outputs (sample slowest) and of the state at the end, over the state at the start and the inputs since: four
 * rows side by side, so that their sums do not wait for each other. */
interface BlockTable {
  readonly length: number
  readonly columns: number
  readonly data: Float64Array
}

/** Null where a power of A overflows, though the response may not. */
function blockTable({ A, now, next, C, D, power }: Recurrence, length: number): BlockTable | null {
  const [n, p, m] = [A.rows, C.rows, D.columns]
  const columns = n + (length + 1) * m
  const data = new Float64Array(4 * columns * Math.ceil((length * p + n) / 4))
  const put = (source: Dense, row: number, column: number) => {
    for (let i = 0; i < source.rows; i++) {
      const start = ((row + i) >> 2) * columns
      for (let j = 0; j < source.columns; j++) {
        data[4 * (start + column + j) + ((row + i) & 3)] += source.data[i * source.columns + j]
      }
    }
  }
  const putInput = (source: Dense, row: number, sample: number) => put(source, row, n + sample * m)
  // C A^j, and A^j times what an input adds to the state one sample on: the first of a block has done part of it already.
  let seen = C
  let first = now
  let later = next === null ? now : sum(now, multiply(A, next))
  const [firstStep, laterStep] = [first, later]
  for (let j = 0; j < length; j++) {
    put(seen, j * p, 0)
    putInput(D, j * p, j)
    if (next !== null && j > 0) putInput(multiply(C, next), j * p, j)
    const [firstSeen, laterSeen] = [multiply(seen, firstStep), multiply(seen, laterStep)]
    for (let k = j + 1; k < length; k++) putInput(k === j + 1 ? firstSeen : laterSeen, k * p, k - j - 1)
    putInput(j === length - 1 ? first : later, length * p, length - 1 - j)
    seen = multiply(seen, A)
    first = multiply(A, first)
    later = multiply(A, later)
  }
  const across = power === undefined ? powerOfTwo(A, length) : power(length)
  if (across === null) return null
  put(across, length * p, 0)
  if (next !== null) putInput(next, length * p, length)
  return data.every(Number.isFinite) ? { length, columns, data } : null
}

function powerOfTwo(A: Dense, exponent: number): Dense {
  let power = A
  for (let done = 1; done < exponent; done *= 2) power = multiply(power, power)
  return power
}

/** Runs all full blocks that leave a sample for the state to end at; returns how many samples that is. */
function runBlocks(
  { length, columns, data }: BlockTable,
  { A, C, D }: Recurrence,
  samples: Float64Array,
  count: number,
  state: Float64Array,
  outputs: readonly Float64Array[],
): number {
  const [n, p, m] = [A.rows, C.rows, D.columns]
  const known = new Float64Array(columns)
  known.set(state)
  const found = new Float64Array(data.length / columns)
  let start = 0
  for (; start + length < count; start += length) {
    for (let k = n, from = start * m; k < columns; k++, from++) known[k] = samples[from]
    for (let row = 0; row < found.length; row += 4) {
      // An output knows no input after it; the state at the end knows them all.
      const sample = Math.floor((row + 3) / p)
      fourRows(data, row * columns, sample < length ? n + (sample + 1) * m : columns, known, found, row)
    }
    for (let o = 0; o < p; o++) {
      const output = outputs[o]
      for (let j = 0; j < length; j++) output[start + j] = found[j * p + o]
    }
    for (let i = 0; i < n; i++) known[i] = found[length * p + i]
  }
  state.set(known.subarray(0, n))
  return start
}

/** Four rows that stand side by side times the first entries of x. */
function fourRows(
  data: Float64Array,
  from: number,
  count: number,
  x: Float64Array,
  found: Float64Array,
  row: number,
): void {
  let [a, b, c, d] = [0, 0, 0, 0]
  for (let k = 0, at = from; k < count; k++, at += 4) {
    const factor = x[k]
    a += data[at] * factor
    b += data[at + 1] * factor
    c += data[at + 2] * factor
    d += data[at + 3] * factor
  }
  found[row] = a
  found[row + 1] = b
  found[row + 2] = c
  found[row + 3] = d
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
