import type { Detrend } from './types.js'

/** Least-squares line through `length` samples from `start` on: its value at the first of them and its slope per sample. */
export function trendOf(
  detrend: Detrend,
  samples: Float64Array,
  start: number,
  length: number,
): readonly [constant: number, slope: number] {
  if (detrend === 'none') return [0, 0]
  let mean = 0
  for (let i = 0; i < length; i++) mean += samples[start + i]
  mean /= length
  if (detrend === 'mean' || length < 2) return [mean, 0]
  const middle = (length - 1) / 2
  let moment = 0
  for (let i = 0; i < length; i++) moment += (i - middle) * (samples[start + i] - mean)
  const slope = (12 * moment) / (length * (length * length - 1))
  return [mean - slope * middle, slope]
}
