import { fourierPlan } from '../linear/fourier.js'
import { loadPair, type Segmentation, scaleToDensity } from './segmentation.js'

/** One-sided densities of two records and the cross density conj(X)·Y between them. */
export interface CrossSums {
  readonly xx: Float64Array
  readonly yy: Float64Array
  readonly re: Float64Array
  readonly im: Float64Array
}

/** Averages over all segments. Two segments of the input share one transform and two of the output another, so that neither
 * signal leaks into the other by rounding. */
export function crossSums(plan: Segmentation, input: Float64Array, output: Float64Array): CrossSums {
  const { length } = plan
  const make = (size: number): Float64Array => new Float64Array(size)
  const lines = plan.frequency.length
  const sums: CrossSums = { xx: make(lines), yy: make(lines), re: make(lines), im: make(lines) }
  const transform = fourierPlan(length).transform
  const data = make(2 * length)
  const X = make(2 * length)
  const Y = make(2 * length)
  for (let first = 0; first < plan.count; first += 2) {
    loadPair(plan, input, first, plan.count, data)
    transform(X, data)
    loadPair(plan, output, first, plan.count, data)
    transform(Y, data)
    addPair(sums, X, Y, length)
  }
  for (const list of [sums.xx, sums.yy, sums.re, sums.im]) scaleToDensity(plan, list, plan.count)
  return sums
}

/** Of Z = transform of a + ib: A_k = (Z_k + conj Z_(L−k))/2 and B_k = (Z_k − conj Z_(L−k))/2i. */
function addPair({ xx, yy, re, im }: CrossSums, X: Float64Array, Y: Float64Array, length: number): void {
  for (let k = 0; k < xx.length; k++) {
    const i = 2 * k
    const j = k === 0 ? 0 : 2 * (length - k)
    const xaRe = 0.5 * (X[i] + X[j])
    const xaIm = 0.5 * (X[i + 1] - X[j + 1])
    const xbRe = 0.5 * (X[i + 1] + X[j + 1])
    const xbIm = 0.5 * (X[j] - X[i])
    const yaRe = 0.5 * (Y[i] + Y[j])
    const yaIm = 0.5 * (Y[i + 1] - Y[j + 1])
    const ybRe = 0.5 * (Y[i + 1] + Y[j + 1])
    const ybIm = 0.5 * (Y[j] - Y[i])
    xx[k] += xaRe * xaRe + xaIm * xaIm + xbRe * xbRe + xbIm * xbIm
    yy[k] += yaRe * yaRe + yaIm * yaIm + ybRe * ybRe + ybIm * ybIm
    re[k] += xaRe * yaRe + xaIm * yaIm + xbRe * ybRe + xbIm * ybIm
    im[k] += xaRe * yaIm - xaIm * yaRe + xbRe * ybIm - xbIm * ybRe
  }
}
