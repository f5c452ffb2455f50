import type { InternalDelays, StateSpace } from './types.js'

/** The same system reduced to what lies on a path of non-zero entries from the input to the output.
 *
 * What is left out cannot act on the channel whatever the numbers are, so a pole that only it has is not a pole of the
 * channel.
 */
export function relevantPart(system: StateSpace, input: number, output: number): StateSpace {
  const { A, B, C, D, delays } = system
  const n = A.length
  const d = delays?.seconds.length ?? 0
  const entry = (to: number, from: number): number => {
    if (delays === null || (to < n && from < n)) return A[to][from]
    if (to < n) return delays.B[to][from - n]
    return from < n ? delays.C[to - n][from] : delays.D22[to - n][from - n]
  }
  const driven = reach(n + d, (k) => (k < n ? B[k][input] : (delays as InternalDelays).D21[k - n][input]) !== 0, entry)
  const seen = reach(
    n + d,
    (k) => (k < n ? C[output][k] : (delays as InternalDelays).D12[output][k - n]) !== 0,
    (to, from) => entry(from, to),
  )
  const keep = (from: number, to: number) =>
    Array.from({ length: to - from }, (_, k) => from + k).filter((k) => driven[k] && seen[k])
  const x = keep(0, n)
  const w = keep(n, n + d).map((k) => k - n)
  return {
    kind: 'StateSpace',
    A: pick(A, x, x),
    B: pick(B, x, [input]),
    C: pick(C, [output], x),
    D: pick(D, [output], [input]),
    inputs: [system.inputs[input]],
    outputs: [system.outputs[output]],
    states: x.map((k) => system.states[k]),
    delays:
      delays === null || w.length === 0
        ? null
        : {
            seconds: w.map((k) => delays.seconds[k]),
            B: pick(delays.B, x, w),
            C: pick(delays.C, w, x),
            D12: pick(delays.D12, [output], w),
            D21: pick(delays.D21, w, [input]),
            D22: pick(delays.D22, w, w),
          },
  }
}

function reach(count: number, start: (k: number) => boolean, entry: (to: number, from: number) => number): boolean[] {
  const reached = Array.from({ length: count }, (_, k) => start(k))
  const open = reached.flatMap((yes, k) => (yes ? [k] : []))
  for (let from = open.pop(); from !== undefined; from = open.pop()) {
    for (let to = 0; to < count; to++) {
      if (!reached[to] && entry(to, from) !== 0) {
        reached[to] = true
        open.push(to)
      }
    }
  }
  return reached
}

export function pick(
  matrix: readonly (readonly number[])[],
  rows: readonly number[],
  columns: readonly number[],
): number[][] {
  return rows.map((i) => columns.map((j) => matrix[i][j]))
}
