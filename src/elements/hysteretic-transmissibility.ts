import { checkGrid, checkNumber, checkOptions, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { ComplexSeries } from '../systems/types.js'

/** Options of {@link hystereticTransmissibility}. */
export interface HystereticTransmissibilityOptions {
  /** Undamped natural frequency f₀ [Hz], above 0 */
  readonly naturalFrequency: number
  /** Loss factor η of the mount, the same at all frequencies, above 0, at most 3 */
  readonly lossFactor: number
}

/** Transmissibility of a mass on a mount of constant stiffness and constant loss factor (structural, hysteretic damping).
 *
 * T = (1 + jη) / (1 − r² + jη), r = f/f₀; 1 in size at r = √2 for every η, above it of slope −2. A formula of the frequency
 * domain only: such a mount is not causal, it would answer before it is moved, so that no model in time has it and no concept
 * takes it. `elastomerMount` is its causal counterpart, with a stiffness that rises with frequency as the losses demand.
 * @param options - see {@link HystereticTransmissibilityOptions}
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @returns payload over floor, no unit
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source J. C. Snowdon, Vibration Isolation: Use and Characterization, NBS Handbook 128, 1979; J. Woodhouse, Linear damping
 * models for structural vibration, J. Sound Vib. 215, 1998 (causality)
 * @example
 * import { hystereticTransmissibility, magnitude } from 'restmass'
 * magnitude(hystereticTransmissibility({ naturalFrequency: 8, lossFactor: 0.1 }, [8, 80]))[1] // 0.010151
 */
export function hystereticTransmissibility(
  options: HystereticTransmissibilityOptions,
  frequencies: readonly number[] | Float64Array,
): ComplexSeries {
  const scope = scopeOf('hystereticTransmissibility')
  checkOptions(scope, options, ['naturalFrequency', 'lossFactor'])
  const natural = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const eta = checkNumber(scope, 'lossFactor', options.lossFactor, { above: 0, atMost: 3 })
  const frequency = checkGrid(scope, 'frequencies', frequencies, { unit: 'Hz', atLeast: 0 })
  // T = (1 + jη)/(d + jη) with both sides divided by the size of the denominator, so that no square overflows.
  const parts = Array.from(frequency, (f) => {
    const rest = Math.max(1 - (f / natural) ** 2, -Number.MAX_VALUE)
    const size = Math.hypot(rest, eta)
    const [re, im] = [rest / size, eta / size]
    const at = within(scope, 'lossFactor')
    return [re + eta * im, eta * re - im].map((part) => finiteResult(at, 'transmissibility', part / size))
  })
  return {
    kind: 'ComplexSeries',
    frequency,
    re: Float64Array.from(parts, ([re]) => re),
    im: Float64Array.from(parts, ([, im]) => im),
  }
}
