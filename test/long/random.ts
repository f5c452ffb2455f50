import { type StateSpace, stateSpace } from '../../src/systems/index.js'

/** Park and Miller's generator, numbers between 0 and 1. */
export function generator(seed: number): () => number {
  let state = seed % 2147483647
  return () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
}

/** A stable system of n states: modes with damping from 1e-3 to 1, mixed by a similarity that is not orthogonal. */
export function randomSystem(random: () => number, inputs: number, outputs: number): StateSpace {
  const modes = 1 + Math.floor(4 * random())
  const n = 2 * modes
  const A = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  for (let k = 0; k < modes; k++) {
    const omega = 10 ** (3 * random())
    const damping = 10 ** (-3 * random())
    A[2 * k][2 * k + 1] = omega
    A[2 * k + 1][2 * k] = -omega
    A[2 * k + 1][2 * k + 1] = -2 * damping * omega
  }
  const between = () => 2 * random() - 1
  // x = (I + N) z with N strictly upper, whose inverse is exact enough to leave the poles where they are.
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const factor = 0.5 * between()
      for (let k = 0; k < n; k++) A[i][k] += factor * A[j][k]
      for (let k = 0; k < n; k++) A[k][j] -= factor * A[k][i]
    }
  }
  return stateSpace({
    A,
    B: Array.from({ length: n }, () => Array.from({ length: inputs }, between)),
    C: Array.from({ length: outputs }, () => Array.from({ length: n }, between)),
    D: Array.from({ length: outputs }, () => Array.from({ length: inputs }, () => (random() < 0.3 ? between() : 0))),
  })
}
