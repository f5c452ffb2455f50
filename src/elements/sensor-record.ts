import { checkOneOf, type Scope, within } from '../internal/check.js'
import type { StateSpace } from '../systems/types.js'
import { checkNoise } from './check-noise.js'
import { finiteNoise, gains, motionFactors, shapedNoise } from './noise-table.js'
import type { MotionQuantity, Sensor, SensorNoiseOptions } from './types.js'

export const motionQuantities = ['velocity', 'acceleration', 'displacement'] as const

/** A sensor with its noise brought into the unit of its signal. */
export function sensorRecord(
  scope: Scope,
  measures: MotionQuantity,
  dynamics: StateSpace<'motion', 'signal'>,
  noise: SensorNoiseOptions | undefined,
): Sensor {
  const table = checkNoise(scope, noise, ['quantity', 'referredTo'])
  if (table === null || noise === undefined) return { kind: 'Sensor', measures, dynamics, noise: null }
  const at = within(scope, 'noise')
  const quantity = checkOneOf(at, 'quantity', noise.quantity ?? measures, motionQuantities)
  const place = checkOneOf(at, 'referredTo', noise.referredTo ?? 'signal', ['signal', 'motion'])
  const factors = motionFactors(table.frequency, quantity, measures)
  const converted = finiteNoise(at, {
    ...table,
    amplitudeDensity: factors.map((factor, k) => factor * table.amplitudeDensity[k]),
  })
  const referred = () => shapedNoise(at, converted, (frequency) => gains(dynamics, frequency))
  return { kind: 'Sensor', measures, dynamics, noise: place === 'signal' ? converted : referred() }
}
