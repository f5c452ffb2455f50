import type { DelayedSystem } from '../linear/delayed-solve.js'
import { type Dense, denseFrom, zeros } from '../linear/dense.js'
import type { DiscreteStateSpace, StateSpace } from './types.js'

/** The flat form of a system, for the requested channels only; delay channels stand behind the external ones. */
export function denseSystem(
  system: StateSpace,
  inputs: readonly number[] = system.inputs.map((_, i) => i),
  outputs: readonly number[] = system.outputs.map((_, o) => o),
): DelayedSystem {
  const n = system.A.length
  const { delays } = system
  const d = delays?.seconds.length ?? 0
  const B = zeros(n, inputs.length + d)
  const C = zeros(outputs.length + d, n)
  const D = zeros(outputs.length + d, inputs.length + d)
  place(B, 0, 0, system.B, null, inputs)
  place(C, 0, 0, system.C, outputs, null)
  place(D, 0, 0, system.D, outputs, inputs)
  if (delays !== null) {
    place(B, 0, inputs.length, delays.B, null, null)
    place(C, outputs.length, 0, delays.C, null, null)
    place(D, 0, inputs.length, delays.D12, outputs, null)
    place(D, outputs.length, 0, delays.D21, null, inputs)
    place(D, outputs.length, inputs.length, delays.D22, null, null)
  }
  return { A: denseFrom(system.A, n), B, C, D, seconds: delays?.seconds ?? [] }
}

/** The state matrix with every delay taken as zero (`closed`) or as a cut (`open`). */
export function undelayedStateMatrix({ A, B, C, D, seconds }: DelayedSystem): Dense {
  const n = A.rows
  const d = seconds.length
  const result = { ...A, data: A.data.slice() }
  // Delay channels rarely feed each other; where they do, the first term of the Neumann series is enough for a landmark.
  for (let k = 0; k < d; k++) {
    for (let i = 0; i < n; i++) {
      const drive = B.data[i * B.columns + B.columns - d + k]
      if (drive === 0) continue
      for (let j = 0; j < n; j++) result.data[i * n + j] += drive * C.data[(C.rows - d + k) * n + j]
    }
  }
  for (let k = 0; k < d; k++) {
    for (let l = 0; l < d; l++) {
      const coupling = D.data[(C.rows - d + k) * D.columns + D.columns - d + l]
      if (coupling === 0) continue
      for (let i = 0; i < n; i++) {
        const drive = B.data[i * B.columns + B.columns - d + k] * coupling
        for (let j = 0; j < n; j++) result.data[i * n + j] += drive * C.data[(C.rows - d + l) * n + j]
      }
    }
  }
  return result
}

function place(
  target: Dense,
  row: number,
  column: number,
  source: readonly (readonly number[])[],
  rows: readonly number[] | null,
  columns: readonly number[] | null,
): void {
  const count = rows?.length ?? source.length
  for (let i = 0; i < count; i++) {
    const from = source[rows === null ? i : rows[i]]
    const width = columns?.length ?? from.length
    for (let j = 0; j < width; j++) {
      target.data[(row + i) * target.columns + column + j] = from[columns === null ? j : columns[j]]
    }
  }
}

/** The matrices of a discrete system under the kind of a continuous one, for algebra that does not care which it is. */
export function continuousForm({ sampleTime: _, ...matrices }: DiscreteStateSpace): StateSpace {
  return { ...matrices, kind: 'StateSpace', delays: null }
}
