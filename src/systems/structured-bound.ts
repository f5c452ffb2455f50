import { mostOf } from '../internal/extremes.js'
import type { ComplexDense } from '../linear/complex-lu.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { localMinimum } from '../linear/scalar-search.js'
import { largestSingularValue } from '../linear/singular-value.js'

/** Upper bound on the structured singular value of a square matrix for one complex uncertainty per channel: the largest
 * singular value of D M D⁻¹, D diagonal. Exact for one and two channels, where balancing finds the best D. */
export function structuredBound(M: ComplexDense): number {
  return scaledGain(M, M.rows === 1 ? [1] : balancingScales(M))
}

/** Largest singular value of D M D⁻¹. */
export function scaledGain(M: ComplexDense, scales: readonly number[]): number {
  const n = M.rows
  if (n === 1) return hypotenuse(M.re[0], M.im[0])
  const scaled = { ...M, re: M.re.slice(), im: M.im.slice() }
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      scaled.re[i * n + j] *= scales[i] / scales[j]
      scaled.im[i * n + j] *= scales[i] / scales[j]
    }
  }
  // Without convergence the root of the sum of squares, which is never smaller.
  return n === 2 ? gainOfTwo(scaled) : (largestSingularValue(scaled) ?? Math.hypot(...scaled.re, ...scaled.im))
}

/** One diagonal D for all samples, with the largest of their gains as small as a search along each channel makes it. */
export function bestScales(samples: readonly ComplexDense[]): number[] {
  const n = samples[0].rows
  const worst = (scales: readonly number[]) => samples.reduce((most, M) => Math.max(most, scaledGain(M, scales)), 0)
  const gains = samples.map(structuredBound)
  const starts = [samples[gains.indexOf(mostOf(gains))], largestEntries(samples)].map(balancingScales)
  let scales = starts.reduce((best, start) => (worst(start) < worst(best) ? start : best))
  for (let round = 0; n > 1 && round < 3; round++) {
    for (let k = 1; k < n; k++) {
      const trial = (x: number) => scales.map((value, i) => (i === k ? value * Math.exp(x) : value))
      const reach = round === 0 ? 12 : 2
      const step = localMinimum((x) => worst(trial(x)), -reach, reach)
      if (step.value < worst(scales)) scales = trial(step.x)
    }
  }
  return scales
}

/** The largest modulus of each entry over all samples. */
function largestEntries(samples: readonly ComplexDense[]): ComplexDense {
  const re = samples[0].re.map((_, k) =>
    samples.reduce((most, sample) => Math.max(most, hypotenuse(sample.re[k], sample.im[k])), 0),
  )
  return { ...samples[0], re, im: re.map(() => 0) }
}

/** Scales that give row and column of each channel equal norms without the diagonal.
 * @source E. E. Osborne, J. ACM 7 (1960) 338 */
function balancingScales({ rows: n, re, im }: ComplexDense): number[] {
  const size = Array.from(re, (value, k) => value * value + im[k] * im[k])
  const squares = new Array<number>(n).fill(1)
  for (let round = 0; round < (n > 2 ? 30 : 1); round++) {
    for (let k = 1; k < n; k++) {
      let row = 0
      let column = 0
      for (let j = 0; j < n; j++) {
        if (j === k) continue
        row += size[k * n + j] / squares[j]
        column += size[j * n + k] * squares[j]
      }
      // A path one way only is no loop: its entry can be scaled away.
      if (row + column > 0) squares[k] = Math.min(1e12, Math.max(1e-12, Math.sqrt(column / row)))
    }
  }
  return squares.map(Math.sqrt)
}

/** Largest singular value of a 2 × 2 matrix from its squares and its determinant. */
function gainOfTwo({ re, im }: ComplexDense): number {
  const square = re.reduce((sum, value, k) => sum + value * value + im[k] * im[k], 0)
  const a = re[0] * re[3] - im[0] * im[3] - re[1] * re[2] + im[1] * im[2]
  const b = re[0] * im[3] + im[0] * re[3] - re[1] * im[2] - im[1] * re[2]
  const half = Math.max(0, square * square - 4 * (a * a + b * b))
  return Math.sqrt((square + Math.sqrt(half)) / 2)
}
