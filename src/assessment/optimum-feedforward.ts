import { checkOptions, fail, scopeOf, within } from '../internal/check.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { densityFunction } from './density-function.js'
import { checkedVelocity } from './predict-payload.js'

/** Options of {@link optimumFeedforward}. */
export interface OptimumFeedforwardOptions {
  /** Motion of the floor: acceleration, velocity or displacement */
  readonly floor: Spectrum | SpectrumLiteral
  /** Noise of the sensor on it, independent of the floor: acceleration, velocity or displacement */
  readonly sensorNoise: Spectrum | SpectrumLiteral
}

/** The best match of floor feedforward, and what it cannot get below. */
export interface OptimumFeedforward {
  readonly kind: 'OptimumFeedforward'
  /** [Hz], where both spectra are known */
  readonly frequency: Float64Array
  /** M = S_floor/(S_floor + S_noise), between 0 and 1 */
  readonly match: Float64Array
  /** Amplitude of the floor that is left, √(1 − M) */
  readonly residual: Float64Array
  /** Coherence of sensor signal and floor; it equals M */
  readonly coherence: Float64Array
}

/** The match of floor feedforward that leaves the least of a noisy signal, and what is left.
 *
 * What is left is |1 − M|² S_floor + |M|² S_noise; it is least at M = S_floor/(S_floor + S_noise), real, which leaves
 * S_floor S_noise/(S_floor + S_noise). No feedforward gets below √(1 − γ²) of the amplitude, γ² the coherence of what it
 * senses and what it cancels; an estimate of that bound from two records is `feedforwardBound`.
 * @param options - see {@link OptimumFeedforwardOptions}
 * @returns see {@link OptimumFeedforward}, on the grid of the floor where the noise is known
 * @throws {@link IsolationError} `invalid-option` for other quantities; `out-of-range` where the spectra do not overlap
 * @source N. Wiener, Extrapolation, Interpolation, and Smoothing of Stationary Time Series, 1949 (without causality);
 * applied in J. C. Driggers et al., arXiv 1112.2224 (2012)
 * @example
 * import { optimumFeedforward, spectrum } from 'restmass'
 * const at = (density: number) => spectrum({ quantity: 'velocity', frequency: [1, 10], density: [density, density] })
 * optimumFeedforward({ floor: at(1e-12), sensorNoise: at(1e-14) }).residual[0] // 0.0995037
 */
export function optimumFeedforward(options: OptimumFeedforwardOptions): OptimumFeedforward {
  const scope = scopeOf('optimumFeedforward')
  checkOptions(scope, options, ['floor', 'sensorNoise'])
  const floor = checkedVelocity(within(scope, 'floor'), options.floor)
  const noise = densityFunction(checkedVelocity(within(scope, 'sensorNoise'), options.sensorNoise))
  // The edges of a staircase stand a rounding inside its range.
  const kept = Array.from(floor.frequency, (_, k) => k).filter(
    (k) => floor.frequency[k] >= noise.from * (1 - 1e-9) && floor.frequency[k] <= noise.to * (1 + 1e-9),
  )
  if (kept.length === 0) fail('out-of-range', scope, 'has spectra whose frequency ranges do not overlap')
  const match = Float64Array.from(kept, (k) => {
    const [signal, disturbance] = [floor.density[k], noise.at(floor.frequency[k])]
    return signal > 0 ? signal / (signal + disturbance) : 0
  })
  return {
    kind: 'OptimumFeedforward',
    frequency: Float64Array.from(kept, (k) => floor.frequency[k]),
    match,
    residual: match.map((value, i) => {
      const disturbance = noise.at(floor.frequency[kept[i]])
      return value > 0 ? Math.sqrt(disturbance / (floor.density[kept[i]] + disturbance)) : 1
    }),
    coherence: match.slice(),
  }
}
