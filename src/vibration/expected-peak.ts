import { checkNumber, checkOneOf, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { checkSpectrum } from './check.js'
import { checkCovered, coveredRange, meanSquare } from './mean-square.js'
import { scaledDensity } from './scaled-density.js'
import type { SpectrumLiteral } from './types.js'

/** Options of {@link expectedPeak}. */
export interface ExpectedPeakOptions {
  /** Root mean square [unit], at least 0; with `frequency`, or `spectrum` instead of both */
  readonly rms?: number
  /** Mean frequency of the motion [Hz], above 0: the centre of a narrow band */
  readonly frequency?: number
  /** Density of the motion, whose moments give rms and mean frequency √(∫f²S df/∫S df); lines or points */
  readonly spectrum?: SpectrumLiteral
  /** Lower limit for `spectrum` [Hz]. @defaultValue all that it covers */
  readonly from?: number
  /** Upper limit for `spectrum` [Hz]. @defaultValue all that it covers */
  readonly to?: number
  /** Time over which the peak is held [s]; at least ten cycles */
  readonly duration: number
  /** Whether peaks of either sign count, or those of one sign only. @defaultValue `'either'` */
  readonly sign?: 'either' | 'one'
  /** Probability with which each bound holds, 0.5 to 0.9999. @defaultValue 0.95 */
  readonly confidence?: number
}

/** Largest excursion of a Gaussian motion within a time. */
export interface ExpectedPeak {
  readonly kind: 'ExpectedPeak'
  /** Expected largest excursion [unit] */
  readonly peak: number
  /** The same over the rms. */
  readonly peakFactor: number
  /** The largest excursion is above this with the given confidence [unit]. */
  readonly lower: number
  /** The largest excursion is below this with the given confidence [unit]. */
  readonly upper: number
  /** Probability with which each bound holds. */
  readonly confidence: number
  /** Root mean square [unit] */
  readonly rms: number
  /** Upward crossings of zero per second, ν₀ [Hz] */
  readonly frequency: number
  /** Number of peaks that compete, ν₀·duration, twice as many where either sign counts. */
  readonly cycles: number
}

/** What a peak meter will read of a Gaussian random motion of known rms: the longer it is held, the more.
 *
 * Crossings of a high level x·rms are rare and independent: P(peak < x) = exp(−N e^(−x²/2)) with N = ν₀·duration, twice that for
 * peaks of either sign. The expected peak ∫(1 − P)dx is √(2 ln N) + 0.577/√(2 ln N) for large N. Peaks of a narrow band
 * come in groups, which makes the true one somewhat lower; tones, shocks and footsteps are not Gaussian. A peak is not to be held
 * against an rms criterion, nor divided by √2 to become one.
 * @param options - see {@link ExpectedPeakOptions}
 * @returns expected peak, bounds, and what they rest on
 * @throws {@link IsolationError} `out-of-range` for fewer than ten cycles or limits that the spectrum does not cover;
 * `invalid-option`, `not-finite`
 * @source S. O. Rice, Mathematical analysis of random noise, Bell System Technical Journal 23-24 (1944-1945), part III; A. G.
 * Davenport, Note on the distribution of the largest value of a random function, Proc. Institution of Civil Engineers 28 (1964) 187-196
 * @example
 * import { expectedPeak } from 'restmass'
 * const { peak } = expectedPeak({ rms: 4e-6, frequency: 10, duration: 60 })
 * peak // 1.561e-5
 */
export function expectedPeak(options: ExpectedPeakOptions): ExpectedPeak {
  const scope = scopeOf('expectedPeak')
  checkOptions(scope, options, ['rms', 'frequency', 'spectrum', 'from', 'to', 'duration', 'sign', 'confidence'])
  const { rms, frequency } = options.spectrum === undefined ? givenMoments() : spectrumMoments(options.spectrum)
  const sign = options.sign === undefined ? 'either' : checkOneOf(scope, 'sign', options.sign, ['either', 'one'])
  const confidence = checkOptional(scope, 'confidence', options.confidence, { atLeast: 0.5, atMost: 0.9999 }, 0.95)
  const range = { unit: 's', atLeast: 10 / frequency, atMost: 1e15 / frequency }
  const duration = checkNumber(scope, 'duration', options.duration, range)
  const cycles = frequency * duration * (sign === 'either' ? 2 : 1)
  const level = (probability: number) => rms * Math.sqrt(2 * Math.log(cycles / -Math.log(probability)))
  const peakFactor = meanLargest(cycles)
  return {
    kind: 'ExpectedPeak',
    peak: finiteResult(scope, 'peak', rms * peakFactor),
    peakFactor,
    lower: level(1 - confidence),
    upper: finiteResult(scope, 'peak', level(confidence)),
    confidence,
    rms,
    frequency,
    cycles,
  }

  function givenMoments(): { rms: number; frequency: number } {
    for (const key of ['from', 'to'] as const) {
      if (options[key] !== undefined) fail('invalid-option', within(scope, key), 'belongs to spectrum')
    }
    return {
      rms: checkNumber(scope, 'rms', options.rms, { atLeast: 0 }),
      frequency: checkNumber(scope, 'frequency', options.frequency, { unit: 'Hz', atLeast: 1e-50, atMost: 1e50 }),
    }
  }

  function spectrumMoments(value: SpectrumLiteral): { rms: number; frequency: number } {
    for (const key of ['rms', 'frequency'] as const) {
      if (options[key] !== undefined) fail('invalid-option', within(scope, key), 'must be left out with spectrum')
    }
    const at = within(scope, 'spectrum')
    const checked = checkSpectrum(at, value)
    const [start, end] = coveredRange(checked)
    const from = checkOptional(scope, 'from', options.from, { unit: 'Hz', atLeast: 0 }, start)
    const to = checkOptional(scope, 'to', options.to, { unit: 'Hz', above: Math.max(0, from) }, end)
    checkCovered(scope, checked, from, to)
    const square = meanSquare(checked, from, to)
    const second = meanSquare(
      scaledDensity(at, checked, checked.quantity, (f) => f),
      from,
      to,
    )
    if (!(square > 0 && second > 0)) fail('out-of-range', at, 'must hold power above 0 Hz between its limits')
    return { rms: Math.sqrt(square), frequency: Math.sqrt(second / square) }
  }
}

/** Mean of the largest of N Rayleigh peaks: ∫ 1 − exp(−N e^(−x²/2)) dx by Simpson's rule, to 1e-9. */
function meanLargest(cycles: number): number {
  const steps = 2000
  const end = Math.sqrt(2 * Math.log(cycles)) + 8
  let sum = -Math.expm1(-cycles)
  for (let i = 1; i < steps; i++) {
    const x = (i * end) / steps
    sum -= (i % 2 === 0 ? 2 : 4) * Math.expm1(-cycles * Math.exp((-x * x) / 2))
  }
  return (sum * end) / steps / 3
}
