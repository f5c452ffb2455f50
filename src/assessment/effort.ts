import type { Scope } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { rms } from '../vibration/rms.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** What an actuator has to give under the predicted vibration, held against its bound. */
export interface Effort {
  /** Which bound, such as `actuatorExpansion` */
  readonly name: string
  /** Predicted root mean square over the range of the spectra */
  readonly rms: number
  /** Three times that, which a Gaussian signal exceeds in 0.3 % of the time */
  readonly peak: number
  readonly limit: number
  /** N or m */
  readonly unit: string
}

/** Effort of every actuator that has a bound, under independent drives. */
export function effortOf(scope: Scope, model: IsolationModel, drives: readonly Drive[]): Effort[] {
  return model.limits.flatMap(({ name, output, value, unit }) => {
    if (output === null) return []
    const { frequency, density } = predictedDensity(scope, model.closed, output, drives)
    const level = rms(
      { kind: 'Spectrum', quantity: 'unspecified', frequency, density, support: 'points' },
      { from: frequency[0], to: frequency[frequency.length - 1] },
    )
    return [{ name, rms: level, peak: 3 * level, limit: value, unit }]
  })
}
