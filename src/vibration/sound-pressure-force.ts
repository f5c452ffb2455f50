import { checkNumber, checkOneOf, checkOptional, checkOptions, fail, scopeOf, show, within } from '../internal/check.js'
import { checkSpectrum } from './check.js'
import { scaledDensity } from './scaled-density.js'
import type { Spectrum, SpectrumLiteral } from './types.js'

/** Options of {@link soundPressureForce}. */
export interface SoundPressureForceOptions {
  /** Area of the face that the sound pushes on [m²], above 0 */
  readonly area: number
  /** Whether sound reaches one face only, as over a closed frame, or the opposite face as well */
  readonly faces: 'one-face' | 'both-faces'
  /** Distance of the two faces [m], above 0; needed for 'both-faces', refused with 'one-face' */
  readonly depth?: number
  /** [m/s], above 0. @defaultValue 343, air at 20 °C */
  readonly speedOfSound?: number
}

/** Force of sound on a payload, as a spectrum to be given as `payloadForce`.
 *
 * One face: F = p·area. Both faces: the pressures cancel but for what they differ over the depth, F = p·area·2πf·depth/c,
 * at most 2·p·area. Both are upper bounds for a payload smaller than the wavelength (34 m at 10 Hz, 1.7 m at 200 Hz).
 * Above the resonances the payload follows as a free mass, v = F/(2πf·m), whatever the mounts: softer ones do not help.
 * That sound is the cause shows in the coherence with a microphone, not with the floor.
 * @param pressure - a spectrum of pressure [Pa²/Hz]
 * @param options - see {@link SoundPressureForceOptions}
 * @returns a force spectrum [N²/Hz] on the same grid
 * @throws {@link IsolationError} `unsupported` for a spectrum of another quantity; `invalid-option`, `out-of-range`,
 * `not-finite`, `dimension-mismatch`
 * @source P. M. Morse, K. U. Ingard, Theoretical Acoustics, 1968 (plane waves: pressure difference p·k·d); from memory
 * @example
 * import { pressureFromLevels, rms, soundPressureForce } from 'restmass'
 * const room = pressureFromLevels({ nominal: [10], level: [70] })
 * rms(soundPressureForce(room, { area: 0.96, faces: 'one-face' })) // 0.060716
 */
export function soundPressureForce(pressure: SpectrumLiteral, options: SoundPressureForceOptions): Spectrum {
  const scope = scopeOf('soundPressureForce')
  const at = within(scope, 'pressure')
  const checked = checkSpectrum(at, pressure)
  if (checked.quantity !== 'pressure') {
    fail('unsupported', within(at, 'quantity'), `must be 'pressure', got ${show(checked.quantity)}`)
  }
  checkOptions(scope, options, ['area', 'faces', 'depth', 'speedOfSound'])
  const area = checkNumber(scope, 'area', options.area, { unit: 'm²', above: 0 })
  const faces = checkOneOf(scope, 'faces', options.faces, ['one-face', 'both-faces'])
  const speed = checkOptional(scope, 'speedOfSound', options.speedOfSound, { unit: 'm/s', above: 0 }, 343)
  if (faces === 'one-face') {
    checkOptions(scope, options, ['area', 'faces', 'speedOfSound'])
    return scaledDensity(at, checked, 'force', () => area)
  }
  const depth = checkNumber(scope, 'depth', options.depth, { unit: 'm', above: 0 })
  return scaledDensity(
    at,
    checked,
    'force',
    (frequency) => area * Math.min((2 * Math.PI * frequency * depth) / speed, 2),
  )
}
