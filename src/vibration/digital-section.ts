import type { Scope } from '../internal/check.js'
import { discretize } from '../systems/discretize.js'
import { cascade, type Section } from '../systems/section.js'

/** A digital filter that remembers where it is: runs over samples in place, one piece after the other. */
export type RunningFilter = (samples: Float64Array) => void

/** Second-order sections one behind the other, each made discrete by the bilinear map.
 *
 * The map is exact at `exactAt` [Hz], or at 0 Hz only. The filter starts as if its first sample had always been there, so that
 * an offset is no step.
 */
export function runningFilter(
  scope: Scope,
  sections: readonly Section[],
  sampleRate: number,
  exactAt?: number,
): RunningFilter {
  const runs = sections.map((section) => runningSection(scope, section, sampleRate, exactAt))
  return (samples) => {
    for (const run of runs) run(samples)
  }
}

function runningSection(scope: Scope, section: Section, sampleRate: number, exactAt?: number): RunningFilter {
  const warp = exactAt === undefined ? {} : { prewarp: exactAt }
  const block = cascade(scope, [section], {})
  const { A, B, C, D } = discretize(block, { sampleTime: 1 / sampleRate, method: 'bilinear', ...warp })
  const [[a, b], [c, d]] = A
  const [b1, b2, c1, c2, direct] = [B[0][0], B[1][0], C[0][0], C[0][1], D[0][0]]
  let started = false
  let first = 0
  let second = 0
  return (samples) => {
    if (!started && samples.length > 0) {
      // At rest under the first sample u: x = (I − A)⁻¹ B u.
      const scale = samples[0] / ((1 - a) * (1 - d) - b * c)
      first = scale * ((1 - d) * b1 + b * b2)
      second = scale * (c * b1 + (1 - a) * b2)
      started = true
    }
    for (let n = 0; n < samples.length; n++) {
      const input = samples[n]
      samples[n] = c1 * first + c2 * second + direct * input
      const next = a * first + b * second + b1 * input
      second = c * first + d * second + b2 * input
      first = next
    }
  }
}
