import type { SurgeMode } from '../elements/surge-modes.js'
import type { StateSpace } from '../systems/types.js'

/** The mass of coils beside what `mountBlock` has of them: relative velocity and sum of the velocities of both ends [m/s] in,
 * what they add to the tension at either end [N] out. Each mode has the stretch d of its spring and its velocity v, with
 * d' = v − w, m v' = −(k d + c d'), and w what the mode follows of the ends. */
export function surgeBlock(modes: readonly SurgeMode[], count: number): StateSpace {
  const size = 2 * modes.length
  const A = Array.from({ length: size }, () => new Array<number>(size).fill(0))
  const B: number[][] = []
  const C = [new Array<number>(size).fill(0), new Array<number>(size).fill(0)]
  const D = [
    [0, 0],
    [0, 0],
  ]
  modes.forEach(({ mass, stiffness, damping, upper, lower }, i) => {
    const d = 2 * i
    // w per relative velocity and per sum of velocities
    const follows = [(upper - lower) / 2, (upper + lower) / 2]
    A[d][d + 1] = 1
    A[d + 1][d] = -stiffness / mass
    A[d + 1][d + 1] = -damping / mass
    B.push(
      follows.map((share) => -share),
      follows.map((share) => (damping * share) / mass),
    )
    for (const [row, end] of [-upper, lower].entries()) {
      C[row][d] = count * end * stiffness
      C[row][d + 1] = count * end * damping
      D[row] = D[row].map((value, k) => value - count * end * damping * follows[k])
    }
  })
  return {
    kind: 'StateSpace',
    A,
    B,
    C,
    D,
    inputs: ['velocity', 'sum'],
    outputs: ['tension', 'lowerTension'],
    states: modes.flatMap((_, i) => [`surge${i + 1}`, `surge${i + 1}Rate`]),
    delays: null,
  }
}
