import { checkOneOf, scopeOf } from '../internal/check.js'
import type { SensorNoiseOptions } from './types.js'

/** Instruments whose noise {@link publishedNoise} knows. */
export type PublishedInstrument =
  | 'large-mass-seismometer'
  | 'one-hertz-geophone'
  | 'broadband-seismometer'
  | 'capacitive-gap-1mm'
  | 'capacitive-gap-0.25mm'
  | 'inductive-gap'

/** Displacement noise that has been published for a class of instruments, to be given as `noise` of a sensor.
 *
 * A 1 Hz seismometer of large mass and a broadband force-balance seismometer, both measured; a 1 Hz geophone of about 1 kg;
 * gap sensors by range. Straight in log-log between the entries. The source applies a further factor of 2 to the gap of 1 mm.
 * @param instrument - see {@link PublishedInstrument}
 * @returns a table of displacement [m/√Hz] over frequency [Hz], referred to the motion
 * @throws {@link IsolationError} `invalid-option`
 * @source LIGO seismic-isolation group, open function SEI_sensor_noise
 * @example
 * import { geophone, motionNoise, publishedNoise } from 'restmass'
 * const sensor = geophone({ naturalFrequency: 1, dampingRatio: 0.7, noise: publishedNoise('one-hertz-geophone') })
 * motionNoise(sensor, { quantity: 'displacement', frequencies: [4] }).amplitudeDensity[0] // 2.300e-12
 */
export function publishedNoise(instrument: PublishedInstrument): SensorNoiseOptions {
  const names = Object.keys(tables) as PublishedInstrument[]
  const [frequency, amplitudeDensity] = tables[checkOneOf(scopeOf('publishedNoise'), 'instrument', instrument, names)]
  return {
    frequency: [...frequency],
    amplitudeDensity: [...amplitudeDensity],
    quantity: 'displacement',
    referredTo: 'motion',
  }
}

const tables: Readonly<Record<PublishedInstrument, readonly [readonly number[], readonly number[]]>> = {
  'large-mass-seismometer': [
    [0.101, 0.201, 0.4, 0.994, 3.954, 10.71, 46.1, 91.2],
    [2.138e-8, 1.958e-9, 1.892e-10, 7.262e-12, 9.725e-13, 3.28e-13, 5.61e-14, 2.053e-14],
  ],
  'one-hertz-geophone': [
    [0.04, 0.52, 0.8, 1.4, 4, 10, 100],
    [1e-6, 1e-10, 2.3e-11, 7e-12, 2.3e-12, 8.5e-13, 8e-14],
  ],
  'broadband-seismometer': [
    [0.03, 0.1, 0.3, 1, 3, 10, 100],
    [2e-8, 1.5e-9, 2e-10, 4e-11, 5e-12, 1.5e-12, 1e-13],
  ],
  'capacitive-gap-1mm': [
    [0.01, 0.1, 0.7, 100],
    [2.5e-9, 5e-10, 2e-10, 2e-10],
  ],
  'capacitive-gap-0.25mm': [
    [0.7, 100],
    [6e-11, 6e-11],
  ],
  'inductive-gap': [
    [0.05, 0.1, 0.5, 100],
    [1e-9, 4.5e-10, 3e-10, 3e-10],
  ],
}
