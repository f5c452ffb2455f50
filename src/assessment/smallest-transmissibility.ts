import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { checkSpectrum } from '../vibration/check.js'
import { significantCoherence } from '../vibration/transfer-estimate.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { densityFunction } from './density-function.js'

/** Options of {@link smallestTransmissibility}. */
export interface SmallestTransmissibilityOptions {
  /** Motion of the floor during the test */
  readonly floor: SpectrumLiteral
  /** Own noise of the sensor on the payload, same quantity */
  readonly payloadSensorNoise: SpectrumLiteral
  /** Own noise of the sensor on the floor, same quantity. @defaultValue none */
  readonly floorSensorNoise?: SpectrumLiteral
  /** Number of independent segments, at least 2 */
  readonly averages: number
  /** Probability with which a payload at rest shows less coherence, 0.5 to below 1. @defaultValue 0.95 */
  readonly confidence?: number
}

/** The smallest transmissibility that a test can tell from none. */
export interface SmallestTransmissibility {
  readonly kind: 'SmallestTransmissibility'
  /** [Hz] */
  readonly frequency: Float64Array
  /** Payload over floor; Infinity where no coherence can arise */
  readonly transmissibility: Float64Array
  /** The coherence it takes */
  readonly significantCoherence: number
}

/** The smallest transmissibility that a pair of sensors can prove on a given floor with a given number of averages.
 *
 * Coherence must exceed γ₀² = 1 − (1 − confidence)^(1/(n − 1)). With a floor S, and noise N_f and N_p of the sensors,
 * γ² = T²S²/((S + N_f)(T²S + N_p)), so T² = γ₀²(S + N_f)·N_p/(S·(S − γ₀²(S + N_f))). A measured transmissibility below is
 * that of the sensor. It falls as 1/√n only.
 * @param options - see {@link SmallestTransmissibilityOptions}
 * @returns one value per frequency of the floor above 0 Hz that all spectra cover
 * @throws {@link IsolationError} `invalid-option` for spectra of different quantities; `out-of-range` where they have no
 * frequency in common
 * @source J. S. Bendat, A. G. Piersol, Random Data, chapters 6 and 9; derived from the coherence
 * @example
 * import { smallestTransmissibility } from 'restmass'
 * const flat = (density: number) => ({ quantity: 'velocity', frequency: [1, 100], density: [density, density] }) as const
 * const test = { floor: flat(1e-12), payloadSensorNoise: flat(1e-16), averages: 100 }
 * smallestTransmissibility(test).transmissibility[0] // 0.00175278
 */
export function smallestTransmissibility(options: SmallestTransmissibilityOptions): SmallestTransmissibility {
  const scope = scopeOf('smallestTransmissibility')
  checkOptions(scope, options, ['floor', 'payloadSensorNoise', 'floorSensorNoise', 'averages', 'confidence'])
  const floor = checkSpectrum(within(scope, 'floor'), options.floor)
  const own = sameQuantity(scope, 'payloadSensorNoise', options.payloadSensorNoise, floor)
  const reference =
    options.floorSensorNoise === undefined
      ? null
      : sameQuantity(scope, 'floorSensorNoise', options.floorSensorNoise, floor)
  const averages = checkNumber(scope, 'averages', options.averages, { atLeast: 2, atMost: 1e12 })
  const confidence = checkOptional(scope, 'confidence', options.confidence, { atLeast: 0.5, below: 1 }, 0.95)
  const threshold = significantCoherence(averages, confidence)
  const kept = Array.from(floor.frequency, (_, k) => k).filter((k) => {
    const f = floor.frequency[k]
    return f > 0 && f >= own.from && f <= own.to && (reference === null || (f >= reference.from && f <= reference.to))
  })
  if (kept.length === 0) fail('out-of-range', within(scope, 'floor'), 'must share a frequency with the noise')
  const frequency = Float64Array.from(kept, (k) => floor.frequency[k])
  const transmissibility = Float64Array.from(kept, (k, i) => {
    const S = floor.density[k]
    const seen = threshold * (S + (reference?.at(frequency[i]) ?? 0))
    return S > seen ? Math.sqrt((seen * own.at(frequency[i])) / S / (S - seen)) : Infinity
  })
  return { kind: 'SmallestTransmissibility', frequency, transmissibility, significantCoherence: threshold }
}

function sameQuantity(scope: Scope, key: string, value: SpectrumLiteral, { quantity }: Spectrum) {
  const at = within(scope, key)
  const checked = checkSpectrum(at, value)
  if (checked.quantity === quantity) return densityFunction(checked)
  fail('invalid-option', within(at, 'quantity'), `must be '${quantity}' like the floor, got '${checked.quantity}'`)
}
