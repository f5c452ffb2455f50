import { fail, scopeOf, show, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import { checkSpectrum } from './check.js'
import { scaledDensity } from './scaled-density.js'
import type { Spectrum, SpectrumLiteral } from './types.js'

/** Acceleration that a horizontal inertial sensor reads from tilt: g·θ.
 *
 * With θ positive where the end towards +x is raised, the sensor reads x'' + g·θ: as a displacement x − (g/ω²)·θ. It cannot
 * tell the two apart, and the share of tilt grows as 1/f². A vertical sensor does not have it to first order. The place of
 * the sensor does not matter to g·θ, but rotation about a distant point also moves it: that part is true motion.
 * @param tilt - a spectrum of rotation about a horizontal axis [rad²/Hz]
 * @returns a spectrum of acceleration [(m/s²)²/Hz]; `convertSpectrum` makes a displacement of it
 * @throws {@link IsolationError} `unsupported` for a spectrum of another quantity; `invalid-option` and others for a malformed
 * one
 * @source E. Wielandt, Seismic Sensors and their Calibration, New Manual of Seismological Observatory Practice, chapter 5,
 * section 5.3.3
 * @example
 * import { apparentAcceleration, convertSpectrum, spectrum } from 'restmass'
 * const tilt = spectrum({ quantity: 'rotation', frequency: [0.1, 1], amplitudeDensity: [1e-9, 1e-9] })
 * Math.sqrt(convertSpectrum(apparentAcceleration(tilt), { to: 'displacement' }).density[0]) // 2.484e-8
 */
export function apparentAcceleration(tilt: SpectrumLiteral): Spectrum {
  const at = within(scopeOf('apparentAcceleration'), 'tilt')
  const checked = checkSpectrum(at, tilt)
  if (checked.quantity !== 'rotation') {
    fail('unsupported', within(at, 'quantity'), `must be 'rotation', got ${show(checked.quantity)}`)
  }
  return scaledDensity(at, checked, 'acceleration', () => standardGravity)
}
