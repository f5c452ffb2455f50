import {
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptional,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { averagesRange, densityRange } from '../vibration/check.js'
import type { TransferEstimate } from '../vibration/types.js'
import { windowNames, windowValues } from '../vibration/window-values.js'

/** Checks that a value is a transfer estimate with its lists. */
export function checkEstimate(scope: Scope, estimate: TransferEstimate): TransferEstimate {
  const lists = ['frequency', 're', 'im', 'coherence', 'inputDensity', 'outputDensity'] as const
  if (
    typeof estimate !== 'object' ||
    estimate === null ||
    estimate.kind !== 'TransferEstimate' ||
    !lists.every((key) => estimate[key] instanceof Float64Array && estimate[key].length === estimate.frequency.length)
  ) {
    fail('invalid-option', scope, `needs a TransferEstimate, got ${show(estimate)}`)
  }
  for (const key of lists) checkNumbers(scope, key, estimate[key])
  checkNumbers(scope, 'coherence', estimate.coherence, { atLeast: 0, atMost: 1 + 1e-9 })
  for (const key of ['inputDensity', 'outputDensity'] as const) checkNumbers(scope, key, estimate[key], densityRange)
  checkNumbers(scope, 'undefinedLines', estimate.undefinedLines)
  const even = 2 * (estimate.frequency.length - 1)
  checkNumber(scope, 'segmentLength', estimate.segmentLength, {
    integer: true,
    atLeast: Math.max(2, even),
    atMost: even + 1,
  })
  checkNumber(scope, 'effectiveAverages', estimate.effectiveAverages, averagesRange)
  checkOneOf(scope, 'window', estimate.window, windowNames)
  checkNumber(scope, 'overlap', estimate.overlap, { atLeast: 0, below: 1 })
  checkNumber(scope, 'averages', estimate.averages, { integer: true, atLeast: 1, atMost: averagesRange.atMost })
  return estimate
}

/** The lines asked for, checked. */
export function checkedLines(
  scope: Scope,
  estimate: TransferEstimate,
  options: { readonly from?: number; readonly to?: number },
): number[] {
  const from = checkOptional(scope, 'from', options.from, { unit: 'Hz', atLeast: 0 }, 0)
  const to = checkOptional(scope, 'to', options.to, { unit: 'Hz', atLeast: from }, Infinity)
  const lines = linesWithin(estimate, from, to)
  if (lines.length === 0) fail('out-of-range', within(scope, 'from'), 'to to must hold a line with input power')
  return lines
}

/** Indices of the lines above 0 Hz within a range [Hz] that have input power. */
function linesWithin(
  { frequency, inputDensity, undefinedLines }: TransferEstimate,
  from: number,
  to: number,
): number[] {
  const without = new Set(undefinedLines)
  return Array.from(frequency, (_, k) => k).filter(
    (k) => frequency[k] > 0 && frequency[k] >= from && frequency[k] <= to && inputDensity[k] > 0 && !without.has(k),
  )
}

/** Standard deviation of the real and of the imaginary part of H1 in a line: √((1 − γ²)·S_yy/(2(n − 1)·S_xx)).
 *
 * A part in a million of |H1| and of the largest line are the least that is believed, so that records without noise can be
 * used.
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapter 9 (without bias: n − 1)
 */
export function standardDeviations(estimate: TransferEstimate, lines: readonly number[]): Float64Array {
  const { re, im, coherence, inputDensity, outputDensity, effectiveAverages } = estimate
  const magnitude = lines.map((k) => Math.hypot(re[k], im[k]))
  const least = 1e-9 * magnitude.reduce((most, value) => Math.max(most, value), Number.MIN_VALUE * 1e10)
  const freedom = 2 * Math.max(effectiveAverages - 1, 0.5)
  return Float64Array.from(lines, (k, i) => {
    const variance = (Math.max(0, 1 - coherence[k]) * outputDensity[k]) / inputDensity[k] / freedom
    return Math.max(Math.sqrt(variance), 1e-6 * magnitude[i], least)
  })
}

/** Points per line of the grid on which a model is read, and how many lines the window is followed to either side. */
const perLine = 3
const reach = 6

/** What a window makes of a response: a grid to read the model on, and the means that the lines will show of it. */
export interface Smearing {
  /** Grid [Hz], ascending */
  readonly frequency: Float64Array
  /** Expected real and imaginary parts of H1 in each line, one after the other, from the response on the grid */
  readonly smear: (re: Float64Array, im: Float64Array) => Float64Array
}

/** H1 of a floor that is flat within a few lines is the response averaged with the power |W|² of the window. */
export function smearing(estimate: TransferEstimate, lines: readonly number[]): Smearing {
  const { window, segmentLength, frequency } = estimate
  const spacing = frequency[1] / perLine
  const kernel = windowPower(windowValues(window, segmentLength))
  const first = Math.max(0, (lines[0] - reach) * perLine)
  const last = (lines[lines.length - 1] + reach) * perLine
  const count = last - first + 1
  const width = perLine * reach
  const smear = (re: Float64Array, im: Float64Array): Float64Array => {
    const out = new Float64Array(2 * lines.length)
    lines.forEach((line, i) => {
      for (let j = -width; j <= width; j++) {
        const at = line * perLine + j
        const k = Math.abs(at) - first
        out[2 * i] += kernel[j + width] * re[k]
        out[2 * i + 1] += kernel[j + width] * (at < 0 ? -im[k] : im[k])
      }
    })
    return out
  }
  return { frequency: Float64Array.from({ length: count }, (_, k) => (first + k) * spacing), smear }
}

/** |W|² from −reach to reach lines, normalised to a sum of 1. */
function windowPower(weights: Float64Array): Float64Array {
  const width = perLine * reach
  const power = new Float64Array(2 * width + 1)
  for (let j = -width; j <= width; j++) {
    let re = 0
    let im = 0
    const turn = (-2 * Math.PI * j) / perLine / weights.length
    weights.forEach((value, n) => {
      re += value * Math.cos(turn * n)
      im += value * Math.sin(turn * n)
    })
    power[j + width] = re * re + im * im
  }
  const sum = power.reduce((total, value) => total + value, 0)
  return power.map((value) => value / sum)
}
