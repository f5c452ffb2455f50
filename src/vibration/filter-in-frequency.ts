import { fourierPlan } from '../linear/fourier.js'

/** A factor in frequency, (re, im). */
export type Factor = readonly [re: number, im: number]

/** A record times a factor at each of its lines, 0 Hz to half the sample rate; the record is taken as periodic. */
export function filteredInFrequency(
  samples: Float64Array,
  sampleRate: number,
  factor: (frequency: number) => Factor,
): Float64Array {
  const { length } = samples
  const { transform } = fourierPlan(length)
  const data = new Float64Array(2 * length)
  const lines = new Float64Array(2 * length)
  for (let n = 0; n < length; n++) data[2 * n] = samples[n]
  transform(lines, data)
  // The inverse transform is the forward one of the conjugate, conjugated; its result is real.
  for (let k = 0; 2 * k <= length; k++) {
    const [re, im] = factor((k * sampleRate) / length)
    const alone = k === 0 || 2 * k === length
    const real = lines[2 * k] * re - (alone ? 0 : lines[2 * k + 1] * im)
    const imaginary = alone ? 0 : lines[2 * k] * im + lines[2 * k + 1] * re
    const mirror = (length - k) % length
    data[2 * k] = data[2 * mirror] = real / length
    data[2 * mirror + 1] = imaginary / length
    data[2 * k + 1] = -data[2 * mirror + 1]
  }
  transform(lines, data)
  return samples.map((_, n) => lines[2 * n])
}
