import { fail, type Scope, within } from '../internal/check.js'
import { logRatio } from '../internal/log-ratio.js'
import type { Spectrum } from './types.js'

/** Range of frequencies [Hz] that a spectrum covers; lines reach half a spacing beyond the outer ones, so that the range
 * may begin below 0. */
export function coveredRange(spectrum: Spectrum): readonly [from: number, to: number] {
  const { frequency, support } = spectrum
  const reach = support === 'lines' ? lineSpacing(frequency) / 2 : 0
  return [frequency[0] - reach, frequency[frequency.length - 1] + reach]
}

/** Spacing [Hz] of the lines of an equally spaced grid. */
export function lineSpacing(frequency: Float64Array): number {
  return (frequency[frequency.length - 1] - frequency[0]) / (frequency.length - 1)
}

/** Refuses a range that a spectrum does not cover, up to the rounding of its ends, by the end that lies outside or by `key`. */
export function checkCovered(scope: Scope, spectrum: Spectrum, from: number, to: number, key?: string): void {
  const [start, end] = coveredRange(spectrum)
  const low = from < start - 1e-9 * Math.abs(from)
  if (!low && to <= end * (1 + 1e-9)) return
  const covered = `${Math.max(0, start)} to ${end} Hz`
  fail(
    'out-of-range',
    within(scope, key ?? (low ? 'from' : 'to')),
    `must be within what the spectrum covers, ${covered}; ${from} to ${to} Hz is not`,
    {
      value: low ? from : to,
      allowed: covered,
      unit: 'Hz',
    },
  )
}

/** Integral of the density from `from` to `to` [unit²]; what lies outside the spectrum counts as nothing.
 *
 * Lines: constant over their width, shared where a limit falls inside. Points: a power law through each pair of neighbours,
 * integrated exactly; linear where the pair touches zero frequency or zero density.
 */
export function meanSquare(spectrum: Spectrum, from: number, to: number): number {
  return spectrum.support === 'lines' ? overLines(spectrum, from, to) : overPoints(spectrum, from, to)
}

function overLines({ frequency, density }: Spectrum, from: number, to: number): number {
  const spacing = lineSpacing(frequency)
  const start = frequency[0] - spacing / 2
  // Limits in units of lines from the lower edge of the first one.
  const lower = Math.max(0, (from - start) / spacing)
  const upper = Math.min(density.length, (to - start) / spacing)
  let sum = 0
  for (let k = Math.floor(lower); k < upper; k++) {
    sum += density[k] * (Math.min(upper, k + 1) - Math.max(lower, k))
  }
  return sum * spacing
}

function overPoints({ frequency, density }: Spectrum, from: number, to: number): number {
  let sum = 0
  for (let k = segmentAt(frequency, from); k + 1 < frequency.length && frequency[k] < to; k++) {
    const lower = Math.max(from, frequency[k])
    const upper = Math.min(to, frequency[k + 1])
    if (upper > lower) sum += overPiece(frequency[k], frequency[k + 1], density[k], density[k + 1], lower, upper)
  }
  return sum
}

/** Index of the last point at or below `from`, or 0. */
function segmentAt(frequency: Float64Array, from: number): number {
  let low = 0
  let high = frequency.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (frequency[middle] <= from) low = middle
    else high = middle
  }
  return low
}

/** Integral from a to b within the piece that joins (f1, s1) and (f2, s2). */
function overPiece(f1: number, f2: number, s1: number, s2: number, a: number, b: number): number {
  if (f1 === 0 || s1 === 0 || s2 === 0) {
    const slope = (s2 - s1) / (f2 - f1)
    return (b - a) * (s1 + slope * ((a + b) / 2 - f1))
  }
  const whole = logRatio(f2, f1)
  const exponent = (Math.log(s2) - Math.log(s1)) / whole
  const atA = a === f1 ? a * s1 : a * s1 * Math.exp(exponent * logRatio(a, f1))
  const atB = b === f2 ? b * s2 : b * s2 * Math.exp(exponent * logRatio(b, f2))
  // ∫ = a·S(a)·ln(b/a)·(e^u − 1)/u with u the change of ln(f·S): no special case at slope −1, taken from the larger end.
  const width = a === f1 && b === f2 ? whole : logRatio(b, a)
  const change = (exponent + 1) * width
  if (change === 0) return atA * width
  return change > 0 ? (-atB * width * Math.expm1(-change)) / change : (atA * width * Math.expm1(change)) / change
}
