import type { Detrend } from './types.js'

/** Least-squares line through `length` samples from `start` on: its value at the first of them and its slope per sample. */
export function trendOf(
  detrend: Detrend,
  samples: Float64Array,
  start: number,
  length: number,
): readonly [constant: number, slope: number] {
  if (detrend === 'none') return [0, 0]
  const mean = sumOf(samples, start, length) / length
  if (detrend === 'mean' || length < 2) return [mean, 0]
  const middle = (length - 1) / 2
  let moment = 0
  for (let i = 0; i < length; i++) moment += (i - middle) * (samples[start + i] - mean)
  const slope = (12 * moment) / (length * (length * length - 1))
  return [mean - slope * middle, slope]
}

/** Four sums side by side: one alone waits for each addition before the next. */
function sumOf(samples: Float64Array, start: number, length: number): number {
  let a = 0
  let b = 0
  let c = 0
  let d = 0
  const whole = start + length - (length % 4)
  for (let i = start; i < whole; i += 4) {
    a += samples[i]
    b += samples[i + 1]
    c += samples[i + 2]
    d += samples[i + 3]
  }
  for (let i = whole; i < start + length; i++) a += samples[i]
  return a + b + (c + d)
}
