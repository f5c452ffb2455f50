import { fail, scopeOf, within } from '../internal/check.js'
import { checkSpectrum } from './check.js'
import type { SpectrumLiteral } from './types.js'

/** Level that a tone on each line of a spectrum would have: the reading in power instead of density scaling.
 *
 * √(S·B) with B the equivalent noise bandwidth of the window. The density of a tone grows with the length of the segment, this
 * level does not; the level of noise does the opposite. A tone between two lines reads low by the scalloping of the
 * window: up to 1.42 dB with `'hann'`, below 0.01 dB with a flat top (`'hft70'`, `'hft90d'`, `'hft95'`, `'flat-top'`). For the
 * sum over a peak use {@link rms}.
 * @param spectrum - a {@link SpectrumLiteral} that knows its `noiseBandwidth`, such as from {@link welch}
 * @returns rms [unit], one per line
 * @throws {@link IsolationError} `unsupported` for a spectrum without noise bandwidth or of points; others for a malformed one
 * @source G. Heinzel, A. Rüdiger, R. Schilling, Spectrum and spectral density estimation by the discrete Fourier transform,
 * Max-Planck-Institut für Gravitationsphysik, 2002, section 9
 * @example
 * import { toneLevels, welch } from 'restmass'
 * const samples = Array.from({ length: 512 }, (_, n) => 3 * Math.sin(0.25 * Math.PI * n))
 * toneLevels(welch({ samples, sampleRate: 64, segmentLength: 64 }))[8] // 2.12132
 */
export function toneLevels(spectrum: SpectrumLiteral): Float64Array {
  const scope = within(scopeOf('toneLevels'), 'spectrum')
  const { density, support, noiseBandwidth } = checkSpectrum(scope, spectrum)
  if (support !== 'lines' || noiseBandwidth === undefined) {
    fail('unsupported', scope, 'must have lines and the noiseBandwidth of their window')
  }
  return density.map((value) => Math.sqrt(value * noiseBandwidth))
}
