import type { Scope } from '../internal/check.js'
import { discretize } from '../systems/discretize.js'
import { cascade, type Section } from '../systems/section.js'

/** A record through second-order sections one behind the other, each made discrete by the bilinear map.
 *
 * The map is exact at `exactAt`, one frequency for all sections or one for each. The filter starts as if the first sample had
 * always been there, so that an offset is no step.
 */
export function filteredRecord(
  scope: Scope,
  samples: Float64Array,
  sampleRate: number,
  sections: readonly Section[],
  exactAt: number,
): Float64Array {
  const result = samples.slice()
  for (const section of sections) {
    const block = cascade(scope, [section], {})
    const { A, B, C, D } = discretize(block, { sampleTime: 1 / sampleRate, method: 'bilinear', prewarp: exactAt })
    runSection(result, [A[0][0], A[0][1], A[1][0], A[1][1]], [B[0][0], B[1][0]], [C[0][0], C[0][1]], D[0][0])
  }
  return result
}

function runSection(
  samples: Float64Array,
  [a, b, c, d]: readonly [number, number, number, number],
  [b1, b2]: readonly [number, number],
  [c1, c2]: readonly [number, number],
  direct: number,
): void {
  // At rest under the first sample u: x = (I − A)⁻¹ B u.
  const scale = samples[0] / ((1 - a) * (1 - d) - b * c)
  let first = scale * ((1 - d) * b1 + b * b2)
  let second = scale * (c * b1 + (1 - a) * b2)
  for (let n = 0; n < samples.length; n++) {
    const input = samples[n]
    samples[n] = c1 * first + c2 * second + direct * input
    const next = a * first + b * second + b1 * input
    second = c * first + d * second + b2 * input
    first = next
  }
}
