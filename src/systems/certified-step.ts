import { type Dense, multiply } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import type { DelaySample, DelayTransfer } from './delay-transfer.js'

/** How the path that is followed may bend: change of Re s per ω, and the largest |Re s| there is. */
export interface PathShape {
  readonly slope: number
  readonly widest: number
}

/** The longest step [rad/s] along the path, of `first` and its halves, over which arg det(I − W) provably turns by less than
 * π, so that its value at both ends tells the turn; 0 where there is none.
 *
 * Either W stays so small over all of the step that det(I − W) stays right of the imaginary axis, or W changes by so little that
 * I − W cannot become singular. Both from ln W, whose derivative is −τ + Σ 1/(s − z) − Σ 1/(s − p) over the zeros and poles of an entry,
 * and whose second derivative is at most Σ 1/|s − root|².
 * @source derived: det(I + X) turns by at most n·asin ρ for a matrix X of n rows and spectral radius ρ < 1 */
export function certifiedStep(
  { count, seconds, roots }: DelayTransfer,
  sample: DelaySample,
  first: number,
  { slope }: PathShape,
): number {
  const slopes = roots.map((entry) => slopeOf(entry, sample))
  const within = (length: number): boolean => {
    const small = new Float64Array(count * count)
    const change = new Float64Array(count * count)
    for (let k = 0; k < small.length; k++) {
      if (sample.size[k] === 0) continue
      const { re, im } = slopes[k]
      const tau = seconds[Math.floor(k / count)]
      const bend = (curvature(roots[k].zeros, sample, length) + curvature(roots[k].poles, sample, length)) * length ** 2
      const growth = (Math.max(0, -im) + slope * (Math.abs(re) + tau)) * length + bend
      small[k] = sample.size[k] * Math.exp(growth)
      change[k] = sample.size[k] * Math.expm1((1 + slope) * (Math.hypot(re - tau, im) * length + bend))
    }
    const limit = largestRadius(count)
    if (radiusBound(small, count) <= limit) return true
    const inverse = { rows: count, columns: count, data: sample.inverse }
    return radiusBound(multiply(inverse, { rows: count, columns: count, data: change }).data, count) <= limit
  }
  let length = first
  while (!within(length)) {
    length /= 2
    if (!(length > 1e-13 * sample.im) || length < 1e-300) return 0
  }
  return length
}

/** Whether from here up det(I − W) stays right of the imaginary axis, whatever the frequency. */
export function isTail(transfer: DelayTransfer, sample: DelaySample, { slope, widest }: PathShape): boolean {
  const { count, seconds, roots } = transfer
  const bound = new Float64Array(count * count)
  for (let k = 0; k < bound.length; k++) {
    if (sample.size[k] === 0) continue
    const { zeros, poles } = roots[k]
    let ratio = Math.exp((widest - Math.abs(sample.re)) * seconds[Math.floor(k / count)])
    for (let p = 0; p < poles.re.length; p++) {
      const distance = Math.hypot(sample.re - poles.re[p], sample.im - poles.im[p])
      // Above a pole the distance to it grows along the path.
      if (!(sample.im - poles.im[p] > 2 * slope * distance)) return false
      if (p >= zeros.re.length) continue
      // |s − z|/|s − p| ≤ 1 + |z − p|/|s − p| from here on, over what it is here
      const apart = Math.hypot(zeros.re[p] - poles.re[p], zeros.im[p] - poles.im[p])
      ratio *= (distance + apart) / Math.hypot(sample.re - zeros.re[p], sample.im - zeros.im[p])
    }
    bound[k] = sample.size[k] * ratio
  }
  return radiusBound(bound, count) <= largestRadius(count)
}

/** Spectral radius up to which det(I + X) of so many rows turns by less than π/2, with a tenth left for rounding. */
function largestRadius(count: number): number {
  return Math.min(0.9, Math.sin(1.5 / count))
}

/** Σ 1/(s − z) − Σ 1/(s − p) */
function slopeOf({ zeros, poles }: { zeros: Eigenvalues; poles: Eigenvalues }, s: DelaySample) {
  const total = { re: 0, im: 0 }
  for (const [list, sign] of [
    [zeros, 1],
    [poles, -1],
  ] as const) {
    // biome-ignore format: pairs
    for (let k = 0; k < list.re.length; k++) {
      const [re, im] = [s.re - list.re[k], s.im - list.im[k]]
      const square = re * re + im * im
      total.re += (sign * re) / square
      total.im -= (sign * im) / square
    }
  }
  return total
}

/** Σ 1/|s − root|² at most, within a distance of the sample; Infinity where a root lies there. */
function curvature({ re, im }: Eigenvalues, s: DelaySample, length: number): number {
  let sum = 0
  for (let k = 0; k < re.length; k++) {
    const left = Math.hypot(s.re - re[k], s.im - im[k]) - 1.001 * length
    if (!(left > 0)) return Number.POSITIVE_INFINITY
    sum += 1 / (left * left)
  }
  return sum
}

/** At least the spectral radius of a matrix without negative entries: ‖X¹⁶‖^(1/16). */
function radiusBound(data: Float64Array, count: number): number {
  if (count === 1) return data[0]
  let X: Dense = { rows: count, columns: count, data }
  for (let k = 0; k < 4; k++) X = multiply(X, X)
  let worst = 0
  for (let i = 0; i < count; i++) {
    worst = Math.max(
      worst,
      X.data.subarray(i * count, (i + 1) * count).reduce((sum, value) => sum + value, 0),
    )
  }
  return worst ** (1 / 16)
}
