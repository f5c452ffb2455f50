import { fail, type Scope } from '../internal/check.js'
import type { Matrix, StateSpace } from './types.js'

/** The loop L closed as 1/(1 + L): its single input is minus its single output plus the old input. */
export function closeLoop(scope: Scope, loop: StateSpace): StateSpace {
  const forward = 1 + loop.D[0][0]
  if (Math.abs(forward) < 1e-13) {
    fail(
      'algebraic-loop',
      scope,
      `cannot close a loop whose direct gain is ${loop.D[0][0]}: 1 + L vanishes at high frequency`,
    )
  }
  const { A, B, C, delays } = loop
  const input = B.map((row) => row[0] / forward)
  const less = (M: Matrix, column: readonly number[], row: readonly number[]): number[][] =>
    M.map((entries, i) => entries.map((value, j) => value - column[i] * row[j]))
  const closed: StateSpace = {
    ...loop,
    A: less(A, input, C[0]),
    B: input.map((value) => [value]),
    C: [C[0].map((value) => value / forward)],
    D: [[loop.D[0][0] / forward]],
  }
  if (delays === null) return closed
  const through = delays.D21.map((row) => row[0] / forward)
  return {
    ...closed,
    delays: {
      seconds: delays.seconds,
      B: less(delays.B, input, delays.D12[0]),
      C: less(delays.C, through, C[0]),
      D12: [delays.D12[0].map((value) => value / forward)],
      D21: through.map((value) => [value]),
      D22: less(delays.D22, through, delays.D12[0]),
    },
  }
}
