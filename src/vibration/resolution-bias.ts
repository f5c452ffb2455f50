import { checkNumber, checkOneOf, checkOptions, scopeOf } from '../internal/check.js'
import type { WindowName } from './types.js'
import { windowNames, windowValues } from './window-values.js'

/** Options of {@link resolutionBias}. */
export interface ResolutionBiasOptions {
  /** [Hz], above 0 */
  readonly naturalFrequency: number
  /** Above 0 and below 1; 0.3 is the most that the formula is good for */
  readonly dampingRatio: number
  /** Length of a segment [s], above 0: segmentLength/sampleRate */
  readonly segmentDuration: number
  /** Window of the segments. @defaultValue `'hann'` */
  readonly window?: WindowName
}

/** Relative error of a measured resonance peak that the width of the lines causes, never above 0.
 *
 * Each segment sees the ringing only as long as the window overlaps itself: the peak of H1 is ∫ a(τ)·λ·e^(−λτ) dτ of the true
 * one, λ = 2π·ζ·f0, a the autocorrelation of the window scaled to a(0) = 1, for a floor that is flat around the peak. A fit
 * that takes peaks at face value reads about as much too much damping; {@link fitIsolator} does not. The common −(B_e/B_r)²/3
 * is for lines with sharp edges; a Hann window comes to −(4/3)/(B_r·T)², B_r = 2·ζ·f0, where lines are narrow.
 * @param options - see {@link ResolutionBiasOptions}
 * @returns relative error of |H1| at the peak, −1 to 0
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`, `not-finite`
 * @source derived; J. S. Bendat, A. G. Piersol, Random Data, chapter 8 (sharp lines)
 * @example
 * import { resolutionBias } from 'restmass'
 * resolutionBias({ naturalFrequency: 2, dampingRatio: 0.05, segmentDuration: 40 }) // -0.0197
 */
export function resolutionBias(options: ResolutionBiasOptions): number {
  const scope = scopeOf('resolutionBias')
  checkOptions(scope, options, ['naturalFrequency', 'dampingRatio', 'segmentDuration', 'window'])
  const hertz = { unit: 'Hz', above: 0, atMost: 1e50 }
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, hertz)
  const damping = checkNumber(scope, 'dampingRatio', options.dampingRatio, { above: 0, below: 1 })
  const duration = checkNumber(scope, 'segmentDuration', options.segmentDuration, { unit: 's', above: 0, atMost: 1e50 })
  const window = options.window === undefined ? 'hann' : checkOneOf(scope, 'window', options.window, windowNames)
  const decay = 2 * Math.PI * damping * frequency * duration
  const weights = windowValues(window, steps)
  const overlap = (lag: number): number => {
    let sum = 0
    for (let n = lag; n < steps; n++) sum += weights[n] * weights[n - lag]
    return sum
  }
  const whole = overlap(0)
  const step = decay / steps
  // (1 − e^(−x))/x, which is 1 for steps too short to tell.
  const mean = step > 0 ? -Math.expm1(-step) / step : 1
  // ∫ λ e^(−λτ) a dτ = 1 + ∫ e^(−λτ) a' dτ, with a straight between its samples.
  let bias = 0
  let before = 1
  for (let lag = 1; lag <= steps; lag++) {
    const now = overlap(lag) / whole
    bias += (now - before) * Math.exp(-step * (lag - 1)) * mean
    before = now
  }
  return bias
}

const steps = 512
