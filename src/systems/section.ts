import type { Scope } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkName } from './check.js'
import type { StateSpace } from './types.js'

/** A small system with one input and one output: x' = A x + B u, y = C x + D u. */
export interface Section {
  readonly A: readonly (readonly number[])[]
  readonly B: readonly number[]
  readonly C: readonly number[]
  readonly D: number
}

/** Names of the two ports of a block. */
export interface PortOptions<I extends string = string, O extends string = string> {
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** ω/(s + ω), its state between 0 and the input. */
export function firstOrderLowPass(omega: number): Section {
  return { A: [[-omega]], B: [omega], C: [1], D: 0 }
}

/** s/(s + ω) */
export function firstOrderHighPass(omega: number): Section {
  return { A: [[-omega]], B: [omega], C: [-1], D: 1 }
}

/** (direct·s² + ω·rate·s + ω²·level)/(s² + 2ζω s + ω²) with states of one magnitude: ω²/(…)·u and s·ω/(…)·u. */
export function secondOrder(
  omega: number,
  dampingRatio: number,
  { direct = 0, rate = 0, level = 0 }: { direct?: number; rate?: number; level?: number },
): Section {
  return {
    A: [
      [0, omega],
      [-omega, -2 * dampingRatio * omega],
    ],
    B: [0, omega],
    C: [level - direct, rate - 2 * dampingRatio * direct],
    D: direct,
  }
}

/** Sections one behind the other as one system with states `x1`, `x2`, …; the first acts first.
 *
 *     A = [A1 0; B2 C1 A2]   B = [B1; B2 D1]   C = [D2 C1  C2]   D = D2 D1
 */
export function cascade<I extends string, O extends string>(
  scope: Scope,
  sections: readonly Section[],
  { input, output }: PortOptions<I, O>,
): StateSpace<I, O> {
  const n = sections.reduce((sum, { B }) => sum + B.length, 0)
  const A: number[][] = []
  const B: number[][] = []
  let signal = new Array<number>(n).fill(0)
  let direct = 1
  for (const section of sections) {
    const first = A.length
    for (let i = 0; i < section.B.length; i++) {
      const row = signal.map((entry) => section.B[i] * entry)
      section.A[i].forEach((entry, j) => {
        row[first + j] += entry
      })
      A.push(row)
      B.push([section.B[i] * direct])
    }
    signal = signal.map((entry) => section.D * entry)
    section.C.forEach((entry, j) => {
      signal[first + j] += entry
    })
    direct *= section.D
  }
  for (const row of [...A, ...B, signal, [direct]]) for (const entry of row) finiteResult(scope, 'coefficient', entry)
  return {
    kind: 'StateSpace',
    A,
    B,
    C: [signal],
    D: [[direct]],
    inputs: [portName(scope, 'input', input, 'u1')],
    outputs: [portName(scope, 'output', output, 'y1')],
    states: B.map((_, i) => `x${i + 1}`),
    delays: null,
  }
}

/** The name given, or its default. */
export function portName<N extends string>(scope: Scope, key: string, name: N | undefined, fallback: string): N {
  return name === undefined ? (fallback as N) : checkName(scope, key, name)
}
