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
  const parts = terms.map(({ zeros, seconds }) => ({ ...rootsSeen(zeros), seconds, size: 0, slope: 0, growth: 0 }))
  let [total, linear, room] = [0, 0, 0]
  const look = (sample: CharacteristicSample): void => {
    polesSeen.from(sample)
    let [re, im, faintest] = [0, 0, 0]
    total = 0
    parts.forEach((part, k) => {
      part.from(sample)
      const [lr, li] = [part.sum.re - polesSeen.sum.re - part.seconds, part.sum.im - polesSeen.sum.im]
      const { re: cr, im: ci, size } = sample.terms[k]
      part.size = size
      part.slope = hypotenuse(lr, li)
      // d ln|c|/dω = −Im l
      part.growth = Math.max(0, -li)
      total += size
      if (size > 1.01 * hypotenuse(cr, ci)) faintest += size * part.slope
      else {
        re += cr * lr - ci * li
        im += cr * li + ci * lr
      }
    })
    linear = hypotenuse(re, im) + faintest
    room = share * hypotenuse(sample.value.re, sample.value.im)
  }
  const isShort = (step: number, wide: number): boolean => {
    const radius = step + wide
    if (total < faint) {
      let size = 0
      const shrink = polesSeen.shrink(radius)
      for (const part of parts) size += (part.size * Math.exp(part.seconds * wide) * part.growAt(radius)) / shrink
      if (shrink > 0 && size <= share) return true
    }
    const common = polesSeen.curvature(radius)
    let [size, change] = [0, linear * radius]
    for (const part of parts) {
      if (part.size === 0) continue
      const bend = ((common + part.curvature(radius)) * radius * radius) / 2
      size += part.size * Math.exp(part.growth * step + part.slope * wide + bend)
      change += part.size * (bend + aboveLine(part.slope * radius + bend))
    }
    return size <= share || change <= room
  }
  return (sample, first, beside) => {
    look(sample)
    let step = first
    while (!isShort(step, beside(sample.im + step))) {
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
  const distances = poles.re.map((re, k) => hypotenuse(sample.re - re, sample.im - poles.im[k]))
  // Above a pole the distance to it grows along the path.
  if (!distances.every((distance, k) => sample.im - poles.im[k] > 2 * slope * distance)) return false
  total = 0
  terms.forEach(({ zeros, seconds }, term) => {
    let bound = sample.terms[term].size * Math.exp(change * seconds)
    for (let k = 0; k < zeros.re.length; k++) {
      // |s − z|/|s − p| ≤ 1 + |z − p|/|s − p| from here on, over what it is here
      const apart = hypotenuse(zeros.re[k] - poles.re[k], zeros.im[k] - poles.im[k])
      bound *= (distances[k] + apart) / hypotenuse(sample.re - zeros.re[k], sample.im - zeros.im[k])
    }
    total += bound
  })
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
      sum.re = 0
      sum.im = 0
      for (let k = 0; k < re.length; k++) {
        const [a, b] = [s.re - re[k], s.im - im[k]]
        const distance = hypotenuse(a, b)
        distances[k] = distance
        sum.re += a / distance / distance
        sum.im -= b / distance / distance
      }
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
