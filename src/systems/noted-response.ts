import { balancingScales } from '../linear/balance.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import type { Matrix, StateSpace } from './types.js'

/** Response of every channel, output by output, with what rounding may have put into it. */
export interface NotedResponse {
  readonly re: Float64Array
  readonly im: Float64Array
  /** Size below which a value says nothing */
  readonly noise: Float64Array
}

/** Share of the largest state and of the direct gain below which an output is rounding. */
const rounding = 1e-13

/** Evaluator of a system at s = re + j·im (or z); null on a pole. The states are read beside the outputs, for what each output
 * is the sum of. */
export function notedResponse(system: StateSpace): (re: number, im: number) => NotedResponse | null {
  const [n, m, p] = [system.A.length, system.inputs.length, system.outputs.length]
  const { A, B, C } = denseSystem(system)
  const scales = balancingScales(A, B, C)
  const kernel = responseKernel(denseSystem(withStates(system)))
  const weights = system.C.map((row) => row.reduce((sum, value, k) => sum + Math.abs(value) * scales[k], 0))
  return (re, im) => {
    const value = kernel.at(re, im)
    if (value === null) return null
    const noise = new Float64Array(p * m)
    for (let i = 0; i < m; i++) {
      let largest = 0
      for (let k = 0; k < n; k++) {
        const at = (p + k) * m + i
        largest = Math.max(largest, hypotenuse(value.re[at], value.im[at]) / scales[k])
      }
      for (let o = 0; o < p; o++) noise[o * m + i] = rounding * (Math.abs(system.D[o][i]) + weights[o] * largest)
    }
    return { re: value.re.slice(0, p * m), im: value.im.slice(0, p * m), noise }
  }
}

function withStates(system: StateSpace): StateSpace {
  const { C, D, inputs, outputs, states, delays } = system
  const unit = states.map((_, k) => states.map((_, j) => (j === k ? 1 : 0)))
  const nothing = (columns: number): Matrix => unit.map(() => new Array<number>(columns).fill(0))
  return {
    ...system,
    C: [...C, ...unit],
    D: [...D, ...nothing(inputs.length)],
    outputs: [...outputs, ...states],
    delays: delays === null ? null : { ...delays, D12: [...delays.D12, ...nothing(delays.seconds.length)] },
  }
}
