import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { cascade, secondOrder } from '../systems/section.js'
import type { StateSpace } from '../systems/types.js'

/** Options of {@link cornerExtension}. */
export interface CornerExtensionOptions {
  /** Natural frequency of the sensor [Hz], above 0 */
  readonly naturalFrequency: number
  /** Fraction of critical damping of the sensor, above 0 */
  readonly dampingRatio: number
  /** Corner that takes its place [Hz], above 0 */
  readonly extendedTo: number
  /** Fraction of critical damping at the new corner, above 0. @defaultValue 1/√2 */
  readonly extendedDampingRatio?: number
}

/** An inverse filter that moves the lower corner of a sensor.
 *
 *     (s² + 2ζω₀s + ω₀²)/(s² + 2ζ₁ω₁s + ω₁²)
 *
 * Behind s²/(s² + 2ζω₀s + ω₀²) it leaves s²/(s² + 2ζ₁ω₁s + ω₁²). Below the old corner it amplifies, noise, tilt and drift
 * included, by up to (ω₀/ω₁)²; {@link filteredSensor} carries the noise along. A sensor that differs from the numbers given
 * leaves a dipole at its corner.
 * @param options - see {@link CornerExtensionOptions}
 * @returns a block with one input and one output, unit gain at high frequency
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source E. Wielandt, Seismic sensors and their calibration, in: New Manual of Seismological Observatory Practice, chapter 5
 * @example
 * import { cornerExtension, dcGain } from 'restmass'
 * dcGain(cornerExtension({ naturalFrequency: 4.5, dampingRatio: 0.56, extendedTo: 0.5 }))[0][0] // 81.000
 */
export function cornerExtension(options: CornerExtensionOptions): StateSpace<'signal', 'extended'> {
  const scope = scopeOf('cornerExtension')
  checkOptions(scope, options, ['naturalFrequency', 'dampingRatio', 'extendedTo', 'extendedDampingRatio'])
  const frequency = checkNumber(scope, 'naturalFrequency', options.naturalFrequency, { unit: 'Hz', above: 0 })
  const damping = checkNumber(scope, 'dampingRatio', options.dampingRatio, { above: 0 })
  const corner = checkNumber(scope, 'extendedTo', options.extendedTo, { unit: 'Hz', above: 0 })
  const ratio = frequency / corner
  const extended = checkOptional(
    scope,
    'extendedDampingRatio',
    options.extendedDampingRatio,
    { above: 0 },
    Math.SQRT1_2,
  )
  const section = secondOrder(2 * Math.PI * corner, extended, {
    direct: 1,
    rate: 2 * damping * ratio,
    level: ratio * ratio,
  })
  return cascade(scope, [section], { input: 'signal', output: 'extended' })
}
