import type { Eigenvalues } from '../linear/eigenvalues.js'
import type { CharacteristicSample, CharacteristicSum } from './characteristic-terms.js'

/** Share of the distance to 0 that the sum may use up; the rest is left for rounding. */
const share = 0.9

/** The longest step [rad/s] of `first` and its halves over which the sum provably turns by less than 180°, so that its values at
 * both ends tell the turn; 0 where there is none.
 *
 * Either the terms stay so small over all of the step that the sum stays right of the imaginary axis, or the sum changes by less
 * than its modulus. Both from the logarithms of the terms, whose first derivative is −τ + Σ 1/(s − z) − Σ 1/(s − p) and whose second
 * one is at most Σ 1/|s − root|² between the ends; what is linear in the step is added up with its sign.
 * @source derived: |c(s + h) − c − c l h| ≤ |c| (exp(|l| h + r) − 1 − |l| h) for c = exp L, l = L′, r = h² max |L″|/2 */
export function certifiedStep(
  { poles, terms }: CharacteristicSum,
  sample: CharacteristicSample,
  first: number,
): number {
  const shared = logarithmSlope(poles, sample)
  const parts = terms.map(({ zeros, seconds }, k) => {
    const own = logarithmSlope(zeros, sample)
    const [re, im] = [own.re - shared.re, own.im - shared.im]
    const { re: cr, im: ci } = sample.terms[k]
    const slope = Math.hypot(re - seconds, im)
    // d ln|c|/dω = −Im l
    return { zeros, size: Math.hypot(cr, ci), slope, growth: Math.max(0, -im), cr, ci, lr: re - seconds, li: im }
  })
  const linear = Math.hypot(
    parts.reduce((sum, { cr, ci, lr, li }) => sum + cr * lr - ci * li, 0),
    parts.reduce((sum, { cr, ci, lr, li }) => sum + cr * li + ci * lr, 0),
  )
  const room = share * Math.hypot(sample.value.re, sample.value.im)
  const isShort = (step: number): boolean => {
    const common = curvature(poles, sample, step)
    let [size, change] = [0, linear * step]
    for (const part of parts) {
      if (part.size === 0) continue
      const bend = ((common + curvature(part.zeros, sample, step)) * step * step) / 2
      size += part.size * Math.exp(part.growth * step + bend)
      change += part.size * (bend + aboveLine(part.slope * step + bend))
    }
    return size <= share || change <= room
  }
  let step = first
  while (!isShort(step)) {
    step /= 2
    if (!(step > 1e-14 * sample.im && step > 1e-300)) return 0
  }
  return step
}

/** Whether from here up the sum stays right of the imaginary axis, whatever the frequency.
 * @param slope - largest change of Re s per ω along the rest of the path
 * @param change - largest change of Re s along it [rad/s] */
export function isTail(
  { poles, terms }: CharacteristicSum,
  sample: CharacteristicSample,
  slope: number,
  change: number,
): boolean {
  const distances = Array.from(poles.re, (re, k) => Math.hypot(sample.re - re, sample.im - poles.im[k]))
  // Above a pole the distance to it grows along the path.
  if (!distances.every((distance, k) => sample.im - poles.im[k] > 2 * slope * distance)) return false
  let total = 0
  terms.forEach(({ zeros, seconds }, term) => {
    const { re, im } = sample.terms[term]
    let bound = Math.hypot(re, im) * Math.exp(change * seconds)
    for (let k = 0; k < zeros.re.length; k++) {
      // |s − z|/|s − p| ≤ 1 + |z − p|/|s − p| from here on, over what it is here
      const apart = Math.hypot(zeros.re[k] - poles.re[k], zeros.im[k] - poles.im[k])
      bound *= (distances[k] + apart) / Math.hypot(sample.re - zeros.re[k], sample.im - zeros.im[k])
    }
    total += bound
  })
  return total <= share
}

/** e^x − 1 − x without cancellation, or a little more. */
function aboveLine(x: number): number {
  return x < 0.01 ? (x * x * (1 + x)) / 2 : Math.expm1(x) - x
}

/** Σ 1/(s − root) */
function logarithmSlope({ re, im }: Eigenvalues, s: CharacteristicSample) {
  const total = { re: 0, im: 0 }
  for (let k = 0; k < re.length; k++) {
    const [a, b] = [s.re - re[k], s.im - im[k]]
    const square = a * a + b * b
    total.re += a / square
    total.im -= b / square
  }
  return total
}

/** Σ 1/|s − root|² at most, within a distance of the sample; Infinity where a root lies there. */
function curvature({ re, im }: Eigenvalues, s: CharacteristicSample, distance: number): number {
  let sum = 0
  for (let k = 0; k < re.length; k++) {
    const left = Math.hypot(s.re - re[k], s.im - im[k]) - 1.001 * distance
    if (!(left > 0)) return Number.POSITIVE_INFINITY
    sum += 1 / (left * left)
  }
  return sum
}
