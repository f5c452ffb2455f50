import { checkGrid, scopeOf } from '../internal/check.js'
import type { Spectrum } from './types.js'

/** A piece of a noise model, valid from its period T [s] up to that of the next row: level A + B·log10 T [dB]. */
type Row = readonly [period: number, A: number, B: number]

const lowRows: readonly Row[] = [
  [0.1, -162.36, 5.64],
  [0.17, -166.7, 0],
  [0.4, -170, -8.3],
  [0.8, -166.4, 28.9],
  [1.24, -168.6, 52.48],
  [2.4, -159.98, 29.81],
  [4.3, -141.1, 0],
  [5, -71.36, -99.77],
  [6, -97.26, -66.49],
  [10, -132.18, -31.57],
  [12, -205.27, 36.16],
  [15.6, -37.65, -104.33],
  [21.9, -114.37, -47.1],
  [31.6, -160.58, -16.28],
  [45, -187.5, 0],
  [70, -216.47, 15.7],
  [101, -185, 0],
  [154, -168.34, -7.61],
  [328, -217.43, 11.9],
  [600, -258.28, 26.6],
  [10000, -346.88, 48.75],
]

const highRows: readonly Row[] = [
  [0.1, -108.73, -17.23],
  [0.22, -150.34, -80.5],
  [0.32, -122.31, -23.87],
  [0.8, -116.85, 32.51],
  [3.8, -108.48, 18.08],
  [4.6, -74.66, -32.95],
  [6.3, 0.66, -127.18],
  [7.9, -93.37, -22.42],
  [15.4, 73.54, -162.98],
  [20, -151.52, 10.01],
  [354.8, -206.66, 31.63],
]

/** Acceleration density of the quietest ground found at seismic stations.
 *
 * Level A + B·log10(T) in dB re 1 (m/s²)²/Hz, piecewise in the period T = 1/f. Defined from 1e-5 to 10 Hz and refused
 * outside.
 * @param frequencies - grid [Hz], ascending, 1e-5 to 10
 * @returns acceleration spectrum of points [(m/s²)²/Hz]
 * @throws {@link IsolationError} `out-of-range` outside 1e-5 to 10 Hz; `invalid-option`, `not-finite`
 * @source J. Peterson, Observations and modeling of seismic background noise, USGS Open-File Report 93-322, 1993, table 3
 * @example
 * import { newLowNoiseModel } from 'restmass'
 * Math.sqrt(newLowNoiseModel([0.1, 1]).density[1]) // 4.7863e-9
 */
export function newLowNoiseModel(frequencies: readonly number[] | Float64Array): Spectrum {
  return noiseModel('newLowNoiseModel', lowRows, frequencies)
}

/** Acceleration density of the noisiest ground found at seismic stations, which is far below that of a city floor.
 *
 * Level A + B·log10(T) in dB re 1 (m/s²)²/Hz, piecewise in the period T = 1/f. Defined from 1e-5 to 10 Hz and refused
 * outside. It describes seismic stations, not laboratories: from 1 to 8 Hz it lies below VC-G.
 * @param frequencies - grid [Hz], ascending, 1e-5 to 10
 * @returns acceleration spectrum of points [(m/s²)²/Hz]
 * @throws {@link IsolationError} `out-of-range` outside 1e-5 to 10 Hz; `invalid-option`, `not-finite`
 * @source J. Peterson, Observations and modeling of seismic background noise, USGS Open-File Report 93-322, 1993, table 4
 * @example
 * import { newHighNoiseModel } from 'restmass'
 * Math.sqrt(newHighNoiseModel([0.1, 1]).density[1]) // 1.43714e-6
 */
export function newHighNoiseModel(frequencies: readonly number[] | Float64Array): Spectrum {
  return noiseModel('newHighNoiseModel', highRows, frequencies)
}

function noiseModel(fn: string, rows: readonly Row[], frequencies: readonly number[] | Float64Array): Spectrum {
  const frequency = checkGrid(scopeOf(fn), 'frequencies', frequencies, { unit: 'Hz', atLeast: 1e-5, atMost: 10 })
  return { kind: 'Spectrum', quantity: 'acceleration', frequency, density: frequency.map(density), support: 'points' }

  function density(f: number): number {
    const period = 1 / f
    const row = rows.reduce((last, next) => (next[0] <= period ? next : last))
    return 10 ** ((row[1] + row[2] * Math.log10(period)) / 10)
  }
}
