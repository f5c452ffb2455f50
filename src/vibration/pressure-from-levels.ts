import { checkGrid, checkNumbers, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { checkSameLength } from './check.js'
import { checkedBandIndex, lowerEdge } from './nominal-bands.js'
import type { Spectrum } from './types.js'

/** Options of {@link pressureFromLevels}. */
export interface PressureFromLevelsOptions {
  /** Nominal labels of neighbouring one-third-octave bands [Hz], ascending */
  readonly nominal: readonly number[] | Float64Array
  /** Sound pressure level of each [dB re 20 µPa], without frequency weighting, −100 to 200 */
  readonly level: readonly number[] | Float64Array
}

/** Density of sound pressure from one-third-octave band levels: in each band constant, with the energy of the level.
 *
 * p = 20 µPa · 10^(L/20). Levels must be unweighted: an A-weighted level hides the low frequencies that move a payload, and
 * sound level meters often stop at 10 or 20 Hz. A gap between bands is refused, not bridged.
 * @param options - see {@link PressureFromLevelsOptions}
 * @returns a pressure spectrum of points [Pa²/Hz], two per band, from the lower edge of the first to the upper of the last
 * @throws {@link IsolationError} `invalid-option` for labels that are none or leave a gap; `dimension-mismatch`,
 * `out-of-range`, `not-finite`
 * @source IEC 61260-1:2014 (bands); ISO 1683:2015 (reference 20 µPa)
 * @example
 * import { pressureFromLevels, rms } from 'restmass'
 * const room = pressureFromLevels({ nominal: [8, 10], level: [72, 70] })
 * rms(room, { from: 8.9125094, to: 11.220184 }) // 0.063246
 */
export function pressureFromLevels(options: PressureFromLevelsOptions): Spectrum {
  const scope = scopeOf('pressureFromLevels')
  checkOptions(scope, options, ['nominal', 'level'])
  const nominal = checkGrid(scope, 'nominal', options.nominal, { unit: 'Hz', above: 0 })
  const level = checkNumbers(scope, 'level', options.level, { unit: 'dB', atLeast: -100, atMost: 200 })
  checkSameLength(scope, 'level', level, nominal)
  const at = within(scope, 'nominal')
  const index = Array.from(nominal, (label, k) => checkedBandIndex(at, k, label))
  const gap = index.findIndex((band, k) => band !== index[0] + k)
  if (gap > 0) fail('invalid-option', within(at, gap), `leaves a gap: ${nominal[gap]} Hz after ${nominal[gap - 1]} Hz`)
  const density = index.map((band, k) => 4e-10 * (10 ** (level[k] / 10) / (lowerEdge(band + 1) - lowerEdge(band))))
  // A step between bands becomes two points side by side.
  const edges = index.flatMap((band) => [lowerEdge(band) * (1 + step), lowerEdge(band + 1) * (1 - step)])
  return {
    kind: 'Spectrum',
    quantity: 'pressure',
    frequency: Float64Array.from(edges),
    density: Float64Array.from(density.flatMap((value) => [value, value])),
    support: 'points',
  }
}

/** Relative distance of a point from the edge of its band. */
const step = 1e-12
