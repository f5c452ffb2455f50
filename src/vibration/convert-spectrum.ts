import { checkOneOf, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkSpectrum, checkSupport } from './check.js'
import type { Spectrum, SpectrumLiteral } from './types.js'

/** Options of {@link convertSpectrum}. */
export interface ConvertSpectrumOptions {
  /** Quantity wanted. */
  readonly to: 'acceleration' | 'velocity' | 'displacement'
}

/** The same motion as a spectrum of acceleration, velocity or displacement.
 *
 * S_a = (2πf)² S_v = (2πf)⁴ S_x, entry by entry. Going down that chain divides by zero at 0 Hz: that entry is dropped.
 * @param spectrum - a {@link SpectrumLiteral} of acceleration, velocity or displacement
 * @param options - see {@link ConvertSpectrumOptions}
 * @returns the converted spectrum; a copy if there is nothing to convert
 * @throws {@link IsolationError} `unsupported` for a spectrum of force or of an unspecified quantity; `out-of-range` where
 * nothing is left or a density leaves the range of numbers; `invalid-option` and others for a malformed spectrum
 * @source common practice, no source
 * @example
 * import { convertSpectrum } from 'restmass'
 * const floor = { quantity: 'acceleration', frequency: [10, 20], density: [1e-14, 1e-14] } as const
 * convertSpectrum(floor, { to: 'displacement' }).density[0] // 6.41624e-22
 */
export function convertSpectrum(spectrum: SpectrumLiteral, options: ConvertSpectrumOptions): Spectrum {
  const scope = scopeOf('convertSpectrum')
  const checked = checkSpectrum(within(scope, 'spectrum'), spectrum)
  checkOptions(scope, options, ['to'])
  const to = checkOneOf(scope, 'to', options.to, motions)
  const given = (motions as readonly string[]).indexOf(checked.quantity)
  const order = motions.indexOf(to) - given
  if (given < 0) {
    fail(
      'unsupported',
      within(scope, 'spectrum.quantity'),
      `must be one of ${motions.join(', ')}, got '${checked.quantity}'`,
    )
  }
  const first = order < 0 && checked.frequency[0] === 0 ? 1 : 0
  const frequency = checked.frequency.slice(first)
  const density = checked.density.slice(first)
  if (frequency.length === 0) fail('out-of-range', within(scope, 'spectrum.frequency'), 'must hold more than 0 Hz')
  for (let k = 0; k < density.length; k++) {
    density[k] *= (2 * Math.PI * frequency[k]) ** (2 * order)
    if (!Number.isFinite(density[k])) {
      fail('out-of-range', within(within(scope, 'spectrum.density'), k), `leaves the range of numbers as ${to}`)
    }
  }
  checkSupport(within(scope, 'spectrum'), checked.support, frequency)
  return { ...checked, quantity: to, frequency, density }
}

/** Each is the time derivative of the one before. */
const motions = ['displacement', 'velocity', 'acceleration'] as const
