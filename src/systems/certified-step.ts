import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import type { CharacteristicSample, CharacteristicSum } from './characteristic-terms.js'

/** Share of the distance to 0 that the sum may use up; the rest is left for rounding. */
const share = 0.9
/** Sum of the terms below which their growth is bounded by the distances to their roots, in which zeros do not shorten a step. */
const faint = 0.05

/** The longest step [rad/s] of `first` and its halves over which the sum provably turns by less than 180°, so that its values at
 * both ends tell the turn, and has no zero or pole within `beside(ω)` of the path; 0 where there is none. */
export type CertifiedStep = (sample: CharacteristicSample, first: number, beside: (omega: number) => number) => number

/** Steps along the axis by what the logarithms of the terms say.
 *
 * Either the terms stay so small over all of the step that the sum stays right of the imaginary axis, or the sum changes by less
 * than its modulus. Both from the logarithms of the terms, whose first derivative is −τ + Σ 1/(s − z) − Σ 1/(s − p) and whose second
 * one is at most Σ 1/|s − root|² between the ends; what is linear in the step is added up with its sign.
 * @source derived: |c(s + h) − c − c l h| ≤ |c| (exp(|l| h + r) − 1 − |l| h) for c = exp L, l = L′, r = h² max |L″|/2 */
export function certifiedSteps({ poles, terms }: CharacteristicSum): CertifiedStep {
  const polesSeen = rootsSeen(poles)
  const zerosSeen = terms.map(({ zeros }) => rootsSeen(zeros))
  const count = terms.length
  // Of each term the moduli of its logarithmic derivative and its growth d ln|c|/dω = −Im l
  const slopes = new Float64Array(count)
  const growths = new Float64Array(count)
  const seen = { total: 0, linear: 0, room: 0 }
  const look = (sample: CharacteristicSample): void => {
    polesSeen.from(sample)
    let re = 0
    let im = 0
    let faintest = 0
    let total = 0
    for (let k = 0; k < count; k++) {
      const { from, sum } = zerosSeen[k]
      from(sample)
      const lr = sum.re - polesSeen.sum.re - terms[k].seconds
      const li = sum.im - polesSeen.sum.im
      const { re: cr, im: ci, size } = sample.terms[k]
      slopes[k] = hypotenuse(lr, li)
      growths[k] = Math.max(0, -li)
      total += size
      if (size > 1.01 * hypotenuse(cr, ci)) faintest += size * slopes[k]
      else {
        re += cr * lr - ci * li
        im += cr * li + ci * lr
      }
    }
    seen.total = total
    seen.linear = hypotenuse(re, im) + faintest
    seen.room = share * hypotenuse(sample.value.re, sample.value.im)
  }
  const isShort = ({ terms: values }: CharacteristicSample, step: number, wide: number): boolean => {
    const radius = step + wide
    if (seen.total < faint) {
      let size = 0
      const shrink = polesSeen.shrink(radius)
      for (let k = 0; k < count; k++) {
        size += (values[k].size * Math.exp(terms[k].seconds * wide) * zerosSeen[k].growAt(radius)) / shrink
      }
      // Not where a pole lies within: then this is infinite or no number.
      if (size <= share) return true
    }
    const common = polesSeen.curvature(radius)
    let size = 0
    let change = seen.linear * radius
    for (let k = 0; k < count; k++) {
      if (values[k].size === 0) continue
      const bend = ((common + zerosSeen[k].curvature(radius)) * radius * radius) / 2
      size += values[k].size * Math.exp(growths[k] * step + slopes[k] * wide + bend)
      change += values[k].size * (bend + aboveLine(slopes[k] * radius + bend))
    }
    return size <= share || change <= seen.room
  }
  return (sample, first, beside) => {
    look(sample)
    let step = first
    while (!isShort(sample, step, beside(sample.im + step))) {
      step /= 2
      if (!(step > 1e-14 * sample.im && step > 1e-300)) return 0
    }
    return step
  }
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
  // No factor below is under 1.
  let total = 0
  for (const { size } of sample.terms) total += size
  if (total > share) return false
  const far = (k: number) => hypotenuse(sample.re - poles.re[k], sample.im - poles.im[k])
  for (let k = 0; k < poles.re.length; k++) {
    // Above a pole the distance to it grows along the path.
    if (!(sample.im - poles.im[k] > 2 * slope * far(k))) return false
  }
  total = 0
  for (let term = 0; term < terms.length; term++) {
    const { zeros, seconds } = terms[term]
    let bound = sample.terms[term].size * Math.exp(change * seconds)
    for (let k = 0; k < zeros.re.length; k++) {
      // |s − z|/|s − p| ≤ 1 + |z − p|/|s − p| from here on, over what it is here
      const apart = hypotenuse(zeros.re[k] - poles.re[k], zeros.im[k] - poles.im[k])
      bound *= (far(k) + apart) / hypotenuse(sample.re - zeros.re[k], sample.im - zeros.im[k])
    }
    total += bound
  }
  return total <= share
}

/** e^x − 1 − x without cancellation, or a little more. */
function aboveLine(x: number): number {
  return x < 0.01 ? (x * x * (1 + x)) / 2 : Math.expm1(x) - x
}

/** Distances from a sample to the roots of one function, and what they say of it around there. */
function rootsSeen({ re, im }: Eigenvalues) {
  const distances = new Float64Array(re.length)
  /** Σ 1/(s − root) */
  const sum = { re: 0, im: 0 }
  return {
    sum,
    from: (s: CharacteristicSample): void => {
      let sumRe = 0
      let sumIm = 0
      for (let k = 0; k < re.length; k++) {
        const a = s.re - re[k]
        const b = s.im - im[k]
        const distance = hypotenuse(a, b)
        distances[k] = distance
        sumRe += a / distance / distance
        sumIm -= b / distance / distance
      }
      sum.re = sumRe
      sum.im = sumIm
    },
    /** Σ 1/|s − root|² at most, within a radius; Infinity where a root lies there. */
    curvature: (radius: number): number => {
      let total = 0
      for (let k = 0; k < re.length; k++) {
        const left = distances[k] - 1.001 * radius
        if (!(left > 0)) return Number.POSITIVE_INFINITY
        total += 1 / (left * left)
      }
      return total
    },
    /** The factor by which Π |s − root| grows at most within a radius. */
    growAt: (radius: number): number => {
      let factor = 1
      for (let k = 0; k < re.length; k++) factor *= 1 + radius / distances[k]
      return factor
    },
    /** The factor by which it shrinks at most; 0 where a root lies there. */
    shrink: (radius: number): number => {
      let factor = 1
      for (let k = 0; k < re.length; k++) factor *= Math.max(0, 1 - (1.001 * radius) / distances[k])
      return factor
    },
  }
}
