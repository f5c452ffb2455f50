import type { Segmentation } from './segmentation.js'

/** Density that rounding alone leaves in a line: a transform errs by about ε·log2(L) of the signal, its mean included. */
export function roundingDensity(plan: Segmentation, samples: Float64Array): number {
  let squares = 0
  for (const value of samples) squares += value * value
  const sampleRate = plan.frequency[1] * plan.length
  const meanDensity = (2 * squares) / (samples.length * sampleRate)
  return meanDensity * (4 * Number.EPSILON * Math.log2(2 * plan.length)) ** 2
}
