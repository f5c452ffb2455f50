import { checkGrid, checkOneOf, scopeOf, within } from '../internal/check.js'
import { checkSpectrum, frequencyRange } from './check.js'
import { convertSpectrum } from './convert-spectrum.js'
import type { WeightingName } from './criterion-types.js'
import type { Spectrum, SpectrumLiteral } from './types.js'

/** Filter of a weighting: corners [Hz] and quality factors, by the numbers of the standards. */
interface Weighting {
  /** Band limits, Butterworth of second order each */
  readonly band: readonly [f1: number, f2: number]
  /** Transition from acceleration to velocity: (1 + s/ω3)/(1 + s/(Q4·ω4) + (s/ω4)²); without Q4 1/(1 + s/ω3) */
  readonly transition: readonly [f3: number] | readonly [f3: number, f4: number, Q4: number]
  /** Upward step: (ω5/ω6)²·(1 + s/(Q5·ω5) + (s/ω5)²)/(1 + s/(Q6·ω6) + (s/ω6)²) */
  readonly step?: readonly [f5: number, Q5: number, f6: number, Q6: number]
  readonly gain: number
}

const weightings: Readonly<Record<WeightingName, Weighting>> = {
  Wk: { band: [0.4, 100], transition: [12.5, 12.5, 0.63], step: [2.37, 0.91, 3.35, 0.91], gain: 1 },
  Wd: { band: [0.4, 100], transition: [2, 2, 0.63], gain: 1 },
  Wm: { band: [10 ** -0.1, 100], transition: [1 / (2 * Math.PI * 0.028)], gain: 1 },
  Wb: { band: [0.4, 100], transition: [16, 16, 0.55], step: [2.5, 0.9, 4, 0.95], gain: 1.024 },
  Wg: { band: [0.8, 100], transition: [1.5, 5.3, 0.68], gain: 0.42 },
}

/** Magnitude of a weighting of acceleration for human response.
 *
 * Computed from its definition, a chain of analogue filters, since tables that are a band off circulate. Wm: any posture in
 * buildings; Wk: vertical, seated or standing; Wd: horizontal; Wb and Wg: vertical, older British practice.
 * @param name - see {@link WeightingName}
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @returns factor on acceleration, one per frequency
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source ISO 2631-1:1997 (Wk, Wd), ISO 2631-2:2003 (Wm), BS 6841:1987 (Wb, Wg); numbers of Wk, Wd, Wm from memory
 * @example
 * import { weighting } from 'restmass'
 * weighting('Wk', [1, 10 ** 0.9])[1] // 1.0374
 */
export function weighting(name: WeightingName, frequencies: ArrayLike<number>): Float64Array {
  const scope = scopeOf('weighting')
  const filter = weightings[checkOneOf(scope, 'name', name, Object.keys(weightings) as WeightingName[])]
  return checkGrid(scope, 'frequencies', frequencies, frequencyRange).map((frequency) => magnitudeAt(filter, frequency))
}

/** Acceleration spectrum as weighted for human response: density times the square of the {@link weighting}.
 *
 * Its rms from 1 to 80 Hz is what the standards call the weighted acceleration.
 * @param spectrum - of acceleration, velocity or displacement
 * @param name - see {@link WeightingName}
 * @returns spectrum of weighted acceleration
 * @throws {@link IsolationError} as {@link convertSpectrum}
 * @source ISO 2631-1:1997, ISO 2631-2:2003
 * @example
 * import { rms, weightedSpectrum } from 'restmass'
 * const floor = { quantity: 'acceleration', frequency: [4.9, 5, 5.1], density: [0, 1e-4, 0] } as const
 * rms(weightedSpectrum(floor, 'Wd')) // 0.0012938
 */
export function weightedSpectrum(spectrum: SpectrumLiteral, name: WeightingName): Spectrum {
  const scope = scopeOf('weightedSpectrum')
  checkSpectrum(within(scope, 'spectrum'), spectrum)
  const filter = weightings[checkOneOf(scope, 'name', name, Object.keys(weightings) as WeightingName[])]
  const acceleration = convertSpectrum(spectrum, { to: 'acceleration' })
  const { frequency, density } = acceleration
  return { ...acceleration, density: density.map((value, k) => value * magnitudeAt(filter, frequency[k]) ** 2) }
}

function magnitudeAt({ band, transition, step, gain }: Weighting, frequency: number): number {
  if (frequency === 0) return 0
  const low = butterworth(band[0] / frequency)
  const high = butterworth(frequency / band[1])
  const lead = Math.hypot(1, frequency / transition[0])
  const turn = transition.length === 1 ? 1 / lead : lead / quadratic(frequency / transition[1], transition[2])
  if (step === undefined) return gain * low * high * turn
  const [f5, Q5, f6, Q6] = step
  const raised = ((f5 / f6) ** 2 * quadratic(frequency / f5, Q5)) / quadratic(frequency / f6, Q6)
  return gain * low * high * turn * raised
}

function butterworth(ratio: number): number {
  return 1 / Math.sqrt(1 + ratio ** 4)
}

/** |1 + jr/Q − r²| */
function quadratic(ratio: number, quality: number): number {
  return Math.hypot(1 - ratio * ratio, ratio / quality)
}
