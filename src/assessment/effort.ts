import type { Scope } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { angularFrequency } from '../systems/frequency-response.js'
import { rms } from '../vibration/rms.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** What an actuator has to give under the predicted vibration and the moves of a site, held against its bound. */
export interface Effort {
  /** Which bound, such as `actuatorExpansion` */
  readonly name: string
  /** Predicted root mean square over the range of the spectra */
  readonly rms: number
  /** Largest value during the moves; null without any */
  readonly inMoves: number | null
  /** Three times the rms, which a Gaussian signal exceeds in 0.3 % of the time, and what the moves need on top */
  readonly peak: number
  readonly limit: number
  /** N or m, per second for a rate */
  readonly unit: string
}

/** Effort of every actuator that has a bound, under independent drives. */
export function effortOf(
  scope: Scope,
  model: IsolationModel,
  drives: readonly Drive[],
  inMoves: ReadonlyMap<string, number>,
): Effort[] {
  return model.limits.flatMap(({ name, output, of, value, unit }) => {
    if (output === null) return []
    const { frequency, density } = predictedDensity(scope, model.closed, output, drives)
    const shown = of === 'rate' ? density.map((each, k) => each * angularFrequency(frequency[k]) ** 2) : density
    const level = rms(
      { kind: 'Spectrum', quantity: 'unspecified', frequency, density: shown, support: 'points' },
      { from: frequency[0], to: frequency[frequency.length - 1] },
    )
    const move = inMoves.get(of === 'rate' ? `${output}Rate` : output) ?? null
    return [{ name, rms: level, inMoves: move, peak: 3 * level + (move ?? 0), limit: value, unit }]
  })
}
