import type { Detrend, WindowName } from './types.js'

/** Names of the windows there are. */
export const windowNames: readonly WindowName[] = [
  'rectangular',
  'hann',
  'hamming',
  'blackman',
  'blackman-harris',
  'nuttall',
  'bartlett',
  'parabolic',
  'flat-top',
  'hft70',
  'hft90d',
  'hft95',
]

/** Names of what can be taken out of a segment. */
export const detrends: readonly Detrend[] = ['mean', 'linear', 'none']

/** Coefficients of w(n) = Σ (−1)^k · c_k · cos(2πkn/L). */
const cosineSums: Partial<Record<WindowName, readonly number[]>> = {
  rectangular: [1],
  hann: [0.5, 0.5],
  hamming: [0.54, 0.46],
  blackman: [0.42, 0.5, 0.08],
  'blackman-harris': [0.35875, 0.48829, 0.14128, 0.01168],
  nuttall: [0.3635819, 0.4891775, 0.1365995, 0.0106411],
  'flat-top': [0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368],
  hft70: [1, 1.90796, 1.07349, 0.18199],
  hft90d: [1, 1.942604, 1.340318, 0.440811, 0.043097],
  hft95: [1, 1.9383379, 1.3045202, 0.402827, 0.0350665],
}

/** Values of a periodic window of given length, as spectra need it: its next value would be the first again.
 *
 * @source G. Heinzel, A. Rüdiger, R. Schilling, Spectrum and spectral density estimation by the discrete Fourier
 * transform, Max-Planck-Institut für Gravitationsphysik, 2002, appendix C
 */
export function windowValues(name: WindowName, length: number): Float64Array {
  const coefficients = cosineSums[name]
  if (coefficients !== undefined) return cosineSum(coefficients, length)
  const values = new Float64Array(length)
  for (let n = 0; n < length; n++) {
    const offset = Math.abs((2 * n) / length - 1)
    values[n] = name === 'bartlett' ? 1 - offset : 1 - offset * offset
  }
  return values
}

function cosineSum(coefficients: readonly number[], length: number): Float64Array {
  const values = new Float64Array(length)
  for (let n = 0; n < length; n++) {
    let sum = 0
    for (let k = coefficients.length - 1; k >= 0; k--) {
      const turn = ((k * n) % length) / length
      sum += (k % 2 === 0 ? 1 : -1) * coefficients[k] * Math.cos(2 * Math.PI * turn)
    }
    values[n] = sum
  }
  return values
}
