import { randomNumbers } from '../../../src/internal/random-numbers.js'
import { fourierPlan } from '../../../src/linear/fourier.js'

/** Response at a frequency [Hz], as real and imaginary part. */
export type Response = (frequency: number) => readonly [number, number]

export interface InventedRecords {
  readonly input: Float64Array
  readonly output: Float64Array
  readonly sampleRate: number
}

/** Gaussian numbers of unit variance from a seed (Box and Muller). */
export function gaussian(seed: number): () => number {
  const uniform = randomNumbers(seed)
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())
}

/** A white floor of unit variance and what a system makes of it, exactly, plus independent noise on either record.
 *
 * The records are one period of a periodic motion: each line of the transform is multiplied by the response, so that no
 * discretisation stands between the truth and the record.
 */
export function inventedRecords(
  response: Response,
  options: { count: number; sampleRate: number; seed: number; outputNoise?: number; inputNoise?: number },
): InventedRecords {
  const { count, sampleRate, outputNoise = 0, inputNoise = 0 } = options
  const next = gaussian(options.seed)
  const floor = Float64Array.from({ length: count }, next)
  const input = floor.map((value) => value + inputNoise * next())
  const output = answerTo(floor, response, sampleRate).map((value) => value + outputNoise * next())
  return { input, output, sampleRate }
}

/** What a system makes of a record that repeats itself: each line of its transform times the response. */
export function answerTo(samples: Float64Array, response: Response, sampleRate: number): Float64Array {
  const count = samples.length
  const { transform } = fourierPlan(count)
  const data = new Float64Array(2 * count)
  samples.forEach((value, n) => {
    data[2 * n] = value
  })
  const spectrum = new Float64Array(2 * count)
  transform(spectrum, data)
  for (let k = 0; k < count; k++) {
    const mirrored = 2 * k > count
    const [re, im] = response(((mirrored ? count - k : k) * sampleRate) / count)
    const [a, b] = [spectrum[2 * k] as number, spectrum[2 * k + 1] as number]
    const turned = mirrored ? -im : im
    // The inverse transform is the forward one of the conjugate.
    data[2 * k] = (a * re - b * turned) / count
    data[2 * k + 1] = -(a * turned + b * re) / count
  }
  transform(spectrum, data)
  return spectrum.filter((_, i) => i % 2 === 0)
}

/** (1 + 2jζr)/(1 − r² + 2jζr): Harris' Shock and Vibration Handbook, theory of vibration isolation. */
export function viscous(naturalFrequency: number, dampingRatio: number): Response {
  return (frequency) => {
    const r = frequency / naturalFrequency
    const x = 2 * dampingRatio * r
    const real = 1 - r * r
    const size = real * real + x * x
    return [(real + x * x) / size, (x * real - x) / size]
  }
}
