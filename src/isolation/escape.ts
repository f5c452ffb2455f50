import type { Scope } from '../internal/check.js'
import { must } from '../internal/check.js'
import { type Dense, denseFrom, transpose } from '../linear/dense.js'
import { eigenvalues } from '../linear/eigenvalues.js'
import { eigenvectors } from '../linear/eigenvectors.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { closeDiagram } from '../systems/close-diagram.js'
import type { Wire } from '../systems/diagram.js'
import type { LimitedPlant } from './limited-plant.js'

/** Watches whether a motion is beyond what the limits can bring back. */
export interface Escape {
  readonly see: (state: Float64Array, k: number) => void
  /** First sample from which on it was; null if it is not */
  readonly since: () => number | null
}

/** An unstable motion z = wᵀx of the plant with every bounded output an input y: z' = λ z + Σ wᵀb y, so |z| grows for good as soon
 * as Re λ·|z| is above what |y| ≤ L can add up to. */
interface Runaway {
  readonly re: Float64Array
  readonly im: Float64Array
  readonly threshold: number
}

export function escapeOf(scope: Scope, plant: LimitedPlant): Escape {
  const motions = plant.bounds.length === 0 ? [] : runaways(scope, plant)
  let since: number | null = null
  return {
    see: (x, k) => {
      const beyond = motions.some(({ re, im, threshold }) => {
        let [a, b, size] = [0, 0, 0]
        for (let i = 0; i < x.length; i++) {
          a += re[i] * x[i]
          b += im[i] * x[i]
          size += (re[i] * x[i]) ** 2 + (im[i] * x[i]) ** 2
        }
        return hypotenuse(a, b) > threshold * (1 + 1e-9) + 1e-12 * Math.sqrt(size)
      })
      since = beyond ? (since ?? k) : null
    },
    since: () => since,
  }
}

function runaways(scope: Scope, { system, bounds, steps, inputs }: LimitedPlant): Runaway[] {
  const wires: Record<string, Wire> = {}
  const others = inputs + steps.length
  for (const name of system.inputs) wires[`plant.${name}`] = name
  bounds.forEach((_, k) => {
    wires[`plant.excess${k + 1}`] = [`excess${k + 1}`, `-plant.wanted${k + 1}`]
  })
  const pinned = closeDiagram(scope, { blocks: { plant: system }, inputs: system.inputs, outputs: {}, wires })
  const A = denseFrom(pinned.A, pinned.A.length)
  const B = denseFrom(pinned.B, system.inputs.length)
  const lambda = must(eigenvalues(A), 'no-convergence', scope, 'has poles that cannot be computed with its limits')
  const fastest = Math.max(...lambda.re.map((re, k) => hypotenuse(re, lambda.im[k])))
  if (!lambda.re.some((re) => re > 1e-9 * fastest)) return []
  const W = eigenvectors(transpose(A), lambda)
  return Array.from(lambda.re).flatMap((growth, k) => {
    if (!(growth > 1e-9 * fastest)) return []
    const re = Float64Array.from({ length: A.rows }, (_, i) => W.re[i * A.rows + k])
    const im = Float64Array.from({ length: A.rows }, (_, i) => W.im[i * A.rows + k])
    if (!isLeftVector(A, re, im, growth, lambda.im[k], fastest)) return []
    const pushes = Array.from({ length: B.columns }, (_, j) => coupling(B, j, re, im))
    const largest = Math.max(...pushes)
    // What a converter holds has no bound: nothing can be said where it drives the motion.
    if (pushes.slice(inputs, others).some((push) => push > 1e-9 * largest)) return []
    const most = bounds.reduce(
      (sum, { value }, i) => sum + (pushes[others + i] === 0 ? 0 : pushes[others + i] * value),
      0,
    )
    return [{ re, im, threshold: most / growth }]
  })
}

function coupling(B: Dense, j: number, re: Float64Array, im: Float64Array): number {
  let [a, b] = [0, 0]
  for (let i = 0; i < B.rows; i++) {
    a += re[i] * B.data[i * B.columns + j]
    b += im[i] * B.data[i * B.columns + j]
  }
  return hypotenuse(a, b)
}

/** Whether wᵀA = λ wᵀ to 1e-6 of the fastest pole. */
function isLeftVector(A: Dense, re: Float64Array, im: Float64Array, lr: number, li: number, scale: number): boolean {
  for (let j = 0; j < A.rows; j++) {
    let [a, b] = [-(lr * re[j] - li * im[j]), -(lr * im[j] + li * re[j])]
    for (let i = 0; i < A.rows; i++) {
      a += re[i] * A.data[i * A.rows + j]
      b += im[i] * A.data[i * A.rows + j]
    }
    if (hypotenuse(a, b) > 1e-6 * scale) return false
  }
  return true
}
